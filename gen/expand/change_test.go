package expand_test

import (
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
)

const changePlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  tools:
    jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}
    cup: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 2, level: on}, release: {output: 2, level: off}}
  poses: {clear: {at: [300, 0, 400]}, gate: {at: [300, 100, 200]}, stand: {at: [0, 300, 200]}}
parts: {block: {mass: 0.2, size: [20, 20, 20]}}
grids:
  tray: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [200, 0, 20], part: block, filled: all}
  rack: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [200, 200, 20]}
motion: {tool: jaw, approach: 50, speed: {travel: 300, near: 60}, fly_by: 5, clear: clear}
transfers:
  - {from: tray, to: rack}
  - {from: rack A1, to: tray A1, motion: {tool: cup, speed: {near: 40}}}
  - {from: tray A1, to: rack A1}
`

// TestChangeByHand: after a stop at which a person changes the tool the first motion, wherever it
// goes, has the speed near a slot of the entry that begins and ends in a stop; the next ones are as
// ever, and so are those after a change that the arm makes by itself.
func TestChangeByHand(t *testing.T) {
	fetches, leaves := "fetch: [{go: gate}, {line: stand}], ", "leave: [{go: gate}, {line: stand}], "
	tests := []struct {
		name     string
		jaw, cup string // more keys of the tools
		tcp      string // of the cup
		entry    string // more of the motion of entry 2
		want     string // from the stop before transfer 3
	}{
		{"equally long", "", "", "100", "", "to rack A1 approach 40 0, to rack A1 40 0, to rack A1 approach 40 5"},
		{"equally long, by a gate", "", "", "100", ", entry: [gate]", "to gate 40 0, to rack A1 approach 300 5, to rack A1 40 0"},
		{"longer", "", "", "130", "", "to clear 40 0, to rack A1 approach 300 5, to rack A1 40 0"},
		{"fetched, the other taken off by hand", "", fetches, "100", "", "to gate 40 0, to stand 40 0, to clear 300 0"},
		{"left, the other fitted by hand", leaves, "", "100", "", "to rack A1 approach 40 0, to rack A1 40 0"},
		{"by the arm alone", leaves, fetches, "100", "", "to gate 300 0, to stand 40 0, to clear 300 0"},
	}
	for _, tt := range tests {
		text := strings.NewReplacer("jaw: {", "jaw: {"+tt.jaw, "cup: {tcp: {at: [0, 0, 100]}, ", "cup: {tcp: {at: [0, 0, "+tt.tcp+"]}, "+tt.cup, "near: 40}", "near: 40}"+tt.entry).Replace(changePlan)
		l := laidOut(t, text)
		runs := []struct {
			name    string
			moves   move.Seq
			changes int // by hand, at the most
		}{
			{"whole job", expand.Moves(l), 2},
			{"resumed job", expand.Rest(l, expand.Start{Transfer: 2}), 2},
			{"last entry", expand.Rest(l, expand.Start{Transfer: 4}), 0}, // its tool is on the flange: the first motion is the program's own
		}
		for _, r := range runs {
			went, careful, found := behindChanges(r.moves)
			if r.changes == 0 && (len(went) > 0 || careful > 0) {
				t.Errorf("%s, %s: %d motions are taken for the first after a change, behind %q", tt.name, r.name, careful, went)
			}
			if r.changes > 0 && (len(went) != 2 || !strings.HasPrefix(went[0], tt.want) || careful != found) {
				t.Errorf("%s, %s: %d careful motions for %d changes by hand,\n%q\nwanted\n%s", tt.name, r.name, careful, found, went, tt.want)
			}
		}
		slow := provedOut(l)
		went, careful, found := behindChanges(slow)
		if len(went) != 2 || careful != found {
			t.Errorf("%s, prove-out: %d careful motions for %d changes by hand", tt.name, careful, found)
		}
		for m := range slow {
			if m.AfterHand && (m.FlyBy != 0 || m.Speed != 10 && m.Speed != 15) { // a quarter of 40 and 60
				t.Errorf("%s, prove-out: %s", tt.name, brief(&m))
			}
		}
	}
}

// behindChanges is the motions behind each select of another tool, up to the next; how many are marked as the first
// after a change by hand; and how many such changes there are.
func behindChanges(moves move.Seq) (went []string, careful, byHand int) {
	for m := range moves {
		if m.AfterHand {
			careful++
		}
		if m.ByHand {
			byHand++
		}
		switch n := len(went) - 1; {
		case m.Role == move.ChangeTool:
			went = append(went, "")
		case n >= 0 && m.Kind.IsMotion():
			went[n] = strings.TrimPrefix(went[n]+", "+brief(&m), ", ")
		}
	}
	return went, careful, byHand
}

// provedOut is the prove-out of a layout's whole job, nothing lifted.
func provedOut(l *layout.Layout) move.Seq {
	up := func(*move.Move) geom.Vec { return geom.Vec{Z: 1} }
	tools := make([]move.Tool, len(l.Tools))
	for i, t := range l.Tools {
		tools[i] = move.Tool{Number: t.Number, Name: t.Name, Mass: t.Mass}
	}
	return proveout.Moves(expand.Moves(l), proveout.Options{Speed: 250}, []move.Frame{{Number: 1, Name: "base"}}, tools, up)
}
