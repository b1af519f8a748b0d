package lsp

import (
	"cmp"
	"context"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"gridferry/plan/diag"
)

// familyFile is the file that makes a family of a folder.
const familyFile = "family.yaml"

// isFamily reports whether a folder is a family: other programs have templates, too.
func (s *Server) isFamily(folder string) bool {
	file := inFolder(folder, familyFile)
	_, err := os.Stat(filepath.FromSlash(file))
	return err == nil || s.documents[file] != nil
}

// lookAtFamily reads a family and tries it.
func (s *Server) lookAtFamily(ctx context.Context, folder string, drafts map[string]string) *looked {
	root, err := os.OpenRoot(filepath.FromSlash(folder))
	if err != nil {
		list := new(diag.List)
		list.Errorf("unreadable-family", diag.Place{File: inFolder(folder, familyFile)}, "the family's folder cannot be opened: %v", err)
		return &looked{work: &Work{Findings: list.Sorted()}}
	}
	defer root.Close()
	job := s.flow.Family(overlaid{root.FS(), folder, drafts}, folder)
	return &looked{job: job, work: job.Work(ctx)}
}

// overlaid is a folder in which drafts take the place of what the disk has.
type overlaid struct {
	fs.FS
	folder string
	drafts map[string]string
}

// draft is a file that is open in the editor.
func (o overlaid) draft(name string) (*draft, bool) {
	text, open := o.drafts[inFolder(o.folder, name)]
	return &draft{strings.NewReader(text), path.Base(name), int64(len(text))}, open
}

// Open opens a file.
func (o overlaid) Open(name string) (fs.File, error) {
	if d, open := o.draft(name); open {
		return d, nil
	}
	return o.FS.Open(name)
}

// Lstat says what a file is. Links stay what they are.
func (o overlaid) Lstat(name string) (fs.FileInfo, error) {
	if d, open := o.draft(name); open {
		return d, nil
	}
	return fs.Lstat(o.FS, name)
}

// ReadLink says where a link leads.
func (o overlaid) ReadLink(name string) (string, error) { return fs.ReadLink(o.FS, name) }

// ReadDir lists a folder, with the drafts that are not saved yet.
func (o overlaid) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(o.FS, name)
	for file := range o.drafts {
		same := func(e fs.DirEntry) bool { return e.Name() == path.Base(file) }
		if folderOf(file) != inFolder(o.folder, name) || slices.ContainsFunc(entries, same) {
			continue
		}
		if d, open := o.draft(inFolder(name, path.Base(file))); open {
			entries = append(entries, fs.FileInfoToDirEntry(d))
		}
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return cmp.Compare(a.Name(), b.Name()) })
	return entries, err
}

// draft is such a file: plain, and what is known of it.
type draft struct {
	io.Reader
	name string
	size int64
}

func (d *draft) Stat() (fs.FileInfo, error) { return d, nil }
func (d *draft) Close() error               { return nil }
func (d *draft) Name() string               { return d.name }
func (d *draft) Size() int64                { return d.size }
func (d *draft) Mode() fs.FileMode          { return 0o644 }
func (d *draft) ModTime() time.Time         { return time.Time{} }
func (d *draft) IsDir() bool                { return false }
func (d *draft) Sys() any                   { return nil }
