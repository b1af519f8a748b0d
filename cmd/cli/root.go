// Package cli is the command line: flags in, one call, no logic. Each command has its own
// file.
package cli

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen/out"
	"gridferry/plan/diag"
)

// Exit statuses.
const (
	fine     = 0
	findings = 1 // errors, or a file that could not be written
	misuse   = 2 // wrong use of the command

	// unread is for standard output that was closed, as "head" does when it has
	// enough: nothing is wrong, so nothing is reported, but the command is not
	// done. Shells report this number for tools that such a pipe ends (128 and the
	// 13 of SIGPIPE).
	unread = 141
)

// errFindings says that there are errors, which are printed already.
var errFindings = errors.New("there are errors")

// failure is an error outside the plan: a full disk, a folder without permission to
// write.
type failure struct{ error }

func (f failure) Unwrap() error { return f.error }

// failed makes a failure of an error, if there is one.
func failed(err error) error {
	if err == nil {
		return nil
	}
	return failure{err}
}

// streams is where a command reads and writes, and the flags about that.
type streams struct {
	in       io.Reader
	out, err io.Writer
	color    string // auto, always or never
	quiet    bool
}

// Main runs one command line and returns its exit status.
func Main(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	output, said := &standardOutput{Writer: stdout}, &standardError{Writer: stderr}
	s := &streams{in: stdin, out: output, err: said}
	root := newRoot(s, args)
	root.SetArgs(args)
	c, err := root.ExecuteC()
	if output.lost != nil && !errors.As(err, new(failure)) {
		err = failure{output.lost}
	}
	status := s.status(c, err)
	if status == fine && said.lost != nil {
		return findings // that nobody has seen
	}
	return status
}

func (s *streams) status(c *cobra.Command, err error) int {
	var f failure
	var read *out.ReadError
	switch {
	case err == nil:
		return fine
	case errors.Is(err, errUnread):
		return unread
	case errors.Is(err, errFindings):
		return findings
	case errors.As(err, &f) && !errors.As(err, &read):
		fmt.Fprintf(s.err, "gridferry: %s\n", diag.Visible(f.Error()))
		return findings
	default:
		fmt.Fprintf(s.err, "gridferry: %s\ngridferry: see \"%s --help\"\n", diag.Visible(err.Error()), c.CommandPath())
		return misuse
	}
}

const rootHelp = `Gridferry turns a transfer plan (what goes from where to where) into a program
(every move, in the text that one family of controllers reads), and checks the
plan before the machine moves.

A generated program is no proof of safety. Risk assessment, guarding and
qualified people come first, and local codes take precedence over anything said
here.`

// Commands is the tree of all commands, for what describes them; none of them says anything.
func Commands() *cobra.Command {
	return newRoot(&streams{in: strings.NewReader(""), out: io.Discard, err: io.Discard}, nil)
}

// commands is every command, by its name.
var commands = []struct {
	name string
	make func(*streams) *cobra.Command
}{
	{"new", newNew},
	{"init", newInit},
	{"check", newCheck},
	{"moves", newMoves},
	{"write", newWrite},
	{"vary", newVary},
	{"verify", newVerify},
	{"compare", newCompare},
	{"golden", newGolden},
	{"draw", newDraw},
	{"sheet", newSheet},
	{"time", newTime},
	{"manifest", newManifest},
	{"explain", newExplain},
	{"order", newOrder},
	{"live", newLive},
	{"lsp", newLSP},
	{"fit", newFit},
	{"arm", newArm},
	{"families", newFamilies},
	{"schema", newSchema},
	{"version", newVersion},
}

// asked makes the command that the first word of a command line names; nil if none does.
func asked(args []string) func(*streams) *cobra.Command {
	if len(args) == 0 {
		return nil
	}
	for _, c := range commands {
		if c.name == args[0] {
			return c.make
		}
	}
	return nil
}

// newRoot is the tree of the commands. If the command line names one it has no other: to make them all, with their flags, takes
// a tenth of what it takes to start.
func newRoot(s *streams, args []string) *cobra.Command {
	version := false
	root := &cobra.Command{
		Use:           "gridferry",
		Short:         "Turn a transfer plan into a program",
		Long:          rootHelp,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          oneOfTheCommands,
		RunE: func(c *cobra.Command, _ []string) error {
			if version {
				return s.version()
			}
			return c.Help()
		},
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			out.WorkAs(c.CommandPath())
			return nothingMissing(c)
		},
	}
	root.SetFlagErrorFunc(flagError)
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	addChoice(root.PersistentFlags(), &s.color, "color", "colour findings: auto, always or never (respects NO_COLOR)", "auto", "always", "never")
	root.PersistentFlags().BoolVar(&s.quiet, "quiet", false, "report errors only")
	root.Flags().BoolVar(&version, "version", false, "print the version")
	if one := asked(args); one != nil {
		root.CompletionOptions.DisableDefaultCmd = true
		root.AddCommand(one(s))
	} else {
		for _, c := range commands {
			root.AddCommand(c.make(s))
		}
		holdTheirWords(root, newRule(s))
	}
	help := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) {
		c.SetErr(io.Discard) // what standard output does not take is said once, by Main
		help(c, args)
	})
	return root
}
