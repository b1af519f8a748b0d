package compare_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/compare"
	"gridferry/gen/move"
)

// inPairs makes the moves of parts that are taken two at once in one descent, and put down one
// after the other: of the pick, all belongs to the first but for the second grip.
func inPairs(columns ...int) []move.Move {
	var moves []move.Move
	for first := 1; first < len(columns); first += 2 {
		one := [][]move.Move{job(columns[first-1])[:11], job(columns[first])[:11]}
		for k, m := range one {
			for i := range m {
				m[i].Transfer, m[i].Group = first+k, first
			}
		}
		second := one[1][3]
		second.Transfer, second.Behind, second.Signal = first, 1, 2
		moves = append(moves, slices.Concat(one[0][:4], []move.Move{second}, one[0][4:], one[1][7:])...)
	}
	return append(moves, job(1)[11])
}

// TestGroups: every part of a group is a transfer, between plans and between programs.
func TestGroups(t *testing.T) {
	plan := func(m []move.Move) []move.Move { return m }
	tests := []struct {
		name, form string
		made       func([]move.Move) []move.Move
		change     func(m []move.Move) []move.Move
		want       string
	}{
		{"a plan", "", plan, plan, ""},
		{"a program", "text", plain, plan, ""},
		{"the second part goes elsewhere, in a plan", "", plan, move2to9, "tray A2>rack A9"},
		{"the second part goes elsewhere, in a program", "text", plain, move2to9, "position travel ×1; position straight ×2"},
		{"the second output, in a plan", "", plan, func(m []move.Move) []move.Move { m[4].Signal = 7; return m }, "signal grip at tray ×1"},
		{"the second output, in a program", "text", plain, func(m []move.Move) []move.Move { m[4].Signal = 7; return m }, "signal grip ×1"},
		{"a pair less, in a plan", "", plan, func(m []move.Move) []move.Move { return slices.Delete(m, 16, 32) }, "-2@3"},
		{"a pair less, in a program", "text", plain, func(m []move.Move) []move.Move { return slices.Delete(m, 16, 32) }, "-2@3"},
	}
	for _, tt := range tests {
		a := tt.made(inPairs(upTo(6)...))
		b := tt.change(inPairs(upTo(6)...))
		if i := slices.IndexFunc(b, func(m move.Move) bool { return m.Transfer > 4 }); len(b) < len(a) && i >= 0 {
			for k := i; k < len(b)-1; k++ { // numbered again
				b[k].Transfer, b[k].Group = b[k].Transfer-2, b[k].Group-2
			}
		}
		r := run(t, side("a", tt.form, 0.0005, a), side("b", tt.form, 0.0005, tt.made(b)))
		if got := inShort(r); got != tt.want || r.Transfers[0] != 6 {
			t.Errorf("%s: found %q among %v transfers, wanted %q", tt.name, got, r.Transfers, tt.want)
		}
	}
	// With one part at once the same transfers are made, in other moves.
	r := run(t, side("pairs", "", 0, inPairs(upTo(6)...)), side("singles", "", 0, job(upTo(6)...)))
	if r.Transfers != [2]int{6, 6} || r.Both != 6 || len(r.OnlyA)+len(r.OnlyB)+len(r.Elsewhere) > 0 || r.Changed != 3 {
		t.Errorf("with one at once: %+v, %s", r, inShort(r))
	}
}

// move2to9 has part 2 put into column 9.
func move2to9(m []move.Move) []move.Move {
	for i := range m {
		if m[i].Transfer == 2 && m[i].Target.Grid == "rack" {
			m[i].Target.Slot.Col, m[i].Base.X = 8, 450
		}
	}
	return m
}

// TestOpenedOnTheWay: a release over no slot, of a gripper that holds nothing, is no transfer,
// neither at the start, where one is opened after several motions, nor behind a change of tool.
func TestOpenedOnTheWay(t *testing.T) {
	clear := job(1)[0]
	opened := []move.Move{clear, clear, {Kind: move.Release, Role: move.OpenFirst, Signal: 1}}
	a := plain(slices.Concat(opened, job(1, 2)[:22], opened, job(3)))
	if r := run(t, side("a", "text", 0.0005, a), side("b", "text", 0.0005, a)); !r.Equal() || r.Both != 3 {
		t.Errorf("%d transfers of 3, %s", r.Both, inShort(r))
	}
	held := plain(job(1, 2)[6:]) // a resumed job that begins with its part
	if r := run(t, side("a", "text", 0.0005, held), side("b", "text", 0.0005, held)); r.Both != 2 {
		t.Errorf("%d transfers of 2, the first of which is held", r.Both)
	}
}

