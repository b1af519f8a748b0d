package cli

import (
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// planFlags are the flags of every command that reads a plan.
type planFlags struct {
	set   []string
	limit int
}

func (f *planFlags) add(c *cobra.Command) {
	c.Flags().StringArrayVar(&f.set, "set", nil, "change a value before reading: grids.tray.rows=5 (repeatable; list items count from 1)")
	c.Flags().IntVar(&f.limit, "limit", layout.DefaultSlots, "the most slots that all grids together may have, and the most transfers")
}

// read takes a plan file to a layout. The error is wrong use; what is wrong
// inside the plan is in the job's findings.
func (f *planFlags) read(s *streams, file string) (*gen.Job, error) {
	settings, err := f.settings()
	if err != nil {
		return nil, err
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return nil, err
	}
	job := &gen.Job{Watch: s.watch()}
	job.Read(source, settings, layout.Options{Slots: f.limit})
	return job, nil
}

func (f *planFlags) settings() ([]plan.Setting, error) {
	if f.limit < 1 || f.limit > math.MaxInt32 {
		return nil, fmt.Errorf("--limit is %d, wanted 1 to %d", f.limit, math.MaxInt32)
	}
	var settings []plan.Setting
	for _, text := range f.set {
		path, value, ok := strings.Cut(text, "=")
		if !ok {
			return nil, fmt.Errorf("--set %q has no \"=\", wanted PATH=VALUE", text)
		}
		settings = append(settings, plan.Setting{Path: path, Value: value})
	}
	return settings, nil
}

// report prints the findings for people and says whether one is an error.
func (s *streams) report(job *gen.Job) error {
	shown := job.Findings.Sorted()
	if s.quiet {
		shown = onlyErrors(shown)
	}
	if err := diag.Print(s.err, shown, &job.Sources, s.colored()); err != nil {
		return failure{err}
	}
	return verdict(job)
}

// reportAs prints the findings as text on standard error or as JSON on w.
func (s *streams) reportAs(format string, w io.Writer, job *gen.Job) error {
	if format == "text" {
		return s.report(job)
	}
	if err := diag.PrintJSON(w, job.Findings.Sorted()); err != nil {
		return failure{err}
	}
	return verdict(job)
}

func verdict(job *gen.Job) error {
	if job.Findings.HasErrors() {
		return errFindings
	}
	return nil
}

func onlyErrors(all []diag.Finding) []diag.Finding {
	var errs []diag.Finding
	for _, f := range all {
		if f.Severity == diag.Error {
			errs = append(errs, f)
		}
	}
	return errs
}

// colored decides from --color, NO_COLOR and what standard error is.
func (s *streams) colored() bool {
	switch s.color {
	case "always":
		return true
	case "never":
		return false
	}
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(s.err)
}

func isTerminal(w io.Writer) bool {
	f, ok := fileOf(w)
	return ok && term.IsTerminal(int(f.Fd()))
}

// width is how many characters fit on a line of standard output; 0 where it is
// no terminal and lines need not be cut.
func (s *streams) width() int {
	if f, ok := fileOf(s.out); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			return w
		}
	}
	return 0
}

// remark tells what is no finding, and worth a line of its own.
func (s *streams) remark(job *gen.Job) {
	for _, line := range job.Remarks() {
		s.say("%s", line)
	}
}

// say tells progress and results in passing.
func (s *streams) say(format string, args ...any) {
	if !s.quiet {
		fmt.Fprintf(s.err, format+"\n", args...)
	}
}
