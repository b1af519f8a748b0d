package gen_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/draw"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/pattern"
	"gridferry/gen/scene"
	"gridferry/gen/slot"
)

// twisted is a pattern with no straight rows: every slot is turned by an angle of its
// own, and each row is bent.
type twisted struct{ pattern.Pattern }

func (p twisted) At(s slot.Slot) (geom.Vec, float64) {
	at, _ := p.Pattern.At(s)
	at.Y += float64(s.Col*s.Col) * 4
	return at, float64(s.Col*30 + 15)
}

func (p twisted) Lie(s slot.Slot) geom.Rot {
	_, turned := p.At(s)
	return geom.RotZ(turned)
}

func (p twisted) Bounds() (lo, hi geom.Vec) {
	lo, hi = p.Pattern.Bounds()
	for _, s := range p.Outline() {
		at, _ := p.At(s)
		lo, hi = lo.Min(at), hi.Max(at)
	}
	return lo, hi
}

func (p twisted) RowsIn(int, geom.Vec, geom.Vec) (int, int) {
	extent := p.Extent()
	return 0, extent.Rows - 1
}

func (p twisted) ColumnsIn(row, _ int, _, _ geom.Vec) (int, int) {
	extent := p.Extent()
	return 0, extent.Length(row) - 1
}

func (p twisted) Outline() []slot.Slot {
	var all []slot.Slot
	extent := p.Extent()
	for i := range extent.Size() {
		all = append(all, extent.Slot(i))
	}
	return all
}

func (p twisted) Form() pattern.Form { return pattern.Form{} }

// twistedJob is a plan that a pattern of no kind that there is lays out.
func twistedJob(t *testing.T) *gen.Job {
	t.Helper()
	text := strings.ReplaceAll(runPlan, "rows: 1, columns: 2", "rows: 2, columns: 3")
	j := jobOf(t, strings.ReplaceAll(text, "size: [20, 20, 20]", "size: [20, 12, 20]"))
	for _, g := range j.Layout.Grids {
		g.Pattern = twisted{g.Pattern}
	}
	if !j.Check() {
		t.Fatal(errorsOf(j))
	}
	return j
}

// Whatever a pattern says, the arm goes there and is turned as it says.
func TestAnyPatternIsMoved(t *testing.T) {
	j := twistedJob(t)
	seen := 0
	for m := range j.Moves() {
		if m.Target.Grid != "here" || !m.Kind.IsMotion() {
			continue
		}
		seen++
		at, turned := j.Layout.Grids[0].Pattern.At(m.Target.Slot)
		turn := m.At.RPY.Rot().T().Mul(geom.RotZ(turned).Mul(geom.RPY{Roll: 180}.Rot()))
		if m.At.X != at.X || m.At.Y != at.Y || turn.Angle() > 1e-9 {
			t.Errorf("%v is gone to at %v, wanted %v, turned by %g°", m.Target, m.At, at, turned)
		}
	}
	if seen != 18 {
		t.Errorf("%d motions at 6 slots, wanted 18", seen)
	}
}

// A picture shows every slot as it is turned, and no letters beside bent rows.
func TestAnyPatternIsDrawn(t *testing.T) {
	var b bytes.Buffer
	if err := twistedJob(t).Draw(&b, draw.Options{}); err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, m := range regexp.MustCompile(`href="#([\w-]*top-slot0[\w-]*)"`).FindAllStringSubmatch(b.String(), -1) {
		used[m[1]] = true
	}
	if len(used) != 3 {
		t.Errorf("the slots of three turns have %d shapes: %v", len(used), used)
	}
}

// The viewer finds every slot of a pattern where it is, and the loops write it out.
func TestAnyPatternIsWrittenOut(t *testing.T) {
	j := twistedJob(t)
	var data, loops bytes.Buffer
	for name, write := range map[string]func() error{
		"scene": func() error { return j.Scene(&data, nil, scene.Options{Moves: 1000, Slots: 1000}) },
		"loops": func() error { return j.Write(&loops, shipped(t, "loops")) },
	} {
		if err := write(); err != nil {
			t.Fatal(name, err)
		}
	}
	var shown scene.Scene
	if err := json.Unmarshal(data.Bytes(), &shown); err != nil || len(shown.Grids) != 2 {
		t.Fatal(err, len(shown.Grids))
	}
	for i, g := range j.Layout.Grids {
		at := shown.Grids[i].At
		if len(at) != 3*g.Size() || len(shown.Grids[i].Index) > 0 {
			t.Fatalf("the viewer has %d lengths of the slots of %q, wanted %d", len(at), g.Name, 3*g.Size())
		}
		for k := range g.Size() {
			s, found := g.Slot(k), geom.Vec{X: at[3*k], Y: at[3*k+1], Z: at[3*k+2]}
			if want := g.Frame.Base.Apply(g.At(s)); want.Dist(found) > 0.001 {
				t.Errorf("the viewer has %s of %q at %v, wanted %v", g.Label(s), g.Name, found, want)
			}
			at, turned := g.Pattern.At(s)
			line := fmt.Sprintf("slot[%d, %d] = (%g, %g, %g) TURNED ABOUT Z BY %g\n", s.Row+1, s.Col+1, at.X, at.Y, math.Round(at.Z), turned)
			if !strings.Contains(loops.String(), line) {
				t.Errorf("the loops lack %s", line)
			}
		}
	}
}

func TestOrderOfAnyPattern(t *testing.T) {
	if p := twistedJob(t).Order(layout.ByLength); len(p.Entries) != 1 || p.Entries[0].Parts != 6 {
		t.Errorf("got %+v", p.Entries)
	}
}

// The slots of a ring have their names beside them, where they lie too close for letters.
func TestRingIsNamed(t *testing.T) {
	text := strings.ReplaceAll(runPlan, "rows: 1, columns: 2, pitch: [40, 40], first: [300, 200, 20]", "first: [300, 200, 20], ring: {radius: 84, places: 24, turned: radial}")
	j := jobOf(t, strings.ReplaceAll(text, "size: [20, 20, 20]", "size: [15, 11, 20]"))
	if !j.Check() {
		t.Fatal(errorsOf(j))
	}
	var b bytes.Buffer
	if err := j.Draw(&b, draw.Options{}); err != nil {
		t.Fatal(err)
	}
	named := 0
	for k := range 24 {
		if strings.Contains(b.String(), fmt.Sprintf(">A%d</text>", k+1)) {
			named++
		}
	}
	if named < 20 || !strings.Contains(b.String(), ">A24</text>") {
		t.Errorf("%d of 24 slots are named", named)
	}
}
