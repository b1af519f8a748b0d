package timing_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const demo = "../../testdata/demo"

func demoMoves(t *testing.T, name string) (move.Batches, timing.Machine) {
	t.Helper()
	source, err := plan.Open(filepath.Join(demo, name), os.Stdin)
	if err != nil {
		t.Fatal(err)
	}
	var list diag.List
	l := layout.Resolve(plan.Read(source, nil, &list, new(diag.Sources)), layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	return expand.Batches(l, expand.Whole), timing.Machine{Acceleration: l.Cell.Machine.Acceleration.V}
}

func same(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %v, wanted %v", what, got, want)
	}
}

// Kinds, transfers and the rest are three ways to cut the same whole.
func TestSumsAgree(t *testing.T) {
	for _, name := range []string{"mortar-cubes.plan.yaml", "mortar-cubes-scale.plan.yaml", "cartons.plan.yaml", "odd-grids.plan.yaml", "tube-rack.plan.yaml"} {
		moves, m := demoMoves(t, name)
		r := timing.Measure(moves, m)
		kinds, legs, transfers := 0.0, r.Outside, 0
		for _, k := range r.Kinds {
			kinds += k.Seconds
		}
		for _, l := range r.Legs {
			legs += l.Mean * float64(l.Transfers)
			transfers += l.Transfers
			if l.Least > l.Mean+1e-9 || l.Most < l.Mean-1e-9 || l.Spread > l.Most-l.Least {
				t.Errorf("%s: %+v", name, l)
			}
		}
		same(t, name+": kinds", kinds, r.Seconds, 1e-9*r.Seconds)
		same(t, name+": legs", legs, r.Seconds, 1e-9*r.Seconds)
		if transfers != r.Transfers || r.Transfers == 0 {
			t.Errorf("%s: %d transfers, wanted %d", name, transfers, r.Transfers)
		}
		var csvText bytes.Buffer
		if err := timing.WriteCSV(&csvText, moves, m); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&csvText).ReadAll()
		if err != nil || len(rows) != r.Transfers+1 {
			t.Errorf("%s: %d lines of CSV, wanted %d (%v)", name, len(rows), r.Transfers+1, err)
		}
	}
}

func TestSlowestAreSorted(t *testing.T) {
	const listed = 10
	moves, m := demoMoves(t, "tube-rack.plan.yaml")
	var all []float64
	for timed := range timing.Times(moves, m) {
		if timed.Move.Kind.IsMotion() {
			all = append(all, timed.Seconds)
		}
	}
	slices.Sort(all)
	slices.Reverse(all)
	r := timing.Measure(moves, m)
	if len(r.Slowest) != listed {
		t.Fatalf("%d slowest, wanted %d", len(r.Slowest), listed)
	}
	for i, s := range r.Slowest {
		same(t, "slowest", s.Seconds, all[i], 1e-8)
		if i > 0 && r.Slowest[i-1].Seconds-s.Seconds < 1e-9 && s.Move.N < r.Slowest[i-1].Move.N {
			t.Errorf("of two equally slow ones the later stands first: %d, %d", r.Slowest[i-1].Move.N, s.Move.N)
		}
	}
}

// Parts going through a chain count once, and the outputs can be read.
func TestReportOfAChain(t *testing.T) {
	moves, m := demoMoves(t, "mortar-cubes.plan.yaml")
	r := timing.Measure(moves, m)
	if r.Parts != 23 || r.Transfers != 46 || len(r.Legs) != 2 {
		t.Errorf("%d parts, %d transfers, %d legs", r.Parts, r.Transfers, len(r.Legs))
	}
	var data bytes.Buffer
	if err := r.WriteJSON(&data, "x"); err != nil {
		t.Fatal(err)
	}
	var back struct {
		Seconds float64
		Kinds   []struct{ Seconds float64 }
	}
	if err := json.Unmarshal(data.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	same(t, "JSON's seconds", back.Seconds, r.Seconds, 0.0005)
	var table bytes.Buffer
	if err := r.WriteTable(&table, "x"); err != nil {
		t.Fatal(err)
	}
	for _, words := range []string{"an estimate", "23 parts in 46 transfers", "Not included"} {
		if !strings.Contains(table.String(), words) {
			t.Errorf("the table lacks %q:\n%s", words, table.String())
		}
	}
}