// TestReleaseTakenOut: where a program lacks a release, that is told, nothing differs behind the
// transfer whose grip ends the doubt, and no transfer is lost.
func TestReleaseTakenOut(t *testing.T) {
	a := job(upTo(6)...)
	b := slices.Delete(slices.Clone(a), 11*2+9, 11*2+10)
	r := run(t, side("a", "text", 0.0005, plain(a)), side("b", "text", 0.0005, plain(b)))
	if got := inShort(r); !strings.Contains(got, "only-a release ×1") || r.Transfers != [2]int{6, 6} || r.Both != 6 || r.Changed != 2 {
		t.Errorf("found %q among %v transfers, %d are not alike", got, r.Transfers, r.Changed)
	}
}

// TestAnyOrderOfGrips: grips, releases and motions in whatever order make groups that hold every
// step once, and such a program is the same as itself.
func TestAnyOrderOfGrips(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var m []move.Move
		for _, kind := range rapid.SliceOfN(rapid.SampledFrom([]move.Kind{move.Travel, move.Straight, move.Grip, move.Release, move.Dwell}), 1, 40).Draw(r, "kinds") {
			m = append(m, move.Move{Kind: kind, Signal: rapid.IntRange(1, 3).Draw(r, "output"), Base: at(float64(rapid.IntRange(0, 3).Draw(r, "x")), 0, 0)})
		}
		same := run(r, side("a", "text", 0.0005, m), side("b", "text", 0.0005, m))
		if !same.Equal() {
			r.Fatalf("found %q", inShort(same))
		}
		k := rapid.IntRange(0, len(m)-1).Draw(r, "changed")
		other := slices.Clone(m)
		other[k].Kind = move.Set
		if run(r, side("a", "text", 0.0005, m), side("b", "text", 0.0005, other)).Equal() {
			r.Fatalf("a step is compared with none")
		}
	})
}

// TestIDs: another part in a slot is told where both sides know ids, a part without one too.
func TestIDs(t *testing.T) {
	named := func(names ...string) []move.Move {
		m := job(upTo(len(names))...)
		for i := range m {
			if k := m[i].Transfer; k > 0 && names[k-1] != "" {
				m[i].ID = &names[k-1]
			}
		}
		return m
	}
	for _, tt := range []struct {
		a, b []move.Move
		want string
	}{
		{named("P1", "P2", "P3"), named("P1", "P2", "P3"), "the same: all 3 transfers"},
		{named("P1", "P2", "P3"), named("P1", "P9", "P3"), "rack: id \"P2\" becomes \"P9\" at rack A2, in transfer 2"},
		{named("P1", "P2", "P3"), named("P2", "P3", "P1"), "rack: id \"P1\" becomes \"P2\" at rack A1 and others, 3 times, in transfers 1 to 3"},
		{named("P1", "P2", ""), named("P1", "", ""), "rack: id \"P2\" becomes none at rack A2, in transfer 2"},
		{named("P1", "P2", "P3"), named("", "", ""), "the same: all 3 transfers"},
	} {
		if got := printed(t, tt.a, tt.b); !strings.Contains(got, tt.want+"\n") {
			t.Errorf("wanted %q in\n%s", tt.want, got)
		}
	}
	a, b := plain(named("P1", "P2")), plain(named("P1", "P9"))
	if r := run(t, side("a", "text", 0.0005, a), side("b", "text", 0.0005, b)); !r.Equal() {
		t.Errorf("programs: %s", inShort(r))
	}
}

// TestOneFigure: amounts that read alike are one figure, even where the ways differ.
func TestOneFigure(t *testing.T) {
	a, b := job(1, 2), job(1, 2)
	for i := range b {
		if b[i].Target.Grid == "tray" {
			b[i].Base.X += []float64{0, 0.25, -0.25}[b[i].Transfer]
		}
	}
	for _, r := range []struct{ by, want string }{{"as it is", "tray: moved by 0.250 mm, 6 times, in transfers 1 to 2\n"}, {"one farther", "tray: moved by 0.250 to 0.350 mm, most at tray A1 in transfer 1, "}} {
		if r.by == "one farther" {
			b[2].Base.X += 0.1
		}
		if got := printed(t, a, b); !strings.Contains(got, r.want) {
			t.Error(fmt.Sprintf("%s: wanted %q in\n", r.by, r.want), got)
		}
	}
	if got := inShort(run(t, side("a", "", 0, a), side("b", "", 0, b))); got != string(compare.Positions)+" tray ×6" {
		t.Error(got)
	}
}
