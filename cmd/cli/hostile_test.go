package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// What somebody may send to do harm: no plan makes the program panic, hang or
// use memory without bound, and every one gets an error with its place.

const hostileFolder = "../../testdata/hostile"

func TestHostilePlans(t *testing.T) {
	plans, err := filepath.Glob(filepath.Join(hostileFolder, "*.plan.yaml"))
	if err != nil || len(plans) < 40 {
		t.Fatalf("%d plans (%v), wanted 40 or more: is the folder right?", len(plans), err)
	}
	for _, plan := range plans {
		t.Run(filepath.Base(plan), func(t *testing.T) {
			data, err := os.ReadFile(plan)
			if err != nil {
				t.Fatal(err)
			}
			first, _, _ := strings.Cut(string(data), "\n")
			wantFound(t, plan, strings.TrimPrefix(first, "# found: "))
		})
	}
}

// wantFound checks a plan and asks for a finding under a rule, with a place in
// a file, whose message can be shown on any terminal.
func wantFound(t *testing.T, plan, rule string) {
	t.Helper()
	status, out := bounded(t, "check", "--format", "json", plan)
	var found []struct {
		File, Rule, Severity, Message string
		Line                          int
	}
	if err := json.Unmarshal([]byte(out), &found); err != nil {
		t.Fatalf("%v in %.200s", err, out)
	}
	wanted := false
	for _, f := range found {
		wanted = wanted || f.Rule == rule && f.Severity == "error" && f.File != "" && (f.Line > 0 || wholeFile[rule])
		if len(f.Message) > 1000 {
			t.Errorf("a message of %d bytes under %s", len(f.Message), f.Rule)
		}
	}
	if status != findings || !wanted {
		t.Errorf("status %d, wanted 1 and %q with a place; found %.2000s", status, rule, out)
	}
	wantPlainText(t, plan)
}

// wholeFile is the rules that speak of a file, not of a line.
var wholeFile = map[string]bool{"file-too-big": true, "empty-document": true}

// wantPlainText: what a terminal is shown can neither steer it nor turn the
// reading direction.
func wantPlainText(t *testing.T, plan string) {
	t.Helper()
	var out, err bytes.Buffer
	Main([]string{"check", "--color", "never", plan}, strings.NewReader(""), &out, &err)
	for _, c := range out.String() + err.String() {
		if c < ' ' && c != '\n' || c == 0x7f || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069 {
			t.Fatalf("the terminal is shown %U", c)
		}
	}
}

// bounded runs the command and fails when it takes a minute: that is no
// measure of speed, but of whether it ends.
func bounded(t *testing.T, args ...string) (status int, out string) {
	t.Helper()
	type result struct {
		status int
		out    string
	}
	done := make(chan result, 1)
	go func() {
		var out, err bytes.Buffer
		done <- result{Main(args, strings.NewReader(""), &out, &err), out.String()}
	}()
	select {
	case r := <-done:
		return r.status, r.out
	case <-time.After(time.Minute):
		t.Fatal("not done after a minute")
		return 0, ""
	}
}

// hostileHead is a sound plan up to its grids; the brackets are filled in.
const hostileCell = `format: gridferry plan 1
title: %s
cell:
  machine: {rated_load: 3, speed: 1000, acceleration: 1000, reach: {radius: [0, 1000000], height: [-1000, 100000]}}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  frames: {%s}
  poses: {clear: {at: [0, 0, 500]}}
  keep_out: {%s}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
  a: {frame: base, rows: 1000, columns: 1000, pitch: [10, 10], first: [0, 0, 0], part: p, filled: all}
  b: {frame: base, rows: 1000, columns: 1000, pitch: [10, 10], first: [0, 20000, 0], part: p}
motion: {tool: jaw, approach: 50, speed: {travel: 100, near: 10}, clear: clear}
transfers:
%s`

func hostilePlan(title, frames, boxes, transfers string) string {
	return fmt.Sprintf(hostileCell, title, frames, boxes, transfers)
}

