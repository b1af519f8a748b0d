package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/plan/diag"
)

const tryHelp = `Try shows what a family makes of a plan: without PLAN, of a small one that comes
with Gridferry and asks for every kind of move. Mistakes in the family come
first, at file, line and column; then nothing has run. Standard output gets the
text, standard error what became of each block. Nothing is written to disk.`

func newTry(s *streams) *cobra.Command {
	var flags planFlags
	var format string
	c := &cobra.Command{
		Use: "try FOLDER|NAME [PLAN]", Short: "Show what a family makes of a plan", Long: tryHelp, Args: arguments(1, 2),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := oneOf("--format", format, "text", "json"); err != nil {
				return err
			}
			return s.try(&flags, format, args[0], args[1:])
		},
	}
	flags.add(c)
	c.Flags().StringVar(&format, "format", "text", "text or json")
	return c
}

func (s *streams) try(flags *planFlags, format, name string, plans []string) error {
	job := new(gen.Job)
	if len(plans) == 1 {
		var err error
		if job, err = flags.read(s, plans[0]); err != nil {
			return err
		}
	} else {
		job.ReadTryPlan()
	}
	f, err := openFamily(job, name)
	if err != nil {
		return err
	}
	var trial gen.Trial
	if !job.Findings.HasErrors() {
		if trial, err = job.Try(f, len(plans) == 0); err != nil {
			return failure{err}
		}
	}
	return s.showTrial(format, trial, job)
}

func (s *streams) showTrial(format string, trial gen.Trial, job *gen.Job) error {
	if format == "json" {
		return s.trialAsData(trial, job)
	}
	if _, err := io.WriteString(s.out, trial.Text); err != nil {
		return failure{err}
	}
	if !s.quiet {
		s.showBlocks(trial.Blocks)
		s.showUnread(trial.NotCompared)
	}
	return s.report(job)
}

// showBlocks tells what became of each block.
func (s *streams) showBlocks(blocks []gen.TrialBlock) {
	w := tabwriter.NewWriter(s.err, 0, 0, 2, ' ', 0)
	defer w.Flush()
	for _, b := range blocks {
		switch b.State {
		case "written":
			fmt.Fprintf(w, "block %s\twritten %s\n", b.Name, times(b.Times))
		case "cannot":
			fmt.Fprintf(w, "block %s\tcannot: %s\n", b.Name, b.Why)
		case "not reached":
			fmt.Fprintf(w, "block %s\tunused: nothing in this plan asks for it\n", b.Name)
		default:
			fmt.Fprintf(w, "block %s\tleft out, as it may be\n", b.Name)
		}
	}
}

// showUnread tells what the reading back passes over.
func (s *streams) showUnread(all []gen.TrialUnread) {
	for _, u := range all {
		is := "is"
		if len(u.Fields) > 1 {
			is = "are"
		}
		s.say("%s: %s %s not compared", u.Kind, strings.Join(u.Fields, ", "), is)
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

func (s *streams) trialAsData(trial gen.Trial, job *gen.Job) error {
	encoder := json.NewEncoder(s.out)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(trial); err != nil {
		return failure{err}
	}
	if err := diag.Print(s.err, job.Findings.Sorted(), &job.Sources, s.colored()); err != nil {
		return failure{err}
	}
	return verdict(job)
}

const fieldsHelp = `Fields prints every field that each block gets, or those of one BLOCK: its name,
what it is, which rule in family.yaml fills it where that depends, and what it holds.`

func newFields(s *streams) *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "fields [BLOCK]", Short: "Print what each block gets", Long: fieldsHelp, Args: arguments(0, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := oneOf("--format", format, "table", "json"); err != nil {
				return err
			}
			fields, err := fieldsOf(args)
			if err != nil {
				return err
			}
			return s.fields(fields, format)
		},
	}
	c.Flags().StringVar(&format, "format", "table", "table or json")
	return c
}

// fieldsOf is all fields, or those of the block that is named.
func fieldsOf(block []string) ([]family.ViewField, error) {
	all := family.ViewFields()
	if len(block) == 0 {
		return all, nil
	}
	var fields []family.ViewField
	var known []string
	for _, f := range all {
		if f.Block == block[0] {
			fields = append(fields, f)
		}
		if !slices.Contains(known, f.Block) {
			known = append(known, f.Block)
		}
	}
	if fields == nil {
		return nil, fmt.Errorf("there is no block %q: %s", block[0], amongThese(block[0], known))
	}
	return fields, nil
}

func (s *streams) fields(fields []family.ViewField, format string) error {
	if format == "json" {
		encoder := json.NewEncoder(s.out)
		encoder.SetIndent("", "  ")
		encoder.SetEscapeHTML(false)
		if err := encoder.Encode(fields); err != nil {
			return failure{err}
		}
		return nil
	}
	w := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "BLOCK\tFIELD\tIS\tWITH\tWHAT")
	for _, f := range fields {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", f.Block, f.Name, f.Type, f.When, f.Doc)
	}
	if err := w.Flush(); err != nil {
		return failure{err}
	}
	return nil
}
