package live

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"unicode/utf8"

	"gridferry/plan"
	"gridferry/plan/digest"
)

// File is one of a plan's files, as it was read.
type File struct {
	Name   string // as findings show it
	Role   string // "plan", or the key that names it
	Text   string
	Digest string // of the text; "" for a file that could not be read
	Draft  bool   // the text is a page's own, not the disk's

	err  error                  // why it could not be read
	disk func() ([]byte, error) // reads it from the disk
}

// reading is a plan as it was read once: its files, and what became of them.
type reading struct {
	version string // the digest of all texts
	job     Job

	mu    sync.Mutex
	files []*File // the plan first
}

// reads makes readings of one plan.
type reads struct {
	flow Flow
	name string // of the plan
}

// of reads the plan, and what it names; some texts, by the names of their files, take the place of what the disk has. The
// error is that of reading the plan itself.
func (r *reads) of(drafts map[string]string) (*reading, error) {
	g := &reading{}
	source, err := r.source(g, drafts)
	if err != nil {
		return nil, err
	}
	g.job = r.flow.Read(source)
	g.version = g.digest()
	return g, nil
}

// source is what the plan is read from; what it names becomes part of a reading.
func (r *reads) source(g *reading, drafts map[string]string) (plan.Source, error) {
	name := filepath.ToSlash(r.name)
	text, drafted := drafts[name]
	source := plan.Source{File: name, Data: []byte(text), Dir: filepath.Dir(r.name)}
	if !drafted {
		var err error
		if source, err = plan.Open(r.name, nil); err != nil {
			return source, err
		}
	}
	g.keep(&File{Name: name, Role: "plan", Draft: drafted, disk: r.disk}, source.Data, nil)
	source.Read = func(n plan.Named) ([]byte, error) { return g.read(n, drafts) }
	return source, nil
}

// disk reads the plan.
func (r *reads) disk() ([]byte, error) {
	source, err := plan.Open(r.name, nil)
	return source.Data, err
}

// read gives a file that the plan names: the same text every time.
func (g *reading) read(n plan.Named, drafts map[string]string) ([]byte, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if f := find(g.files, n.File); f != nil {
		return []byte(f.Text), f.err
	}
	text, drafted := drafts[n.File]
	data, err := []byte(text), error(nil)
	if !drafted {
		data, err = n.Read()
	}
	g.keep(&File{Name: n.File, Role: n.Key, Draft: drafted, disk: n.Read}, data, err)
	return data, err
}

func (g *reading) keep(f *File, data []byte, err error) {
	f.Text, f.err = string(data), err
	if err == nil {
		f.Digest = digest.Of(f.Text)
	}
	g.files = append(g.files, f)
}

// digest is that of all texts and their names. A file that could not be read counts by the reason.
func (g *reading) digest() string {
	var all strings.Builder
	for _, f := range g.files {
		all.WriteString(f.Name + "\x00" + f.Digest)
		if f.err != nil {
			all.WriteString("\x00" + f.err.Error())
		}
		all.WriteString("\x00")
	}
	return digest.Half(all.String())
}

// names are those of all files, also of such that could not be read.
func (g *reading) names() []string {
	var names []string
	for _, f := range g.files {
		names = append(names, f.Name)
	}
	return names
}

// lost reports whether a file is not there now that another reading had.
func (g *reading) lost(before *reading) bool {
	for _, f := range g.files {
		if was := find(before.files, f.Name); was != nil && was.err == nil && errors.Is(f.err, os.ErrNotExist) {
			return true
		}
	}
	return false
}

func find(files []*File, name string) *File {
	for _, f := range files {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// longestShown is the most bytes of a text that a page gets: nobody edits more by hand.
const longestShown = 2 << 20

// whole reports whether a page can have the text of a file.
func (f *File) whole() bool {
	return f.err == nil && len(f.Text) <= longestShown && utf8.ValidString(f.Text)
}

// writable reports whether a page may save the file.
func (f *File) writable() bool {
	info, err := os.Lstat(filepath.FromSlash(f.Name))
	return f.whole() && (err != nil || info.Mode().IsRegular() && info.Mode().Perm()&0o200 != 0)
}
