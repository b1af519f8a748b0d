package fitfile_test

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/fitfile"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// FuzzSolve takes any text for a file or a table of touched points: nothing may panic,
// what carries no answer must be reported, every place lies within the text, and an answer
// can be written in every form.
func FuzzSolve(f *testing.F) {
	files, err := filepath.Glob(folder + "*")
	if err != nil || len(files) < 4 {
		f.Fatal("seeds are missing:", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for kind := range fitfile.Kinds {
			f.Add(data, uint8(kind), filepath.Ext(file) == ".csv")
		}
	}
	f.Add([]byte("name;x;y;z\norigin;1,5;2;3\nalong_x;100,25;2;3\ntoward_y;1;1,234;3\n"), uint8(0), true)
	f.Add([]byte("name,x,y,z\norigin,\"1,5\",2,3\nalong_x,\"1,234.5\",2,3\n"), uint8(0), true)
	f.Add([]byte("\ufeffslot,x,y,z\nA1,0,0,0\nA6,100,0,0\nD1,0,100,0\nD6,100,100,0\n"), uint8(2), true)
	f.Add([]byte("x,y,z,qw,qx,qy,qz\n1,2,3,1,0,0,0\n"), uint8(1), true)
	f.Fuzz(func(t *testing.T, data []byte, kind uint8, table bool) {
		name := "points.yaml"
		if table {
			name = "points.csv"
		}
		var list diag.List
		var sources diag.Sources
		q := fitfile.Request{Kind: fitfile.Kinds[int(kind)%len(fitfile.Kinds)]}
		a := fitfile.Solve(plan.Source{File: name, Data: data, Dir: folder}, q, &list, &sources)
		if a == nil && !list.HasErrors() {
			t.Error("there is no answer, but nothing says why")
		}
		lines := strings.Count(string(data), "\n") + strings.Count(string(data), "\r") + 2
		for _, finding := range list.Sorted() {
			if at := finding.Place; at.File == name && (at.Line < 0 || at.Col < 0 || at.Line > lines) {
				t.Errorf("%s: %s lies outside of the text", at, finding.Message)
			}
		}
		if err := diag.Print(io.Discard, list.Sorted(), &sources, true); err != nil {
			t.Error(err)
		}
		if a == nil {
			return
		}
		for _, write := range []func(io.Writer) error{a.Text, a.JSON, a.YAML} {
			if err := write(io.Discard); err != nil {
				t.Error(err)
			}
		}
	})
}
