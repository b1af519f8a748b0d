package gen

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"gridferry/gen/draw"
	"gridferry/gen/out"
	"gridferry/gen/sheet"
	"gridferry/gen/summary"
)

// Page is a kind of file that is written under a name that people choose.
type Page struct {
	what    string                 // its name in messages
	ours    func(head []byte) bool // knows the kind by a file's first bytes
	endings []string               // of file names; the first is the usual one
}

// The kinds of pages.
var (
	Picture  = beginning("picture", draw.Head, ".svg")
	JobSheet = beginning("sheet", sheet.Head, ".html", ".htm")
	table    = Page{what: "table of variants", ours: summary.Ours}
)

// beginning is a kind of file that is known by its first bytes.
func beginning(what, head string, endings ...string) Page {
	return Page{what, func(b []byte) bool { return bytes.HasPrefix(b, []byte(head)) }, endings}
}

// Fits refuses a file name with the ending of another kind of file.
func (p *Page) Fits(name string) error {
	if name == Stdout {
		return nil
	}
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		return fmt.Errorf("-o is the folder %s, wanted a file: -o %s", name, filepath.Join(name, p.what+p.endings[0]))
	}
	ending := filepath.Ext(name)
	for _, e := range append(p.endings, "") {
		if strings.EqualFold(ending, e) {
			return nil
		}
	}
	return fmt.Errorf("-o is %s, but a %s is an %s file: -o %s", name, p.what, p.endings[0], strings.TrimSuffix(name, ending)+p.endings[0])
}

// Page prepares a page of the job. If content adds errors to the findings, the delivery
// must not be finished.
func (j *Job) Page(p Page, o Output, content func(io.Writer) error) (*Delivery, error) {
	d := o.delivery(out.WasRead(j.Sources.Names()...))
	name := o.To
	if name == Stdout {
		name = filepath.Join(os.TempDir(), p.what+p.endings[0]) // staged there, then copied
	}
	if err := d.batch.Add(name, content); err != nil || j.Findings.HasErrors() {
		return d, err
	}
	return d, d.guard([]string{name}, p.mayReplacePage, &j.Findings)
}
