package cli

import (
	"fmt"
	"io"
	"os"
	"slices"

	"golang.org/x/term"

	"gridferry/gen"
	"gridferry/plan/diag"
)

// report prints the findings of a job. It is errFindings if there are errors.
func (s *streams) report(job *gen.Job) error {
	if err := s.print(job.Findings.Sorted(), &job.Sources); err != nil {
		return failure{err}
	}
	return verdict(job)
}

// print prints findings as text; with --quiet errors only.
func (s *streams) print(shown []diag.Finding, sources *diag.Sources) error {
	if s.quiet {
		shown = slices.DeleteFunc(slices.Clone(shown), func(f diag.Finding) bool { return f.Severity != diag.Error })
	}
	return diag.Print(s.err, shown, sources, s.colored())
}

// reportAs prints the findings as text on standard error, or as data on w.
func (s *streams) reportAs(format string, w io.Writer, job *gen.Job) error {
	if format == "text" {
		return s.report(job)
	}
	if err := findingsAs(format, w, &job.Findings, &job.Sources); err != nil {
		return failure{err}
	}
	return verdict(job)
}

// findingsAs writes findings as data.
func findingsAs(format string, w io.Writer, list *diag.List, sources *diag.Sources) error {
	switch format {
	case "sarif":
		return gen.Tool().Write(w, list.Sorted(), sources)
	case "github":
		return diag.PrintGitHub(w, list.Sorted())
	}
	return diag.PrintJSON(w, list.Sorted())
}

func verdict(job *gen.Job) error { return verdictOn(&job.Findings) }

func verdictOn(list *diag.List) error {
	if list.HasErrors() {
		return errFindings
	}
	return nil
}

// colored reports whether findings are coloured.
func (s *streams) colored() bool { return s.coloredOn(s.err) }

// coloredOn reports whether what goes to w is coloured: --color, NO_COLOR and the terminal
// decide.
func (s *streams) coloredOn(w io.Writer) bool {
	switch s.color {
	case "always":
		return true
	case "never":
		return false
	}
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(w) && showsColors(w)
}

func isTerminal(w io.Writer) bool {
	f, ok := fileOf(w)
	return ok && term.IsTerminal(int(f.Fd()))
}

// width is the width of a terminal on standard output in characters; 0 for no terminal,
// where lines are not cut.
func (s *streams) width() int {
	if f, ok := fileOf(s.out); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			return w
		}
	}
	return 0
}

// writers write the same thing in several formats.
type writers map[string]func(io.Writer) error

// inForm writes to standard output in a format: as it is what programs read, and through the
// printer what people do.
func (s *streams) inForm(format string, forms writers) error {
	if format == "text" || format == "table" {
		return failed(visibly(s.out, forms[format]))
	}
	return failed(forms[format](s.out))
}

// visibly writes text for people, in which whatever comes from a file is shown and not obeyed.
func visibly(w io.Writer, write func(io.Writer) error) error {
	printer := diag.NewPrinter(w)
	if err := write(printer); err != nil {
		return err
	}
	return printer.Flush()
}

// comparedInForm is inForm for a comparison; it is errFindings if the sides differ.
func (s *streams) comparedInForm(format string, forms writers, same bool) error {
	if err := s.inForm(format, forms); err != nil || same {
		return err
	}
	return errFindings
}

// shows is called before moves are written to standard output: on a terminal they are
// progress enough.
func (s *streams) shows(job *gen.Job) {
	if isTerminal(s.out) {
		job.Watch = nil
	}
}

// say prints lines on standard error, unless --quiet.
func (s *streams) say(lines ...string) {
	for _, line := range lines {
		s.sayf("%s", line)
	}
}

func (s *streams) sayf(format string, args ...any) {
	if !s.quiet {
		fmt.Fprintln(s.err, diag.Visible(fmt.Sprintf(format, args...)))
	}
}
