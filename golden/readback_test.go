package golden

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/family/reads"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/wordaddress"
	"gridferry/plan"
)

// TestReadBackAgreesWithAnotherReader reads the word-address programs of 200
// random plans in two ways: by what the family says about its lines, and by our
// reader of NISTIR 6556, which knows nothing of families. Both must find the same
// events with the same figures.
func TestReadBackAgreesWithAnotherReader(t *testing.T) {
	f := shippedFamily(t, "iso6983")
	r := rand.New(rand.NewPCG(6556, 6983))
	compared := 0
	for i := range 200 {
		text := randomPlan(r)
		program := writeText(t, f, text)
		events, err := runWordAddress(program)
		if err != nil {
			t.Fatalf("plan %d: %v\n%s", i, err, text)
		}
		events = withoutZAlone(events) // it is one motion with the next
		items := readItems(f, program)
		if len(items) != len(events)-1 {
			t.Fatalf("plan %d: %d lines read as moves, another reader finds %d events and the end", i, len(items), len(events)-1)
		}
		for k, item := range items {
			if fault := unlike(item, events[k]); fault != "" {
				t.Fatalf("plan %d, line %d %q: %s", i, item.Line, item.Text, fault)
			}
			compared++
		}
	}
	if compared < 10_000 {
		t.Errorf("only %d events were compared", compared)
	}
}

// unlike says how an item and an event differ. Both come from the same figures,
// so that they must agree but for the rounding of one division by 60.
func unlike(item reads.Item, e wordaddress.Event) string {
	kinds := map[move.Kind]wordaddress.Kind{
		move.Travel: wordaddress.Traverse, move.Straight: wordaddress.Feed, move.Dwell: wordaddress.Dwell,
		move.Grip: wordaddress.Clamp, move.Release: wordaddress.Unclamp,
	}
	value := func(f reads.Field) float64 { return item.Number[f] }
	switch {
	case item.Line != e.Line:
		return fmt.Sprintf("another reader has line %d", e.Line)
	case kinds[item.Kind] != e.Kind:
		return fmt.Sprintf("reads as %s, another reader finds %s", item.Kind, e.Kind)
	case item.Kind == move.Dwell && value(reads.Time) != e.Seconds:
		return fmt.Sprintf("waits %g s, another reader finds %g s", value(reads.Time), e.Seconds)
	case item.Kind == move.Straight && math.Abs(value(reads.Speed)*60-e.Rate) > 1e-9*e.Rate:
		return fmt.Sprintf("%g mm/s, another reader finds %g mm/min", value(reads.Speed), e.Rate)
	case item.Kind.IsMotion() && (value(reads.X) != e.At.X || value(reads.Y) != e.At.Y || value(reads.Z) != e.At.Z || value(reads.Turn) != e.At.C):
		return fmt.Sprintf("goes to %g %g %g %g, another reader finds %+v",
			value(reads.X), value(reads.Y), value(reads.Z), value(reads.Turn), e.At)
	}
	return ""
}

func readItems(f *family.Family, program string) []reads.Item {
	var items []reads.Item
	r := reads.NewFilledReader(&f.Reads, move.Job{}, func(item *reads.Item) {
		if item.Means == reads.MeansMove {
			items = append(items, *item)
		}
	})
	r.Write([]byte(program))
	r.Close()
	return items
}

// writeText writes a plan that has to go through without a finding of level error.
func writeText(t *testing.T, f *family.Family, text string) string {
	t.Helper()
	job := new(gen.Job)
	source := plan.Source{File: "random.plan.yaml", Data: []byte(text), Dir: "."}
	var program bytes.Buffer
	if !job.Read(source, nil, layout.Options{Slots: layout.DefaultSlots}) {
		t.Fatalf("%+v\n%s", job.Findings.Sorted(), text)
	}
	if err := job.Write(&program, f); err != nil || job.Findings.HasErrors() {
		t.Fatalf("%v, %+v\n%s", err, job.Findings.Sorted(), text)
	}
	return program.String()
}

// randomPlan moves parts between two grids in turned frames.
func randomPlan(r *rand.Rand) string {
	between := func(lo, hi float64) string { return fmt.Sprintf("%.*f", r.IntN(5), lo+(hi-lo)*r.Float64()) }
	exact := func(lo, hi float64) string { return fmt.Sprintf("%.4f", lo+(hi-lo)*r.Float64()) }
	at := func() string {
		return fmt.Sprintf("[%s, %s, %s]", between(-500, 500), between(-500, 500), between(0, 200))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "format: gridferry plan 1\ntitle: %q\ncell:\n  format: gridferry cell 1\n  name: made up\n", between(0, 9)+") G0 X1 (")
	fmt.Fprintf(&b, "  tools:\n    jaw: {mass: %s, tcp: {at: [0, 0, %s]}, grip: {output: %d, level: on, settle: %s}, release: {output: 3, level: off, settle: %s}}\n",
		exact(0.1, 2), between(10, 200), r.IntN(9), exact(0.01, 3), exact(0.01, 3))
	fmt.Fprintf(&b, "  frames:\n    one: {at: %s, rpy: [0, 0, %s]}\n    two: {at: %s, rpy: [0, 0, %s]}\n", at(), between(-180, 180), at(), between(-180, 180))
	fmt.Fprintf(&b, "  poses: {clear: {at: %s, rpy: [180, 0, %s]}}\nparts: {peg: {mass: %s}}\n", at(), between(-180, 180), exact(0.001, 1))
	rows, columns := 1+r.IntN(3), 1+r.IntN(4)
	for _, g := range [][2]string{{"one", "all"}, {"two", "none"}} {
		fmt.Fprintf(&b, "%s {frame: %s, rows: %d, columns: %d, pitch: [%s, %s], first: [%s, %s, %s], part: peg, filled: %s}\n",
			map[string]string{"one": "grids:\n  from:", "two": "  to:"}[g[0]], g[0], rows, columns, between(20, 90), between(-90, -20),
			between(-99, 99), between(-99, 99), between(0, 99), g[1])
	}
	fmt.Fprintf(&b, "motion: {tool: jaw, approach: %s, speed: {travel: %s, near: %s}, fly_by: %s, clear: clear}\n",
		between(10, 99), between(100, 900), between(1, 99), between(0, 9))
	fmt.Fprintf(&b, "transfers:\n  - {from: from, to: to, order: %s}\n", []string{"by-row", "by-column", "serpentine"}[r.IntN(3)])
	return b.String()
}
