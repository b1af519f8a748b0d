package family

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"unicode/utf8"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// A family is wording, not data. Of the shipped ones the largest has 24 KB in all.
const (
	largestFile   = 128 << 10 // bytes
	largestFamily = 256 << 10 // bytes of all files that are read
	longestLine   = 16 << 10  // bytes
	mostTemplates = 50

	lessHint = "a family is wording: take out what no block needs"
)

// reader reads a family's files: regular ones of a sensible size, nothing else.
type reader struct {
	fsys  fs.FS
	label string
	list  *diag.List
	src   *diag.Sources
	bytes int // that were read

	unread bool // a template could not be read, so that blocks may be missing for that reason
}

// goodFile keeps names out that would confuse places in messages.
var goodFile = lazy.Regexp(`^[A-Za-z0-9][A-Za-z0-9._-]*\.tmpl$`)

// templates reads all template files, sorted by name.
func (r *reader) templates() []blocks.File {
	entries, err := fs.ReadDir(r.fsys, ".") // sorted by name
	if err != nil {
		r.list.Errorf("unreadable-family", diag.Place{File: r.label}, "the family's folder cannot be read: %v", plain(err))
		return nil
	}
	var files []blocks.File
	for _, e := range entries {
		if path.Ext(e.Name()) != ".tmpl" {
			continue
		}
		if len(files) == mostTemplates {
			r.list.Errorf("unreadable-family", diag.Place{File: r.label}, "the family has more than %d template files", mostTemplates)
			break
		}
		text, ok := r.template(e.Name())
		if !ok {
			r.unread = true
			continue
		}
		files = append(files, blocks.File{Name: e.Name(), Text: text})
	}
	return files
}

func (r *reader) template(name string) (string, bool) {
	at := diag.Place{File: path.Join(r.label, name)}
	if !goodFile().MatchString(name) {
		r.list.Errorf("bad-file-name", at, "the file name %q holds more than letters, digits, \".\", \"_\" and \"-\"", name)
		return "", false
	}
	data, ok := r.read(name)
	if ok && !utf8.Valid(data) {
		r.list.Errorf("unreadable-family", at, "the file is not UTF-8 text")
		return "", false
	}
	return string(data), ok
}

// read reads one regular file and keeps its text for findings.
func (r *reader) read(name string) ([]byte, bool) {
	at := diag.Place{File: path.Join(r.label, name)}
	data, err := readRegular(r.fsys, name)
	if err != nil {
		f := r.list.Errorf("unreadable-family", at, "the file cannot be read: %v", plain(err))
		switch {
		case errors.Is(err, errTooLong):
			f.WithHint(lessHint)
		case name == rules.File:
			f.WithHint("a family is a folder with a file %q and templates, *.tmpl", rules.File)
		}
		return nil, false
	}
	if r.bytes += len(data); r.bytes > largestFamily {
		r.list.Errorf("unreadable-family", at, "with this file the family has more than %d bytes", largestFamily).
			WithHint(lessHint)
		return nil, false
	}
	if r.src != nil {
		r.src.Add(at.File, data)
	}
	return data, r.hasLines(at, data)
}

// hasLines reports the first line that is longer than any that people would read.
func (r *reader) hasLines(at diag.Place, data []byte) bool {
	for line := range bytes.Lines(data) {
		at.Line++
		if len(line) > longestLine {
			at.Col = 1
			r.list.Errorf("unreadable-family", at, "the line has %d bytes, at most %d are read", len(line), longestLine).
				WithHint("break it into lines; in a template, a dash inside the braces, as in {{- and -}}, takes a line break out")
			return false
		}
	}
	return true
}

// readRegular refuses links, pipes and devices before it opens them: opening a
// pipe would wait for ever.
func readRegular(fsys fs.FS, name string) ([]byte, error) {
	info, err := fs.Lstat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errNotRegular}
	}
	file, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, largestFile+1))
	if err == nil && len(data) > largestFile {
		err = errTooLong
	}
	return data, err
}

var (
	errNotRegular = errors.New("it is no regular file")
	errTooLong    = fmt.Errorf("it is longer than %d bytes", largestFile)
)

// plain is an error without the path, which the finding gives in its own way.
func plain(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
