package cli

import (
	"context"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/layout"
)

const lspHelp = `Lsp serves an editor by the Language Server Protocol 3.17, on standard input and
output: what check and families try find while you type, in plans, cells,
measured values, tables and families, with what is not saved yet; and what may
be written at a place, and what stands there. The editor starts it: how to set
that up is in plan/FORMAT.md, under "In an editor".

No finding is no proof of safety.

  gridferry lsp`

func newLSP(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "lsp",
		Short: "Serve an editor by the Language Server Protocol",
		Long:  lspHelp,
		Args:  arguments(0, 0),
		RunE:  func(*cobra.Command, []string) error { return s.lsp() },
	}
}

func (s *streams) lsp() error {
	server := gen.Served{Layout: layout.Options{Slots: layout.DefaultSlots}}.LSP()
	return failed(untilStopped(func(ctx context.Context) error { return server.Run(ctx, s.in, s.out) }))
}
