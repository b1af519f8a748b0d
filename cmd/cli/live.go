package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/live"
)

const liveHelp = `Live serves one page on this computer that follows a plan while it is edited, in
any editor or on the page itself: the plan with its findings, the cell in three
dimensions, the moves with their times, and the program. The page is at the
address that is printed. It is for this computer alone, and only for whoever
knows that address.

The plan, its cell and the other files that they name are followed, also where
an editor puts a new file in the old one's place. A plan with errors keeps the
last good picture. The page writes a file only when it is asked to save, and not
over one that somebody else changed meanwhile.

With a second plan the page also says how that one differs, as compare does; it
is read anew whenever the first one changes.

It goes on until it is stopped (Ctrl-C). What the page shows is no proof of
safety.

  gridferry live mortar-cubes.plan.yaml --open`

type liveFlags struct {
	planFlags
	family string
	port   int
	open   bool
}

func newLive(s *streams) *cobra.Command {
	var flags liveFlags
	c := &cobra.Command{
		Use:   "live PLAN [OTHER]",
		Short: "Serve a page that follows a plan while it is edited",
		Long:  liveHelp,
		Args:  arguments(1, 2),
		RunE:  func(_ *cobra.Command, files []string) error { return s.live(&flags, files) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "family of the program: name of a shipped one, or folder")
	c.Flags().IntVar(&flags.port, "port", 0, "port to serve the page on; 0 for any that is free")
	c.Flags().BoolVar(&flags.open, "open", false, "open the page in the browser")
	return c
}

func (s *streams) live(flags *liveFlags, files []string) error {
	server, err := flags.server(files)
	if err != nil {
		return err
	}
	if err := server.Listen(flags.port); err != nil {
		return failure{err}
	}
	if _, err := fmt.Fprintln(s.out, server.Address()); err != nil {
		return failure{err}
	}
	if flags.open {
		if err := server.Open(); err != nil {
			s.sayf("the browser cannot be opened (%v): open the address yourself", err)
		}
	}
	s.say("the page is at this address as long as this command runs; Ctrl-C stops it")
	return failed(untilStopped(func(ctx context.Context) error { return server.Run(ctx) }))
}

func (f *liveFlags) server(files []string) (*live.Server, error) {
	settings, err := f.settings()
	switch {
	case err != nil:
		return nil, err
	case slices.Contains(files, "-"):
		return nil, errors.New("standard input does not change: name a file")
	case f.port < 0 || f.port > 65535:
		return nil, fmt.Errorf("--port is %d, wanted 0 to 65535", f.port)
	}
	flow, err := gen.Followed{Settings: settings, Layout: layout.Options{Slots: f.limit}, Family: f.family}.Live()
	if err != nil {
		return nil, err
	}
	server, err := live.New(flow, files[0])
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("there is no plan %q: \"gridferry new\" writes a starter cell and plan", files[0])
	}
	if err == nil && len(files) > 1 {
		err = server.CompareWith(files[1])
	}
	return server, err
}
