package cli

import (
	"github.com/spf13/cobra"
)

// planCommand is a command with one argument, a plan.
func planCommand(use, short, long string, run func(file string) error) *cobra.Command {
	return &cobra.Command{
		Use: use, Short: short, Long: long, Args: onePlan,
		RunE: func(_ *cobra.Command, args []string) error { return run(args[0]) },
	}
}
