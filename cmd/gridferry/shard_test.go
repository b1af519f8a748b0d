//go:build unix

package main

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestShardsAsProcesses shares variants among processes, kills one in the middle, and runs it again: in the end every
// variant has its program, once, and the table has them all. GRIDFERRY_VARIANTS=10000 is the most that there may be.
func TestShardsAsProcesses(t *testing.T) {
	const shards = 16
	all, _ := strconv.Atoi(cmp.Or(os.Getenv("GRIDFERRY_VARIANTS"), "200"))
	folder := t.TempDir()
	plan, out := filepath.Join(folder, "small.plan.yaml"), filepath.Join(folder, "out")
	var heights []string
	for n := range all {
		heights = append(heights, fmt.Sprintf("%.2f", 20+float64(n)/100))
	}
	text := strings.ReplaceAll(bigPlan, "columns: 1000", "columns: 2") + "variants:\n  - {each: {motion.approach: [" + strings.Join(heights, ", ") + "]}}\n"
	if err := os.WriteFile(plan, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	shard := func(n int) []string {
		return []string{"vary", plan, "--family", "listing", "-o", out, "--shard", fmt.Sprintf("%d/%d", n, shards)}
	}
	killed := command(shard(7)...)
	if err := killed.Start(); err != nil {
		t.Fatal(err)
	}
	for begun := time.Now(); time.Since(begun) < time.Minute; time.Sleep(time.Millisecond) {
		if names, _ := filepath.Glob(filepath.Join(out, "shard-07-of-16", "approach-*", "*")); len(names) > 1 {
			break
		}
	}
	if err := killed.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	ended := killed.Wait()
	var running sync.WaitGroup
	for n := 1; n <= shards; n++ {
		if n != 7 {
			running.Go(func() {
				if said, err := command(shard(n)...).CombinedOutput(); err != nil {
					t.Errorf("%s: %v", said, err)
				}
			})
		}
	}
	running.Wait()
	merge := []string{"vary", plan, "--merge", "-o", out, "--format", "csv"}
	if said, err := command(merge...).CombinedOutput(); ended != nil && (err == nil || !strings.Contains(string(said), "the shard 7/16 has no table")) {
		t.Errorf("%v: %s", err, said)
	}
	if said, err := command(shard(7)...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v", said, err)
	}
	table, err := command(merge...).Output()
	if err != nil {
		t.Fatalf("%s: %v", table, err)
	}
	programs, _ := filepath.Glob(filepath.Join(out, "shard-*", "*", "*.txt"))
	rows, err := csv.NewReader(strings.NewReader(string(table))).ReadAll()
	if err != nil || len(rows) != all+1 || len(programs) != all {
		t.Fatalf("%d rows and %d programs, wanted a head and %d: %v", len(rows), len(programs), all, err)
	}
	for i, row := range rows[1:] {
		if row[1] != "motion.approach="+heights[i] || row[2] != "written" {
			t.Errorf("row %d is %q", i+1, row)
		}
		if _, err := os.Stat(filepath.Join(out, filepath.FromSlash(row[len(row)-2]))); err != nil {
			t.Error(err)
		}
	}
}
