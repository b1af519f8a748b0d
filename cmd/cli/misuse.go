package cli

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// flagError words what is wrong with a flag like other messages.
func flagError(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	var valueless *pflag.ValueRequiredError
	var none *pflag.NotExistError
	switch {
	case errors.As(err, &value):
		return wrongValue(value)
	case errors.As(err, &valueless):
		return fmt.Errorf("--%s needs a value: %s", valueless.GetFlag().Name, valueless.GetFlag().Usage)
	case errors.As(err, &none) && none.GetSpecifiedShortnames() != "":
		return fmt.Errorf("%q has no flag -%s", c.CommandPath(), none.GetSpecifiedName())
	case errors.As(err, &none):
		return fmt.Errorf("%q has no flag --%s%s", c.CommandPath(), none.GetSpecifiedName(), nearFlag(c, none.GetSpecifiedName()))
	}
	return err
}

func wrongValue(err *pflag.InvalidValueError) error {
	flag, reason := err.GetFlag(), err.Unwrap()
	var want wanted
	switch {
	case errors.As(reason, &want):
	case flag.Value.Type() == "int":
		want = "a whole number"
	case flag.Value.Type() == "bool":
		want = "true, false or nothing"
	default:
		return fmt.Errorf("--%s: %w", flag.Name, reason)
	}
	return fmt.Errorf("--%s is %q, wanted %w", flag.Name, err.GetValue(), want)
}

// oneAlone refuses several flags, of which one may be given.
func oneAlone(given []string) error {
	if len(given) > 1 {
		return fmt.Errorf("%s cannot be used together: give one", strings.Join(given, " and "))
	}
	return nil
}

func nearFlag(c *cobra.Command, name string) string {
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := diag.Nearest(name, known); near != "" {
		return ", did you mean --" + near + "?"
	}
	return ""
}

// oneOfTheCommands refuses an unknown command.
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
	if len(known) < 8 {
		return fmt.Errorf("there is no command %q: there are %s", args[0], strings.Join(known, ", "))
	}
	return fmt.Errorf("there is no command %q", args[0])
}

// holdTheirWords makes the commands that cobra adds, "help" and "completion", refuse
// unknown names as all others do.
func holdTheirWords(root *cobra.Command, more ...*cobra.Command) {
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		switch c.Name() {
		case "help":
			c.AddCommand(more...)
			c.Args = func(_ *cobra.Command, args []string) error {
				about, left, err := root.Find(args)
				if err != nil || !about.HasSubCommands() {
					return err
				}
				return oneOfTheCommands(about, left)
			}
		case "completion":
			c.Args, c.RunE = oneOfTheCommands, func(c *cobra.Command, _ []string) error { return c.Help() }
			for _, shell := range c.Commands() {
				shell.Args = arguments(0, 0)
			}
		}
	}
}

// neededWithout annotates a flag that is required unless one of some others is given.
const neededWithout = "needed-without"

// nothingMissing refuses a command line without a required flag. An empty value, as from
// an unset variable of a script, counts as none.
func nothingMissing(c *cobra.Command) error {
	var missing []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		empty := !f.Changed || f.Value.String() == "" || f.Value.String() == "[]"
		_, needed := f.Annotations[cobra.BashCompOneRequiredFlag]
		others, without := f.Annotations[neededWithout]
		if empty && (needed || without && !slices.ContainsFunc(others, c.Flags().Changed)) {
			missing = append(missing, "--"+f.Name)
		}
	})
	if missing == nil {
		return nil
	}
	hint := ""
	if slices.Contains(missing, "--family") {
		hint = "; \"gridferry families list\" names the shipped families"
	}
	return fmt.Errorf("%q needs %s: %s%s", c.CommandPath(), strings.Join(missing, " and "), c.UseLine(), hint)
}

// arguments wants a number of arguments; math.MaxInt is no bound.
func arguments(least, most int) cobra.PositionalArgs {
	wanted := wording.Count(least, "argument")
	switch {
	case most == 0:
		wanted = "no argument"
	case most == math.MaxInt:
		wanted = fmt.Sprintf("%d argument or more", least)
	case least < most:
		wanted = fmt.Sprintf("%d or %d arguments", least, most)
	}
	return func(c *cobra.Command, args []string) error {
		if least <= len(args) && len(args) <= most {
			return nil
		}
		return fmt.Errorf("%q wants %s, found %d: %s", c.CommandPath(), wanted, len(args), c.UseLine())
	}
}

// onePlan wants one plan.
func onePlan(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		return nil
	}
	if slots := c.Flags().Lookup("slots"); len(args) == 2 && slots != nil && slots.Changed && slots.NoOptDefVal != "" {
		return fmt.Errorf("%q wants one PLAN, found 2: write --slots=FILE with an equals sign", c.CommandPath())
	}
	return fmt.Errorf("%q wants one PLAN, found %d: %s", c.CommandPath(), len(args), c.UseLine())
}
