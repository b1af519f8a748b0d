package render_test

import (
	"runtime"
	"strings"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// toSlots is a travel to every slot of a row of each grid, up and down.
func toSlots(columns int, grids ...string) []move.Move {
	var moves []move.Move
	for g, grid := range grids {
		for c := range columns {
			for _, above := range []bool{true, false} {
				m := travelTo(float64(10*c), float64(100*g), 50, geom.RPY{})
				m.N, m.Transfer = len(moves)+1, c+1
				m.Target = move.Target{Grid: grid, Slot: slot.Slot{Col: int32(c)}, Approach: above}
				moves = append(moves, m)
			}
		}
	}
	return moves
}

// Two texts that give one identifier are an error that names both, in whichever blocks
// and however far apart they are, and be it only for the case of a letter.
func TestNamesOfTwoTexts(t *testing.T) {
	f := ruled(t, "{{name .Target}}", "names: {longest: 40}")
	for _, c := range []struct {
		grids []string
		want  string
	}{
		{[]string{"tray-1", "rack"}, ""},
		{[]string{"tray-1", "tray_1"}, `p.yaml:3:1: "tray-1 A1 approach" and "tray_1 A1 approach" give the same identifier, "tray_1_A1_approach" [name-not-unique]` + "\n"},
		{[]string{"Tray", "tray"}, `p.yaml:3:1: "Tray A1 approach" and "tray A1 approach" give the same identifier, "tray_A1_approach" [name-not-unique]` + "\n"},
	} {
		for _, columns := range []int{3, 2000} {
			moves := toSlots(columns, c.grids...)
			if text, list := program(t, f, benchJob(), append(moves, moves...)...); found(list) != c.want {
				t.Errorf("%v: %s of\n%.200s", c.grids, found(list), text)
			}
		}
	}
	bath := travelTo(0, 0, 0, geom.RPY{})
	bath.Target = move.Target{Pose: "balance_pan"}
	if _, list := program(t, f, benchJob(), bath); !strings.Contains(found(list), `"balance-pan" and "balance_pan" give`) {
		t.Errorf("a pose with the identifier of a frame of another name: %s", found(list))
	}
}

// Under short names the names of points are made unique, whatever the number of cores,
// and a table of any length fits in "begin".
func TestPointNames(t *testing.T) {
	f := ruled(t, "{{.Point}} {{.PointNumber}} {{.X}} {{.Y}}\n{{end}}{{define \"begin\"}}{{range .Points}}{{.Name}} {{.Number}} {{.X}} {{.Y}}\n{{end -}}", "names: {longest: 8}")
	many := 12_000
	if testing.Short() {
		many = 2000 // several chunks
	}
	moves := toSlots(many, "incoming_plate", "incoming_rack")
	var first string
	for _, cores := range []int{1, 2} {
		before := runtime.GOMAXPROCS(cores)
		text, list := program(t, f, benchJob(), append(moves, moves...)...)
		runtime.GOMAXPROCS(before)
		if list.Len() > 0 {
			t.Fatal(found(list))
		}
		if first == "" {
			first = text
		}
		if text != first {
			t.Errorf("with %d cores the program is another", cores)
		}
	}
	lines := strings.Split(first, "\n")
	names := map[string]bool{}
	for i := range moves {
		name, _, _ := strings.Cut(lines[i], " ")
		if len(name) > 8 || names[strings.ToUpper(name)] {
			t.Fatalf("entry %d: %q", i+1, lines[i])
		}
		names[strings.ToUpper(name)] = true
		for k := 1; k <= 2; k++ {
			if lines[k*len(moves)+i] != lines[i] {
				t.Fatalf("move %d has %q, and its entry is %q", i+1, lines[k*len(moves)+i], lines[i])
			}
		}
	}
}

// A target that is gone to at two heights is two points.
func TestPointsOfOneTarget(t *testing.T) {
	f := ruled(t, "{{.Point}} {{.Z}}")
	moves := toSlots(1, "tray")
	higher := moves[0]
	higher.At.Z, higher.Base.Z = 60, 60
	text, list := program(t, f, benchJob(), moves[0], higher, moves[1], moves[0])
	want := "BEGIN\ntray_A1_approach 50.000\ntray_A1_approach_2 60.000\ntray_A1 50.000\ntray_A1_approach 50.000\nEND\n"
	if text != want || list.Len() > 0 {
		t.Errorf("%s\n%s, wanted\n%s", text, found(list), want)
	}
}
