package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"gridferry/plan/diag"
)

// flagError tells what is wrong with a flag in the words of other messages.
func flagError(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	var none *pflag.NotExistError
	switch {
	case errors.As(err, &value) && value.GetFlag().Value.Type() == "int":
		return fmt.Errorf("--%s is %q, wanted a whole number", value.GetFlag().Name, value.GetValue())
	case errors.As(err, &none) && none.GetSpecifiedShortnames() == "":
		return fmt.Errorf("%q has no flag --%s%s", c.CommandPath(), none.GetSpecifiedName(), nearFlag(c, none.GetSpecifiedName()))
	}
	return err
}

func nearFlag(c *cobra.Command, name string) string {
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := diag.Nearest(name, known); near != "" {
		return ", did you mean --" + near + "?"
	}
	return ""
}

// oneOfTheCommands refuses a command that there is not.
func oneOfTheCommands(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var known []string
	for _, command := range c.Commands() {
		known = append(known, command.Name())
	}
	if near := diag.Nearest(args[0], known); near != "" {
		return fmt.Errorf("there is no command %q, did you mean %q?", args[0], near)
	}
	return fmt.Errorf("there is no command %q", args[0])
}

// onePlan holds a command to exactly one plan.
func onePlan(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		return nil
	}
	if slots := c.Flags().Lookup("slots"); len(args) == 2 && slots != nil && slots.Changed && slots.NoOptDefVal != "" {
		return fmt.Errorf("%q wants exactly one PLAN, found 2: write --slots=FILE in one word", c.CommandPath())
	}
	return fmt.Errorf("%q wants exactly one PLAN, found %d: %s", c.CommandPath(), len(args), c.UseLine())
}
