package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/plan/unit"
)

// quantity is a flag with a number and, optionally, its unit.
type quantity struct {
	value *float64
	text  string
	of    unit.Dimension
	holds func(float64) error // refuses numbers out of range
}

// addQuantity adds such a flag; the value is the default, 0 for none.
func addQuantity(c *cobra.Command, value *float64, of unit.Dimension, name, usage string, holds func(float64) error) {
	q := &quantity{value: value, of: of, holds: holds}
	if *value != 0 {
		q.text = fmt.Sprint(*value)
	}
	c.Flags().Var(q, name, usage)
}

// String is the text as given.
func (q *quantity) String() string { return q.text }

// Set reads a number and its unit.
func (q *quantity) Set(text string) error {
	if text == "" && *q.value == 0 {
		return nil // as from an unset variable of a script
	}
	v, err := unit.Parse(text, q.of)
	if err != nil {
		return err
	}
	*q.value, q.text = v, text
	return q.holds(v)
}

// Type is the name of the value in the help.
func (q *quantity) Type() string { return "string" }
