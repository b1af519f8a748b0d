package check

import (
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// forbidding is the crowded plan with a thick tool and keep-out boxes.
var forbidding = strings.NewReplacer(
	"mass: 1,", "mass: 1, radius: 12,",
	"  frames:", "  keep_out: {wall: {frame: askew, from: [-100, -100, 0], to: [300, -40, 200]}, post: {from: [-400, -100, 0], to: [-300, 0, 300]}, sheet: {from: [0, 0, 250], to: [600, 500, 250]}}\n  frames:",
).Replace(crowded)

// TestCheapLooksPassOverNothing moves the arm at random, turned in many ways and with
// parts from all grids in its gripper: whatever the exact looks find, the cheap ones let
// through, and mostly they let through no more.
func TestCheapLooksPassOverNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: of thousands of motions")
	}
	t.Parallel()
	l := layoutOf(t, forbidding)
	s, w := newScene(l), watchKeepOut(newContext(l, new(diag.List))).(*keepOutWatcher)
	var parts, boxes looks
	r := rand.New(rand.NewPCG(4, 4))
	for range 20000 {
		m := randomMotion(t, s, r)
		s.see(&m)
		_, _, hit := s.struckOn(false)
		parts.count(t, "parts", hit, s.mayHit(true, false))
		_, box, _ := w.hitOn(s)
		boxes.count(t, "boxes", box != nil, w.mayHit(s))
		s.apply(&m)
	}
	parts.sharp(t, "parts")
	boxes.sharp(t, "boxes")
}

// looks counts what exact looks find and cheap ones let through.
type looks struct{ found, let, all int }

func (l *looks) count(t *testing.T, what string, hit, may bool) {
	t.Helper()
	l.all++
	if hit {
		l.found++
	}
	if may {
		l.let++
	}
	if hit && !may {
		t.Fatalf("%s, motion %d: the cheap look passes over a hit", what, l.all)
	}
}

func (l *looks) sharp(t *testing.T, what string) {
	t.Helper()
	if l.found < l.all/50 || l.found > l.all*9/10 {
		t.Errorf("%s: %d of %d motions hit: the test proves little", what, l.found, l.all)
	}
	if l.let-l.found > (l.all-l.found)/3 {
		t.Errorf("%s: of %d motions that hit nothing, the cheap look lets %d through", what, l.all-l.found, l.let-l.found)
	}
}

// randomMotion leads somewhere above or between the grids, at times as the last one
// was turned; before some, the gripper takes a part or lets it go.
func randomMotion(t *testing.T, s *Scene, r *rand.Rand) move.Move {
	t.Helper()
	g := s.Grids[r.IntN(len(s.Grids))]
	at := g.Grid.Slot(r.IntN(g.Grid.Size()))
	work := move.Move{Kind: move.Release, Target: move.Target{Grid: g.Grid.Name, Slot: at, Layered: g.Grid.Layered()}}
	if !s.Gripper.Holds {
		work.Kind = move.Grip
	}
	if r.IntN(6) == 0 {
		s.see(&work)
		s.apply(&work)
		if s.Gripper.Holds {
			want := s.Grid.Grid.Held(at, s.Gripper.Part, s.Grid.lies.Way(s.Gripper.lies), &s.From.Turn)
			if s.Gripper.inTool != want {
				t.Fatalf("the part from %q is held at %v, wanted %v", work.Target, s.Gripper.inTool, want)
			}
		}
	}
	turn := geom.RPY{Roll: 180, Yaw: float64(r.IntN(8)) * 15}
	if r.IntN(4) == 0 {
		turn = geom.RPY{Roll: 150 + float64(r.IntN(5))*15, Pitch: float64(r.IntN(3)) * 10}
	}
	if s.To.Known && r.IntN(2) == 0 {
		turn = s.toward
	}
	near := g.Grid.Frame.Base.Apply(g.Grid.At(at))
	away := geom.Vec{X: r.NormFloat64() * 100, Y: r.NormFloat64() * 100, Z: 60 + r.NormFloat64()*80}
	return move.Move{Kind: move.Travel, ToolNumber: 1, Base: move.Point{Vec: near.Add(away), RPY: turn}}
}
