package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/plan"
)

// shortForm is a flag that changes one grid, as "--set" would.
type shortForm struct {
	*plan.ShortForm
	given []plan.Setting
}

// addShortForms adds a flag for each.
func (f *planFlags) addShortForms(c *cobra.Command) {
	f.short = make([]shortForm, len(plan.ShortForms))
	for i := range f.short {
		short := &f.short[i]
		short.ShortForm = &plan.ShortForms[i]
		c.Flags().Var(short, short.Name, fmt.Sprintf("%s, such as %q (repeatable)", short.Usage, short.Example))
	}
}

// String is for a default, which there is none.
func (s *shortForm) String() string { return "" }

// Set takes one more.
func (s *shortForm) Set(text string) error {
	setting, ok := s.Setting(text)
	if !ok {
		return wanted(s.Wanted())
	}
	s.given = append(s.given, setting)
	return nil
}

// Type is the name of the value in the help.
func (s *shortForm) Type() string { return "stringArray" }
