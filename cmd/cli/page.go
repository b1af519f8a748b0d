package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

// pageFlags say where to write a page.
type pageFlags struct{ gen.Output }

func (f *pageFlags) add(c *cobra.Command) {
	c.Flags().StringVarP(&f.To, "output", "o", "", "file to write, or - for standard output")
	c.Flags().BoolVar(&f.Replace, "replace", false, "replace any file of that name; keep it as NAME.kept-1")
	c.MarkFlagRequired("output")
}

// page writes a page of a job, if there are no errors.
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

// finish puts files in place and says so.
func (s *streams) finish(d *gen.Delivery) error {
	said, err := d.Finish(s.out)
	s.say(said...)
	return failed(err)
}
