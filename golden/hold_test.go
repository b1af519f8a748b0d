package golden

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/aymanbagabas/go-udiff"
)

// hold compares what make gives with what is recorded in a folder, or records
// it with -update, after proving it in both cases.
func hold(t *testing.T, folder string, make func() files) {
	t.Helper()
	got := make()
	if faults := prove(got, make()); len(faults) > 0 {
		t.Fatalf("not fit to be recorded:\n%s", strings.Join(faults, "\n"))
	}
	if *update {
		if err := record(folder, got); err != nil {
			t.Fatal(err)
		}
	}
	want, err := readFiles(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range differences(want, got) {
		t.Error(d)
	}
}

// nonsense is what no program, list or message may hold: signs of a value that
// was not there, and numbers that are none or have a sign that means nothing.
var nonsense = regexp.MustCompile(`<no value>|%!|\bNaN\b|\bInf\b|(^|[^0-9a-z.])-0(\.0*)?([^0-9.]|$)`)

// prove finds reasons not to record: a second run that differs, nonsense, a
// text that is empty or does not end its last line.
func prove(first, second files) []string {
	var faults []string
	for _, name := range names(first, second) {
		a, b := first[name], second[name]
		switch {
		case a != b:
			faults = append(faults, fmt.Sprintf("%s: two runs differ\n%s", name, diff("first", "second", a, b)))
		case !strings.HasSuffix(a, "\n"):
			faults = append(faults, name+": empty, or without an end to its last line")
		}
		for i, line := range strings.Split(a, "\n") {
			if found := nonsense.FindString(line); found != "" {
				faults = append(faults, fmt.Sprintf("%s:%d: %q in %q", name, i+1, found, line))
			}
		}
	}
	return faults
}

// differences names every file that is missing, too many or different.
func differences(want, got files) []string {
	var out []string
	for _, name := range names(want, got) {
		w, wanted := want[name]
		g, given := got[name]
		switch {
		case !given:
			out = append(out, name+": recorded, but nothing gives it any more")
		case !wanted:
			out = append(out, name+": comes out, but is not recorded (go test ./golden -update)")
		case w != g:
			out = append(out, fmt.Sprintf("%s: first differs at line %d\n%s", name, firstDifference(w, g), diff("recorded", "now", w, g)))
		}
	}
	return out
}

// names is the union of two sets of names, in order.
func names(a, b files) []string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return slices.Sorted(maps.Keys(all))
}

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

// diff is a unified diff, cut to what a person reads.
func diff(a, b, x, y string) string {
	const most = 40
	lines := strings.SplitAfter(udiff.Unified(a, b, x, y), "\n")
	if len(lines) > most {
		lines = append(lines[:most], fmt.Sprintf("… and %d lines more\n", len(lines)-most))
	}
	return strings.Join(lines, "")
}

// record makes a folder hold exactly these files.
func record(folder string, now files) error {
	old, err := readFiles(folder)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for _, name := range names(old, now) {
		path := filepath.Join(folder, name)
		if text, keep := now[name]; keep {
			err = os.WriteFile(path, []byte(text), 0o666)
		} else {
			err = os.Remove(path)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// readFiles reads a folder; one that is not there holds no files.
func readFiles(folder string) (files, error) {
	out := files{}
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return out, nil
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			return nil, err
		}
		out[e.Name()] = string(data)
	}
	return out, err
}
