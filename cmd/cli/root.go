// Package cli is the command line: flags in, one call, no logic. Each command
// has its own file.
package cli

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen/out"
)

// Exit statuses.
const (
	fine     = 0
	findings = 1 // findings of level error, or a file that could not be written
	misuse   = 2 // wrong use of the command

	// unread is for a reader that has gone, as "head" does when it has seen
	// enough: nothing is said, because nothing is wrong, and the command does not
	// count as done, because it is not. The number is what shells report for
	// tools that such a pipe ends (128 and the 13 of SIGPIPE), on every system.
	unread = 141
)

// errFindings says that the findings, already printed, hold an error.
var errFindings = errors.New("findings of level error")

// failure is trouble outside the plan while a command runs: a disk that is
// full, a folder that may not be written.
type failure struct{ error }

func (f failure) Unwrap() error { return f.error }

// failed is an error as such trouble; nil for none.
func failed(err error) error {
	if err == nil {
		return nil
	}
	return failure{err}
}

// streams is where a command reads and writes, and how it may speak.
type streams struct {
	in       io.Reader
	out, err io.Writer
	color    string // auto, always or never
	quiet    bool
}

// Main runs one command line and returns its exit status.
func Main(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	s := &streams{in: stdin, out: standardOutput{stdout}, err: stderr}
	root := newRoot(s)
	root.SetArgs(args)
	c, err := root.ExecuteC()
	return s.status(c, err)
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
		fmt.Fprintf(s.err, "gridferry: %v\n", f.error)
		return findings
	default:
		fmt.Fprintf(s.err, "gridferry: %v\ngridferry: see \"%s --help\"\n", err, c.CommandPath())
		return misuse
	}
}

const rootHelp = `Gridferry turns a transfer plan (what goes from where to where) into a program
(every move, in the text that one controller family reads), and proves the plan
before the machine moves.

Generated text is no proof of safety. Risk assessment, guarding and people with
the right licence come first; local codes stand above anything said here.`

func newRoot(s *streams) *cobra.Command {
	version := false
	root := &cobra.Command{
		Use:           "gridferry",
		Short:         "From a transfer plan to a robot program",
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
		PersistentPreRunE: func(c *cobra.Command, _ []string) error { return nothingMissing(c) },
	}
	root.SetFlagErrorFunc(flagError)
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	addChoice(root.PersistentFlags(), &s.color, "color", "colour findings: auto, always or never (NO_COLOR is obeyed)", "auto", "always", "never")
	root.PersistentFlags().BoolVar(&s.quiet, "quiet", false, "say nothing but findings of level error")
	root.Flags().BoolVar(&version, "version", false, "print the version, as the command of that name does")
	root.AddCommand(newNew(s), newCheck(s), newMoves(s), newWrite(s), newVary(s), newVerify(s), newCompare(s), newGolden(s), newDraw(s), newSheet(s), newTime(s), newExplain(s), newOrder(s), newFit(s), newFamilies(s), newSchema(s), newVersion(s))
	holdTheirWords(root)
	return root
}
