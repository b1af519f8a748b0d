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
		Args:  arguments(0, 0),
		RunE:  func(*cobra.Command, []string) error { return s.version() },
	}
}

func (s *streams) version() error {
	_, err := fmt.Fprintln(s.out, "gridferry", gen.Version)
	return failed(err)
}
