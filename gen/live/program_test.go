package live_test

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
)

// TestProgram: the program is the one that "write" writes, byte by byte; of one with several files the page shows all, and
// leaves it to "write" to make them.
func TestProgram(t *testing.T) {
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "..", "testdata", "demo"))); err != nil {
		t.Fatal(err)
	}
	own := filepath.Join("..", "..", "testdata", "families", "slipway")
	s := serveWith(t, own, folder, "mortar-cubes.plan.yaml", "")
	for family, files := range map[string]int{"listing": 1, "st": 1, own: 2} {
		source, err := plan.Open(filepath.Join(folder, "mortar-cubes.plan.yaml"), nil)
		if err != nil {
			t.Fatal(err)
		}
		var want bytes.Buffer
		j := new(gen.Job)
		j.Read(source, nil, layout.Options{Slots: layout.DefaultSlots})
		f, err := j.OpenFamily(family)
		if err != nil || j.Write(&want, f) != nil || j.Findings.HasErrors() {
			t.Fatal(err, j.Findings.Sorted())
		}
		if status, text := s.get("program?family=" + family); status != http.StatusOK || text != want.String() {
			t.Errorf("%s: %d, %d bytes, wanted %d", family, status, len(text), want.Len())
		}
		status, text := s.get("program?take=1&family=" + family)
		if one := status == http.StatusOK && text == want.String(); one != (files == 1) || !one && (status != http.StatusConflict || !strings.Contains(text, "gridferry write")) {
			t.Errorf("%s: %d %.200s", family, status, text)
		}
	}
}
