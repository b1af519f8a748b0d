package check_test

import (
	"encoding/json"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/pattern"
	"gridferry/plan/diag"
)

// watched is the slots of a plan after all rules have seen its moves.
func watched(t *testing.T, text string) (*check.Slots, []diag.Finding) {
	t.Helper()
	var list diag.List
	l := resolve(text, &list)
	if list.HasErrors() {
		t.Fatal(errorsOf(&list))
	}
	slots := check.NewSlots(l)
	check.Run(l, expand.Batches(l, expand.Whole), &list, slots)
	return slots, list.Sorted()
}

func TestMapsOfTheExample(t *testing.T) {
	slots, _ := watched(t, manual.ExamplePlan)
	var b strings.Builder
	if err := slots.WriteMaps(&b, 80); err != nil {
		t.Fatal(err)
	}
	want := `tray, 2 × 3: 6 before, 1 after; transfers 1 to 5 change it
    before      after
    1 2 3       1 2 3
  A # # #     A . . .
  B # # #     B . . #
    changed by transfer
    1 2 3
  A 1 2 3
  B 4 5 .

rack, 2 × 3: 0 before, 3 after; transfers 1 to 3 change it
    before      after
    1 2 3       1 2 3
  A . . .     A # # #
  B . . .     B . . .
    changed by transfer
    1 2 3
  A 1 2 3
  B . . .

pile, 1 × 2 × 2: 0 before, 2 after; transfers 4 to 5 change it
  layer 1
    before      after
    1 2         1 2
  A . .       A # .
    changed by transfer
    1 2
  A 4 .
  layer 2
    before      after
    1 2         1 2
  A . .       A # .
    changed by transfer
    1 2
  A 5 .

# a part, . free, blank: no slot
`
	if b.String() != want {
		t.Errorf("got\n%s\nwanted\n%s", b.String(), want)
	}
}

// A row that ends before the longest one leaves the map empty there.
func TestMapOfUnequalRows(t *testing.T) {
	g := &layout.Grid{Name: "ring", Extent: pattern.Uneven([]int{2, 4}, 1), Full: layout.NewSlots(6)}
	g.Full.Add(1)
	g.Full.Add(5)
	slots := check.Slots{Grids: []*check.GridSlots{{Grid: g, Before: g.Full, After: g.Full}}}
	var b strings.Builder
	if err := slots.WriteMaps(&b, 80); err != nil {
		t.Fatal(err)
	}
	want := `ring, 2 × 2 to 4: 2 before, 2 after; no transfer changes it
    before
    1 2 3 4
  A . #
  B . . . #

# a part, . free, blank: no slot
`
	if b.String() != want {
		t.Errorf("got\n%s\nwanted\n%s", b.String(), want)
	}
}

// TestMapsFit: whatever the grids and the screen, no line is too long, and a
// large grid is thinned.
func TestMapsFit(t *testing.T) {
	text := strings.NewReplacer(
		"  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60]", "  tray: {frame: left,  rows: 120, columns: 150, pitch: [0.5, 0.6]",
		"rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}", "rows: 120, columns: 150, pitch: [0.5, 0.6], first: [30, 30, 15], part: block}",
		`{from: "tray A1:A3", to: "rack A1:A3"}`, `{from: tray, to: rack}`,
		`{from: "tray B1:B2", to: "pile A1.1, A1.2"}`, `{from: "rack DP150", to: "tray A1"}`,
	).Replace(manual.ExamplePlan)
	slots, _ := watched(t, text)
	for _, width := range []int{0, 40, 60, 80, 100, 200} {
		var b strings.Builder
		if err := slots.WriteMaps(&b, width); err != nil {
			t.Fatal(err)
		}
		fits := width
		if width == 0 {
			fits = 120
		}
		lines := strings.Split(b.String(), "\n")
		if len(lines) > 300 {
			t.Errorf("width %d: %d lines", width, len(lines))
		}
		for _, line := range lines {
			if len([]rune(line)) > fits && !strings.Contains(line, "before,") {
				t.Errorf("width %d: a line has %d characters: %s", width, len([]rune(line)), line)
			}
		}
		if !strings.Contains(b.String(), "…") || !strings.Contains(b.String(), "18000,18001") {
			t.Errorf("width %d: nothing is left out, or the last slot is:\n%s", width, b.String())
		}
	}
}

