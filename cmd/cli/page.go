package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/out"
)

// pageKind is a kind of file that a command writes under the name that "-o" gives.
type pageKind struct {
	gen.Page
	endings []string // that its name may have; the first is the usual one
}

// beginning is a kind of file that is known by its first bytes.
func beginning(what, head string, endings ...string) pageKind {
	return pageKind{gen.Page{What: what, Ours: func(b []byte) bool { return bytes.HasPrefix(b, []byte(head)) }}, endings}
}

// pageFlags say where a page goes.
type pageFlags struct {
	output  string
	replace bool
}

func (f *pageFlags) add(c *cobra.Command) {
	c.Flags().StringVarP(&f.output, "output", "o", "", "the file to write, or - for standard output")
	c.Flags().BoolVar(&f.replace, "replace", false, "replace any file of that name, keeping it beside the new one as NAME.kept-1")
	c.MarkFlagRequired("output")
}

// fits refuses a name for another kind of file. One without an ending is for whatever
// its owner likes.
func (f *pageFlags) fits(kind pageKind) error {
	name := f.output
	if name == "-" {
		return nil
	}
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return fmt.Errorf("-o is the folder %s, wanted a file: -o %s", name, filepath.Join(name, kind.What+kind.endings[0]))
	}
	ending := filepath.Ext(name)
	for _, e := range append(kind.endings, "") {
		if strings.EqualFold(ending, e) {
			return nil
		}
	}
	return fmt.Errorf("-o is %s, but a %s is an %s file: -o %s", name, kind.What, kind.endings[0], strings.TrimSuffix(name, ending)+kind.endings[0])
}

// write stages a page and brings it to its place, or to standard output. Unless
// content leaves an error among the job's findings: then nothing is written.
func (f *pageFlags) write(s *streams, job *gen.Job, kind pageKind, content func(io.Writer) error) error {
	batch := out.NewBatch()
	defer batch.Discard()
	name := f.output
	if name == "-" {
		name = filepath.Join(os.TempDir(), kind.What+kind.endings[0]) // staged there, then copied
	} else {
		batch.Spare(out.WasRead(job.Files()...))
	}
	if err := batch.Add(name, content); err != nil {
		return failure{err}
	}
	if f.output != "-" && !job.Findings.HasErrors() {
		if err := f.guard(job, batch, kind); err != nil {
			return failure{err}
		}
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.finish(batch, f.output)
}

// guard keeps a file that is no such page: it is not replaced, or it is kept.
func (f *pageFlags) guard(job *gen.Job, batch *out.Batch, kind pageKind) error {
	may, err := gen.MayReplacePage(f.output, kind.Page, objections(&job.Findings, f.replace))
	if err == nil && !may && f.replace {
		batch.Keep(f.output)
	}
	return err
}
