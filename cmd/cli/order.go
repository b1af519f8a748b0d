package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen/layout"
)

const orderHelp = `Order looks for the order of picks and places with the shortest ways between
slots: which part goes to which slot, and in which sequence. The slots that are
emptied and filled stay the same, and so do layers and chains.

It prints lists of slots that can replace "transfers:" in the plan, and what
they save compared with the plan, by-row and serpentine. "order: shortest" in
the plan does the same without the lists. If the arm passes a clear pose before
every pick and every place, no order is shorter than another, and order says so.

With --quickest it is the time of the ways that counts, from stop to stop, by
the speeds of the plan and the limits of the machine and its joints; so it does
for "order: quickest" in the plan.

  gridferry order tube-rack.plan.yaml`

func newOrder(s *streams) *cobra.Command {
	var flags planFlags
	var format string
	var quickest bool
	c := planCommand("order PLAN", "Propose a shorter order of picks and places", orderHelp,
		func(file string) error { return s.order(&flags, quickest, format, file) })
	flags.add(c)
	c.Flags().BoolVar(&quickest, "quickest", false, "look for the order that takes least time, in place of the shortest")
	addFormat(c, &format, "the lists", "text", "json")
	return c
}

func (s *streams) order(flags *planFlags, quickest bool, format, file string) error {
	job, err := flags.read(s, file)
	if err != nil {
		return err
	}
	if err := s.report(job); err != nil {
		return err
	}
	by := layout.ByLength
	if quickest {
		by = layout.ByTime
	}
	proposal := job.Order(by)
	return s.inForm(format, writers{
		"json": func(w io.Writer) error { return proposal.WriteJSON(w, job.Layout.File) },
		"text": func(w io.Writer) error { return proposal.WriteText(w, job.Layout.File) },
	})
}
