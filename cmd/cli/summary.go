package cli

import (
	"io"
	"os"
	"path/filepath"
	"sync"

	"gridferry/gen"
	"gridferry/gen/out"
	"gridferry/gen/summary"
	"gridferry/plan/diag"
)

// summaries are the files of the table of variants, and the format of each.
var summaries = []struct{ name, format string }{{"summary.txt", "text"}, {"summary.csv", "csv"}, {"summary.html", "html"}}

// oldSummary is the files that stand in the places of the table before vary begins.
type oldSummary struct {
	folder  string
	tables  []string // of an earlier run
	foreign []string // that stay, as "--replace" keeps them

	once sync.Once
	err  error
}

// oldSummary looks at what is there, and refuses to write over what was read or is no
// table, before anything is written.
func (s *streams) oldSummary(flags *varyFlags, read out.Read) (*oldSummary, error) {
	old := &oldSummary{folder: flags.output}
	batch, job := out.NewBatch(), new(gen.Job)
	batch.Spare(read)
	for _, f := range summaries {
		name := filepath.Join(flags.output, f.name)
		if err := batch.Spares(name); err != nil {
			return nil, err
		}
		if info, err := os.Lstat(name); err != nil || !info.Mode().IsRegular() {
			continue // there is none, or none can be written
		}
		if err := old.sort(name, flags.replace, &job.Findings); err != nil {
			return nil, failure{err}
		}
	}
	return old, s.report(job)
}

// sort puts a file that is there to its kind.
func (o *oldSummary) sort(name string, replace bool, list *diag.List) error {
	ours, err := gen.MayReplacePage(name, gen.Page{What: "table of variants", Ours: summary.Ours}, objections(list, replace))
	if ours {
		o.tables = append(o.tables, name)
	} else {
		o.foreign = append(o.foreign, name)
	}
	return err
}

// takeAway removes the old table, once, before the first program changes: it would no
// longer be true, and somebody may stop the run before there is a new one.
func (o *oldSummary) takeAway() error {
	o.once.Do(func() {
		batch := out.NewBatch()
		for _, name := range o.tables {
			batch.Remove(name)
		}
		missing := "there is no summary in the folder \"" + o.folder + "\""
		lacks.Store(&missing)
		o.err = batch.Commit()
	})
	return o.err
}

// writeSummary brings the tables into the folder, those that change.
func (s *streams) writeSummary(old *oldSummary, tables map[string]func(io.Writer) error, all []gen.Varied) error {
	batch := out.NewBatch()
	defer batch.Discard()
	var read []string
	for i := range all {
		for name := range all[i].Sources.All() {
			read = append(read, name)
		}
	}
	batch.Spare(out.WasRead(read...))
	for _, f := range summaries {
		if err := batch.Add(filepath.Join(old.folder, f.name), tables[f.format]); err != nil {
			return err
		}
	}
	if _, err := batch.DropSame(); err != nil {
		return err
	}
	for _, name := range old.foreign {
		batch.Keep(name)
	}
	err := batch.Commit()
	for _, name := range batch.Kept() {
		s.say("kept %s", name)
	}
	if err == nil {
		lacks.Store(nil)
	}
	return err
}
