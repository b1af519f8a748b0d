package gen_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// FuzzPlan reads any text as a plan, beside the demo cells, and goes through its
// first moves: nothing may panic, and what cannot be read must be reported.
//
//fuzz:2s
func FuzzPlan(f *testing.F) {
	const folder = "../testdata/demo"
	seeds := 0
	for _, pattern := range []string{folder + "/*.plan.yaml", "../testdata/bad/*.plan.*", "../testdata/bad/*.cell.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for i, file := range files {
			if testing.Short() && i%5 > 0 {
				continue
			}
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data, "", "")
			seeds++
		}
	}
	if seeds < 100 {
		f.Fatalf("only %d seeds: is the folder right?", seeds)
	}
	f.Add([]byte("a: 1"), "grids.tray.rows", "5")
	f.Add([]byte("{}"), "cell", "{tools: {}}")
	f.Fuzz(func(t *testing.T, data []byte, path, value string) {
		job := new(gen.Job)
		var settings []plan.Setting
		if path != "" {
			settings = append(settings, plan.Setting{Path: path, Value: value})
		}
		source := plan.Source{File: "fuzz", Data: data, Dir: folder}
		if !job.Read(source, settings, layout.Options{Slots: 2000}) && !job.Findings.HasErrors() {
			t.Error("the plan cannot be used, but nothing says why")
		}
		if err := diag.Print(io.Discard, job.Findings.Sorted(), &job.Sources, true); err != nil {
			t.Error(err)
		}
		if job.Findings.HasErrors() {
			return
		}
		n := 0
		for range job.Moves() {
			if n++; n == 1000 {
				return // too long to be checked for every text
			}
		}
		job.Check()
	})
}