// TestHugePlans are those that are too large to be kept as files. With -short they are
// smaller, and the largest is left out.
func TestHugePlans(t *testing.T) {
	const megabyte = 1 << 20
	many := func(n int) int {
		if testing.Short() {
			return n / 50
		}
		return n
	}
	long := strings.Repeat("x", many(10*megabyte))
	one := "  - {from: a A1, to: b A1}\n"
	for _, c := range []struct {
		name, plan, rule string // no rule: sound
	}{
		{"long title", hostilePlan(long, "", "", one), "text-too-long"},
		{"long name", hostilePlan("x", "? "+long+" : {at: [0, 0, 0]}", "", one), "bad-key"},
		{"long key", hostilePlan("x", "f: {at: [0, 0, 0], ? "+long+" : 1}", "", one), "bad-key"},
		{"long number", hostilePlan("x", "f: {at: ["+strings.Repeat("1", many(10*megabyte))+", 0, 0]}", "", one), "not-finite"},
		{"long unit", hostilePlan("x", "f: {at: [1 "+long+", 0, 0]}", "", one), "unknown-unit"},
		{"long stop", hostilePlan("x", "", "", "  - {from: a "+long+", to: b}\n"), "bad-selection"},
		{"long grid name", hostilePlan("x", "", "", "  - {from: "+long+", to: b}\n"), "unknown-name"},
		{"long comment", hostilePlan("x", "", "", one+"# "+long+"\n"), ""},
		{"many slots", hostilePlan("x", "", "", "  - {from: \"a "+strings.Repeat("A1,", many(900_000))+"A1\", to: b}\n"), "slot-repeated"},
		{"more slots than values", hostilePlan("x", "", "", "  - {from: \"a "+strings.Repeat("A1,", 3*megabyte)+"A1\", to: b}\n"), "too-many-values"},
		{"brackets", hostilePlan(strings.Repeat("[", many(900_000)), "", "", one), "nested-too-deep"},
		{"dashes", strings.Repeat("- ", many(900_000)) + "\n", "nested-too-deep"},
		{"unknown keys on a line", hostilePlan("x", "f: {at: [0, 0, 0], "+repeated("k#: 1", many(20_000))+"}", "", one), "unknown-key"},
		{"bad slots", hostilePlan("x", "", "", "  - {from: \"a "+repeated("?#", many(100_000))+"\", to: b}\n"), "bad-selection"},
		{"many transfers", hostilePlan("x", "", "", strings.Repeat("  - {from: a, to: b, take: 1}\n", many(100_000))), ""},
		{"transfers without end", hostilePlan("x", "", "", strings.Repeat("  - {from: a, to: b}\n  - {from: b, to: a}\n", 1000)), "too-many-transfers"},
		{"nested frames", hostilePlan("x", nested(many(100_000)), "", one), ""},
		{"frames at one spot", hostilePlan("x", repeated("f#: {at: [1, 0, 0], rpy: [0, 0, #]}", many(70_000)), "", one), ""},
		{"many boxes", hostilePlan("x", "", repeated("k#: {from: [#, -500, 0], to: [#, -400, 1000]}", many(70_000)), "  - {from: a, to: b, take: 2000}\n"), ""},
		{"unknown names", hostilePlan("x", "", "", strings.Repeat("  - {from: nowhere, to: b}\n", many(20_000))), "unknown-name"},
		{"16 MB and more", "# " + strings.Repeat("x", 20*megabyte), "file-too-big"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if testing.Short() && (c.rule == "too-many-values" || c.rule == "too-many-transfers") {
				t.Skip("skipped, as -short asks: one more than millions")
			}
			hugePlan(t, c.plan, c.rule)
		})
	}
}

func hugePlan(t *testing.T, text, rule string) {
	plan := filepath.Join(t.TempDir(), "huge.plan.yaml")
	if err := os.WriteFile(plan, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if rule != "" {
		wantFound(t, plan, rule)
	} else if status, out := bounded(t, "check", "--format", "json", plan); status != fine {
		t.Errorf("status %d, wanted a sound plan: %.1000s", status, out)
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.Sys > 4<<30 {
		t.Errorf("%d MB of memory are in use", m.Sys>>20)
	}
}

func nested(n int) string {
	return repeated("f#: {at: [1, 0, 0], parent: f+}", n-1) + fmt.Sprintf(", f%d: {at: [0, 0, 0]}", n)
}

// repeated is n items, in each of which # stands for its number and + for the
// next one.
func repeated(item string, n int) string {
	items := make([]string, n)
	for i := range items {
		items[i] = strings.NewReplacer("#", strconv.Itoa(i+1), "+", strconv.Itoa(i+2)).Replace(item)
	}
	return strings.Join(items, ", ")
}
