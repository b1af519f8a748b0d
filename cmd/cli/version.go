package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

func newVersion(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(s.out, "gridferry", gen.Version)
			return err
		},
	}
}
