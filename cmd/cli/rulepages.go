package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/plan/diag"
)

const ruleHelp = `Rule prints the page of one rule of findings: what it finds, an example that has it
and one that has not, and what to do. Without NAME it lists the rules.

  gridferry help rule slot-outside-grid`

// newRule is a command below "help".
func newRule(s *streams) *cobra.Command {
	return &cobra.Command{
		Use: "rule [NAME]", Short: "Explain a rule of findings", Long: ruleHelp, Args: arguments(0, 1),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return ruleNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return s.inForm("text", writers{"text": gen.Manual().WriteList})
			}
			return s.rulePage(args[0])
		},
	}
}

func ruleNames() []cobra.Completion {
	var names []cobra.Completion
	all := gen.Manual()
	for i := range all {
		names = append(names, cobra.CompletionWithDesc(all[i].Name, all[i].Brief()))
	}
	return names
}

func (s *streams) rulePage(name string) error {
	all := gen.Manual()
	page := all.Page(name)
	if page == nil {
		hint := "\"gridferry help rule\" lists the rules"
		if near := diag.Nearest(name, all.Names()); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return fmt.Errorf("there is no rule %q: %s", name, hint)
	}
	return s.inForm("text", writers{"text": page.Write})
}

// pointToPages says to people at a terminal where findings are explained.
func (s *streams) pointToPages(format string, found *diag.List) {
	if format == "text" && found.Len() > 0 && isTerminal(s.err) {
		s.say("\"gridferry help rule NAME\" explains what stands in square brackets")
	}
}

// rules prints the pages of all rules.
func (s *streams) rules(format string) error {
	forms := writers{"text": gen.Manual().Write, "json": gen.Manual().WriteJSON}
	if forms[format] == nil {
		return fmt.Errorf("--rules are printed as text or json, found --format %s", format)
	}
	return s.inForm(format, forms)
}
