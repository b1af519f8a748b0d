// Package bench compares writing a program with Gridferry to writing it by hand.
// .ci/bench measures and puts its tables into PERFORMANCE.md; the test here holds that
// all of them write the same bytes.
package bench

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/cmd/cli"
	"gridferry/golden/outside"
)

// program is what Gridferry writes for trays of so many rows.
func program(t testing.TB, folder string, rows int) []byte {
	t.Helper()
	var errs bytes.Buffer
	status := cli.Main([]string{"write", "trays.plan.yaml", "--family", "./family", "-o", folder, "--replace", "--quiet",
		"--set", fmt.Sprintf("grids.a.rows=%d", rows), "--set", fmt.Sprintf("grids.b.rows=%d", rows)}, strings.NewReader(""), &errs, &errs)
	text, err := os.ReadFile(filepath.Join(folder, "trays.lines"))
	if status != 0 || err != nil {
		t.Fatalf("status %d, %v\n%s", status, err, errs.String())
	}
	return text
}

// compared builds the comparison program.
func compared(t testing.TB) string {
	t.Helper()
	outside.Short(t)
	name := filepath.Join(t.TempDir(), "compare")
	if said, err := exec.Command("go", "build", "-o", name, "./compare").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	return name
}

// TestSameBytes: what is compared does the same work.
func TestSameBytes(t *testing.T) {
	const rows = 3
	want := program(t, t.TempDir(), rows)
	if n := bytes.Count(want, []byte("\n")); n != rows*100*12+5 {
		t.Errorf("the program has %d lines", n)
	}
	compare := compared(t)
	same := func(t *testing.T, got []byte) {
		t.Helper()
		if !bytes.Equal(got, want) {
			t.Errorf("%d bytes, wanted %d; they part at %d", len(got), len(want), partAt(got, want))
		}
	}
	t.Run("raw", func(t *testing.T) { same(t, outside.Run(t, "", want, compare, "raw")) })
	for _, way := range []string{"append", "fprintf", "template"} {
		t.Run(way, func(t *testing.T) { same(t, outside.Run(t, "", nil, compare, way, fmt.Sprint(rows))) })
	}
	for _, script := range []string{"loops.py", "fast.py"} {
		t.Run(script, func(t *testing.T) { same(t, outside.Run(t, "python3", nil, "python3", script, fmt.Sprint(rows))) })
	}
}

func partAt(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// BenchmarkWrite is the whole command beside the programs written by hand, for a
// thousand and a hundred thousand moves.
func BenchmarkWrite(b *testing.B) {
	compare := compared(b)
	for _, rows := range []int{1, 84} {
		moves := rows * 1200
		b.Run(fmt.Sprintf("gridferry/%d", moves), func(b *testing.B) {
			for b.Loop() {
				program(b, b.TempDir(), rows)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(moves), "ns/move")
		})
		for _, way := range []string{"append", "fprintf", "template"} {
			b.Run(fmt.Sprintf("%s/%d", way, moves), func(b *testing.B) {
				for b.Loop() {
					if err := exec.Command(compare, way, fmt.Sprint(rows)).Run(); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(moves), "ns/move")
			})
		}
	}
}
