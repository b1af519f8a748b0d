package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

// pageFlags say where a page goes.
type pageFlags struct{ gen.Output }

func (f *pageFlags) add(c *cobra.Command) {
	c.Flags().StringVarP(&f.To, "output", "o", "", "the file to write, or - for standard output")
	c.Flags().BoolVar(&f.Replace, "replace", false, "replace any file of that name, keeping it beside the new one as NAME.kept-1")
	c.MarkFlagRequired("output")
}

// page writes a page of a job, unless there is an error among the findings.
func (s *streams) page(job *gen.Job, kind gen.Page, to gen.Output, content func(io.Writer) error) error {
	d, err := job.Page(kind, to, content)
	defer d.Discard()
	if err != nil {
		return failure{err}
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.finish(d)
}

// finish brings files to their places and says so.
func (s *streams) finish(d *gen.Delivery) error {
	said, err := d.Finish(s.out)
	s.say(said...)
	return failed(err)
}
