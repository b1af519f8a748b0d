// Package version keeps the texts of a plan and of the files that it names, as they are at one moment: what the disk has
// or, in place of that, drafts, which are not saved. Each file is read once, so that all who read the version see the same.
package version

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"gridferry/plan"
	"gridferry/plan/digest"
)

// File is one of a plan's files, as it was read.
type File struct {
	Name   string // as findings show it
	Role   string // "plan", or the key that names it
	Text   string
	Digest string // of the text; "" for a file that could not be read
	Draft  bool   // the text is not the disk's

	Err  error                  // why it could not be read
	Disk func() ([]byte, error) // reads it from the disk
}

// Version is the texts. It can be read from by several at the same time.
type Version struct {
	plan   plan.Source
	drafts map[string]string

	mu    sync.Mutex
	files []*File // the plan first
}

// Open reads a plan. Drafts, by the names of their files, take the place of what the disk has. The error is that of reading the
// plan itself.
func Open(name string, drafts map[string]string) (*Version, error) {
	shown := filepath.ToSlash(name)
	text, drafted := drafts[shown]
	v := &Version{plan: plan.Source{File: shown, Data: []byte(text), Dir: filepath.Dir(name)}, drafts: drafts}
	if !drafted {
		var err error
		if v.plan, err = plan.Open(name, nil); err != nil {
			return nil, err
		}
	}
	disk := func() ([]byte, error) {
		source, err := plan.Open(name, nil)
		return source.Data, err
	}
	v.keep(&File{Name: shown, Role: "plan", Draft: drafted, Disk: disk}, v.plan.Data, nil)
	return v, nil
}

// Source is what the plan is read from. Files that it names become part of the version as they are asked for.
func (v *Version) Source() plan.Source {
	source := v.plan
	source.Read = v.read
	return source
}

// read gives a file that the plan names: the same text every time.
func (v *Version) read(n plan.Named) ([]byte, error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if f := find(v.files, n.File); f != nil {
		return []byte(f.Text), f.Err
	}
	text, drafted := v.drafts[n.File]
	data, err := []byte(text), error(nil)
	if !drafted {
		data, err = n.Read()
	}
	v.keep(&File{Name: n.File, Role: n.Key, Draft: drafted, Disk: n.Read}, data, err)
	return data, err
}

func (v *Version) keep(f *File, data []byte, err error) {
	f.Text, f.Err = string(data), err
	if err == nil {
		f.Digest = digest.Of(f.Text)
	}
	v.files = append(v.files, f)
}

// Files are those that were asked for, the plan first.
func (v *Version) Files() []*File {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.files[:len(v.files):len(v.files)]
}

// Find is a file by its name; nil for none that was asked for.
func (v *Version) Find(name string) *File { return find(v.Files(), name) }

func find(files []*File, name string) *File {
	for _, f := range files {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// Names are those of all files, also of such that could not be read.
func (v *Version) Names() []string {
	var names []string
	for _, f := range v.Files() {
		names = append(names, f.Name)
	}
	return names
}

// Digest is that of all texts and their names. A file that could not be read counts by the reason.
func (v *Version) Digest() string {
	var all strings.Builder
	for _, f := range v.Files() {
		all.WriteString(f.Name + "\x00" + f.Digest)
		if f.Err != nil {
			all.WriteString("\x00" + f.Err.Error())
		}
		all.WriteString("\x00")
	}
	return digest.Half(all.String())
}

// Lost reports whether a file is not there now that another version had.
func (v *Version) Lost(before *Version) bool {
	for _, f := range v.Files() {
		if was := before.Find(f.Name); was != nil && was.Err == nil && errors.Is(f.Err, os.ErrNotExist) {
			return true
		}
	}
	return false
}