// TestSlotsThatChangeOften tells a slot that two transfers change from one that many do:
// nothing there reads as a range of transfers.
func TestSlotsThatChangeOften(t *testing.T) {
	text := strings.Replace(manual.ExamplePlan, `  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`,
		`  - {chain: ["tray B1:B3", "pile A1.1", rack B1:B3], advance: part}
  - {from: rack A1, to: tray A1}
  - {from: tray A1, to: rack A1}`, 1)
	slots, _ := watched(t, text)
	var b strings.Builder
	if err := slots.WriteMaps(&b, 80); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"            1         2         3\n  A 1…11 (3×)         2         3\n  B         4         6         8\n", // the tray
		"  A 1…11 (3×)         2         3\n  B         5         7         9\n",
		"           1        2\n  A 4…9 (6×)        .\n",
		"no slot\n7…20 (3×): transfer 7 is the first and 20 the last of 3 that change the slot\n",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("wanted\n%s\nin\n%s", want, &b)
		}
	}
	var data strings.Builder
	if err := slots.WriteJSON(&data, nil); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`{"slot":"A1","before":true,"after":false,"first":1,"last":11,"times":3}`, `{"slot":"B1","before":true,"after":false,"first":4,"last":4,"times":1}`} {
		if !strings.Contains(data.String(), want) {
			t.Errorf("wanted %s in\n%s", want, &data)
		}
	}
}

func TestSlotsAsJSON(t *testing.T) {
	text := strings.Replace(manual.ExamplePlan, "settle: 0.4", "settle: 0", 1)
	slots, findings := watched(t, text)
	var b strings.Builder
	if err := slots.WriteJSON(&b, findings); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Findings []struct{ Rule string }
		Grids    []struct {
			Name          string
			Before, After int
			Slots         []struct {
				Slot          string
				Before, After bool
				First, Last   int
			}
		}
	}
	if err := json.Unmarshal([]byte(b.String()), &got); err != nil {
		t.Fatalf("%v in\n%s", err, b.String())
	}
	if len(got.Findings) != 1 || got.Findings[0].Rule != "settle-missing" || len(got.Grids) != 3 {
		t.Fatalf("findings %v, %d grids", got.Findings, len(got.Grids))
	}
	tray := got.Grids[0]
	if b1 := tray.Slots[3]; b1.Slot != "B1" || !b1.Before || b1.After || b1.First != 4 || b1.Last != 4 || tray.Before != 6 || tray.After != 1 {
		t.Errorf("tray %+v", tray)
	}
}

func TestNoSlotsAreStillJSON(t *testing.T) {
	var b strings.Builder
	if err := new(check.Slots).WriteJSON(&b, nil); err != nil || !json.Valid([]byte(b.String())) {
		t.Errorf("%v: %s", err, b.String())
	}
}

// TestEntrySeesWhatTheOneBeforeLeft: the first entry moves one part on and on
// within its own grid, so that the second finds more free slots than the first
// one named.
func TestEntrySeesWhatTheOneBeforeLeft(t *testing.T) {
	text := strings.NewReplacer(
		"part: block, filled: all}", `part: block, filled: "A1:A2"}`,
		"rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}", `rows: 1, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: "A1:A2"}`,
		`{from: "tray A1:A3", to: "rack A1:A3"}`, `{from: "rack A1, A2, A3", to: "pile A1.1, A2.1, A1.2"}`,
		`{from: "tray B1:B2", to: "pile A1.1, A1.2"}`, `{from: tray, to: rack}`,
	).Replace(manual.ExamplePlan)
	text = strings.Replace(text, `{from: "rack A1, A2, A3", to: "pile A1.1, A2.1, A1.2"}`, `{from: "rack A2, A3", to: "rack A3, A2"}`, 1)
	slots, findings := watched(t, text)
	for _, f := range findings {
		t.Errorf("%s: %s", f.Place, f.Message)
	}
	if got := occupied(slots); !got["rack A1"] || !got["rack A2"] || !got["rack A3"] {
		t.Errorf("the end is %v, wanted the rack to be full", got)
	}
}

func TestManual(t *testing.T) {
	var text, data strings.Builder
	if err := manual.Manual(check.Pages()).Write(&text); err != nil {
		t.Fatal(err)
	}
	if err := manual.Manual(check.Pages()).WriteJSON(&data); err != nil {
		t.Fatal(err)
	}
	var pages []struct{ Rule, Severity, Doc, Bad, Good string }
	if err := json.Unmarshal([]byte(data.String()), &pages); err != nil {
		t.Fatal(err)
	}
	for n, f := range check.Pages() {
		if !strings.Contains(text.String(), "\n"+f.Name+" ("+f.Severity.String()+")\n") {
			t.Errorf("the manual does not mention %s", f.Name)
		}
		if pages[n].Rule != f.Name || f.Unshown == "" && len(findings(t, pages[n].Bad)) == 0 {
			t.Errorf("page %d is of %s, wanted %s with a bad plan", n, pages[n].Rule, f.Name)
		}
	}
	for _, line := range strings.Split(text.String(), "\n") {
		if strings.TrimRight(line, " ") != line {
			t.Errorf("blanks at the end of %q", line)
		}
	}
}
