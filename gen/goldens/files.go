package goldens

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"gridferry/gen/out"
	"gridferry/plan/diag"
)

// Files is what one case gives, by file name.
type Files map[string]string

// Names is the names of both sets of files, in order.
func (f Files) Names(and Files) []string {
	all := maps.Clone(f)
	if all == nil {
		all = Files{}
	}
	maps.Copy(all, and)
	return slices.Sorted(maps.Keys(all))
}

// Read reads a folder; one that is not there holds no files. Nothing is read through a
// link, nor from what is no plain file and may never end, and no more than mostRecorded.
func Read(folder string) (Files, error) { return read(folder, mostRecorded) }

// mostRecorded is how large the recorded files of one case may be together, in bytes: they are
// compared in memory.
const mostRecorded = 64 << 20

func read(folder string, most int64) (Files, error) {
	files := Files{}
	info, err := os.Lstat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return files, nil
	case err != nil:
		return nil, err
	case !info.IsDir():
		return nil, fmt.Errorf("%q is no folder: a link is not followed", folder)
	}
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		if !e.Type().IsRegular() {
			return nil, fmt.Errorf("%q in it is no plain file: move it away", e.Name())
		}
		text, err := readAtMost(filepath.Join(folder, e.Name()), most)
		if err != nil {
			return nil, err
		}
		if most -= int64(len(text)); most < 0 {
			return nil, fmt.Errorf("up to %q its files have more than %d MiB: record a case with fewer transfers", e.Name(), mostRecorded>>20)
		}
		files[e.Name()] = text
	}
	return files, err
}

// readAtMost is a file's text; of a longer one so many bytes and one more.
func readAtMost(file string, most int64) (string, error) {
	f, err := os.Open(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	return string(data), err
}

// Record puts these files into a folder and removes those of old that are none of them;
// whatever else is there stays. A file that was read for them is not overwritten.
func (f Files) Record(folder string, old Files, read ...string) error {
	batch := out.NewBatch()
	defer batch.Discard()
	batch.Spare(out.WasRead(read...))
	batch.Within(filepath.Dir(folder))
	for _, name := range f.Names(old) {
		path := filepath.Join(folder, name)
		if text, stays := f[name]; !stays {
			batch.Remove(path)
		} else if err := batch.AddText(path, text); err != nil {
			return err
		}
	}
	return batch.Commit()
}

// Differences names every file that is missing, too many or different, each
// with a diff; how says how to record what comes out.
func Differences(want, got Files, how string) []string {
	var all []string
	for _, name := range want.Names(got) {
		w, wanted := want[name]
		g, given := got[name]
		name = diag.Visible(name)
		switch {
		case !given:
			all = append(all, name+": recorded, but nothing gives it any more")
		case !wanted:
			all = append(all, name+": comes out, but is not recorded ("+how+")")
		case w != g && lines(w) == lines(g):
			all = append(all, fmt.Sprintf("%s: only the ends of lines differ, from line %d on: what keeps versions may have changed them in what was recorded (Git leaves them where .gitattributes says \"-text\")", name, firstDifference(w, g)))
		case w != g:
			all = append(all, fmt.Sprintf("%s: first differs at line %d\n%s", name, firstDifference(w, g), diff("recorded", "now", w, g)))
		}
	}
	return all
}

// lines is a text with one way of ending lines.
func lines(text string) string { return strings.ReplaceAll(text, "\r\n", "\n") }

// firstDifference is the first line, from 1, in which two texts differ.
func firstDifference(a, b string) int {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range x {
		if i >= len(y) || x[i] != y[i] {
			return i + 1
		}
	}
	return len(x) + 1
}

// diff is a unified diff, cut to what a person would read.
func diff(a, b, x, y string) string {
	const most = 40
	lines := strings.SplitAfter(udiff.Unified(a, b, x, y), "\n")
	if len(lines) > most {
		lines = append(lines[:most], fmt.Sprintf("… and %d lines more\n", len(lines)-most))
	}
	return strings.Join(lines, "")
}
