package gen

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"sync"

	"gridferry/gen/family"
	"gridferry/gen/out"
	"gridferry/gen/summary"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Folders is where the programs of variants go: a folder for each, and beside them a
// table of all.
type Folders struct {
	Output
	Families  []*family.Family
	MostBytes int64             // of each program
	Missing   func(what string) // called with what is missing for now, and "" at the end

	read   out.Read // for all variants
	unlock func()   // others may write there again

	once    sync.Once
	removed error // the result of removing the old tables
}

// tables are the files of the table of variants.
var tables = []struct {
	name  string
	write func(*summary.Table, io.Writer) error
}{{"summary.txt", (*summary.Table).WriteText}, {"summary.csv", (*summary.Table).WriteCSV}, {"summary.html", (*summary.Table).WriteHTML}}

// Open keeps other processes from writing to the folders until Close, and looks for old
// tables before anything is written. It refuses to write over files that were read, and adds
// errors to list for files that are no tables.
func (f *Folders) Open(read []string, list *diag.List) error {
	f.read = out.WasRead(read...)
	batch := out.NewBatch()
	batch.Spare(f.read)
	for _, name := range f.tables() {
		if err := batch.Spares(name); err != nil {
			return err
		}
	}
	var err error
	if f.unlock, err = out.Lock(f.To); err != nil {
		return err
	}
	_, err = f.oldTables(list)
	return err
}

// Close lets others write to the folders again.
func (f *Folders) Close() {
	if f.unlock != nil {
		f.unlock()
	}
}

// tables are the names of the tables.
func (f *Folders) tables() []string {
	var names []string
	for _, t := range tables {
		names = append(names, filepath.Join(f.To, t.name))
	}
	return names
}

// oldTables are the tables of an earlier run; what is no table is an error in list.
func (f *Folders) oldTables(list *diag.List) ([]string, error) {
	var old []string
	for _, name := range f.tables() {
		if info, err := os.Lstat(name); err != nil || !info.Mode().IsRegular() {
			continue // there is none, or writing it will fail
		}
		ours, err := table.mayReplacePage(name, f.objections(list))
		if err != nil {
			return nil, err
		}
		if ours {
			old = append(old, name)
		}
	}
	return old, nil
}

// Write writes a variant's programs into its folder, all of them or none, and never over
// files that were read.
func (f *Folders) Write(job *Job, variant *plan.Variant) (Programs, error) {
	var done Programs
	own := Output{filepath.Join(f.To, variant.Name), f.Replace}
	d := own.delivery(append(out.WasRead(job.Sources.Names()...), f.read...))
	defer d.Discard()
	d.batch.Within(f.To)
	for _, one := range f.Families {
		if !job.CheckFor(one) {
			return done, nil
		}
		lines := 0
		create := func(name string) (io.WriteCloser, error) {
			w, err := d.create(name)
			return &lineCounter{w, &lines}, err
		}
		if err := d.program(job, one, create, f.MostBytes); err != nil {
			return done, err
		}
		done.Lines = append(done.Lines, lines)
	}
	if job.Findings.HasErrors() {
		return done, nil
	}
	changed, err := d.batch.DropSame()
	if err != nil || changed == 0 {
		return done, err
	}
	done.Changed = true
	if err := f.removeOld(); err != nil {
		return done, err
	}
	return done, d.batch.Commit()
}

// removeOld removes the old tables, once, before the first program changes: they would
// be wrong then, and the run may be stopped before there are new ones.
func (f *Folders) removeOld() error {
	f.once.Do(func() {
		var old []string
		old, f.removed = f.oldTables(new(diag.List)) // what is no table by now stays
		if f.removed != nil {
			return
		}
		batch := out.NewBatch()
		for _, name := range old {
			batch.Remove(name)
		}
		f.Missing("there is no summary in the folder \"" + f.To + "\"")
		f.removed = batch.Commit()
	})
	return f.removed
}

// TableOf is the table of the variants of a plan.
func (f *Folders) TableOf(plan string, all []Varied) *summary.Table {
	t := &summary.Table{Plan: filepath.Base(plan)}
	for _, one := range f.Families {
		t.Families = append(t.Families, one.Label)
	}
	for i := range all {
		t.Rows = append(t.Rows, all[i].Row)
	}
	return t
}

// WriteTables writes the tables that change, over none of the files that were read. It returns what to say about
// that, a line each.
func (f *Folders) WriteTables(t *summary.Table, read ...string) ([]string, error) {
	d := f.delivery(append(out.WasRead(read...), f.read...))
	defer d.Discard()
	for _, one := range tables {
		write := one.write
		if err := d.batch.Add(filepath.Join(f.To, one.name), func(w io.Writer) error { return write(t.Lasting(), w) }); err != nil {
			return nil, err
		}
	}
	if _, err := d.batch.DropSame(); err != nil {
		return nil, err
	}
	var foreign diag.List
	if err := d.guard(d.batch.Names(), table.mayReplacePage, &foreign); err != nil {
		return nil, err
	}
	if err := firstOf(&foreign); err != nil {
		return nil, err
	}
	err := d.batch.Commit()
	if err == nil {
		f.Missing("")
	}
	return each("kept ", d.batch.Kept()), err
}

// Leftovers says what else is in the folders, a line each: old programs of variants that
// have errors now, and temporary files of other runs.
func (f *Folders) Leftovers(all []Varied) []string {
	var lines []string
	folders := []string{f.To, filepath.Dir(filepath.Clean(f.To))}
	for i := range all {
		folder := filepath.Join(f.To, all[i].Row.Name)
		folders = append(folders, folder)
		if all[i].Row.State != summary.Refused {
			continue
		}
		if held, err := os.ReadDir(folder); err == nil && len(held) > 0 {
			lines = append(lines, folder+" holds files of an earlier run: the variant has errors now")
		}
	}
	return append(lines, strays(folders...)...)
}

// lineCounter counts the lines of a file while it is written.
type lineCounter struct {
	io.WriteCloser
	lines *int
}

// Write counts line feeds.
func (c *lineCounter) Write(b []byte) (int, error) {
	*c.lines += bytes.Count(b, []byte("\n"))
	return c.WriteCloser.Write(b)
}
