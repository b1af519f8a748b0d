package arm

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/geom"
)

// fewKind is a class of arms in a line. All dimensions are invented.
type fewKind struct {
	name   string
	joints string // of each joint T (turns) or S (slides), and its axis: x, y, z, or o for an oblique one
	apart  bool   // the points of the joints lie in no plane
	wrist  int    // from this joint on, counted from 1, the points of three are one
}

var fewKinds = []fewKind{
	{name: "slide", joints: "Sx"},
	{name: "turn", joints: "Tz"},
	{name: "gantry", joints: "Sx Sy Sz"},
	{name: "oblique gantry", joints: "Sx So Sz"},
	{name: "gantry with a turn", joints: "Sx Sy Sz Tz"},
	{name: "gantry with C", joints: "Sy Sx Sz Tz Ty"},
	{name: "gantry with a wrist", joints: "Sx Sy Sz Tz Ty Tz"},
	{name: "gantry with an oblique wrist", joints: "Sx Sy Sz Tz To Tx"},
	{name: "table and head", joints: "Tz Sx Sy Sz Ty"},
	{name: "planar", joints: "Tz Tz Tz"},
	{name: "turn, turn, slide, turn", joints: "Tz Tz Sz Tz"},
	{name: "turn, turn, turn, slide", joints: "Tz Tz Tz Sz"},
	{name: "slide, turn, turn, turn", joints: "Sz Tz Tz Tz"},
	{name: "turn, slide, turn, turn", joints: "Tz Sz Tz Tz"},
	{name: "turn, slide up, slide out, turn", joints: "Tz Sz Sx Tz"},
	{name: "turn, slide out, slide up, turn", joints: "Tz Sx Sz Tz"},
	{name: "turn, slide out, oblique, turn", joints: "Tz Sx So Tz"},
	{name: "two slides before two turns", joints: "Sz Sx Tz Tz"},
	{name: "turn, slide", joints: "Tz Sx"},
	{name: "turn, slide, turn", joints: "Tz So Tz"},
	{name: "slide, turn, turn", joints: "So Tz Tz"},
	{name: "upright with a turn", joints: "Tz Ty Ty Tz"},
	{name: "upright, three parallel, roll", joints: "Tz Ty Ty Ty Tx"},
	{name: "upright, three parallel, roll, pointing up", joints: "Tz Ty Ty Ty Tz"},
	{name: "the same, apart", joints: "Tz Ty Ty Ty Tz", apart: true},
	{name: "upright, three parallel", joints: "Tz Ty Ty Ty", apart: true},
	{name: "two upright, three level", joints: "Tz Tz Ty Ty Ty", apart: true},
	{name: "two upright, two level", joints: "Tz Tz Ty Ty", apart: true},
	{name: "two upright, slide, two level", joints: "Tz Tz Sz Ty Ty", apart: true},
	{name: "two upright, oblique slide, two level", joints: "Tz So Tz Ty Ty", apart: true},
	{name: "two upright, two level with a slide", joints: "Tz Tz Ty So Ty", apart: true},
	{name: "two upright, two level with a slide out", joints: "Tz Tz Ty Sx Ty", apart: true},
	{name: "two upright, two level, slide, roll", joints: "Tz Tz Ty Ty Sx Tx", apart: true},
	{name: "two upright, slide, two level, roll", joints: "Tz Tz So Ty Ty Tx", apart: true},
	{name: "two oblique directions", joints: "Tz To To", apart: true},
	{name: "three oblique directions", joints: "Tz To Tx", apart: true},
	{name: "cylindrical with a wrist", joints: "Tz Sz Sx Tz Ty Tx", wrist: 4},
	{name: "polar with a wrist", joints: "Tz Ty Sx Tx Tz Tx", wrist: 4},
	{name: "polar with a wrist, apart", joints: "Tz Ty Sx Tx Tz Tx", apart: true, wrist: 4},
	{name: "polar, oblique", joints: "Tz Ty So Tx Tz Tx", wrist: 4},
	{name: "slide between", joints: "Tz So Ty Tx Tz Tx", wrist: 4},
	{name: "slide first", joints: "So Tz Ty Tx Tz Tx", wrist: 4},
	{name: "two slides and a wrist", joints: "Sx Sy Tx Tz Tx Tz", wrist: 4},
	{name: "two upright, slide, wrist", joints: "Tz Tz Sz Tx Ty Tx", wrist: 4},
	{name: "four directions", joints: "Tz Ty Tx To", apart: true},
	{name: "four directions and a slide", joints: "Tz Ty Sx Tx Tz", wrist: 4},
	{name: "five directions, the last two meet", joints: "Tz Ty Tx Tz Ty", wrist: 4},
	{name: "five directions, the first two meet", joints: "Tz Ty Tz Tx Ty", apart: true, wrist: 1},
	{name: "five directions, apart", joints: "Tz Ty Tx To Ty", apart: true},
	{name: "wrist first", joints: "Tx Tz Tx Sx Tz Ty", wrist: 1},
}

// make builds the arm of a kind.
func (k fewKind) make(t testing.TB) *Arm {
	t.Helper()
	axes := map[byte]geom.Vec{'x': {X: 1}, 'y': {Y: 1}, 'z': {Z: 1}, 'o': {X: 0.48, Y: 0.6, Z: 0.64}}
	var joints []Joint
	var at geom.Vec
	for i := 0; i < len(k.joints); i += 3 {
		j := Joint{Name: "J" + strconv.Itoa(i/3+1), Slides: k.joints[i] == 'S', Axis: axes[k.joints[i+1]], Lo: -180, Hi: 180}
		if j.Slides {
			j.Lo, j.Hi = -300, 300
		}
		if n := i/3 + 1; k.wrist == 0 || n <= k.wrist || n > k.wrist+2 {
			at = at.Add(geom.Vec{X: 200 + 10*float64(i), Z: 70 - 5*float64(i)})
			if k.apart {
				at.Y += 31
			}
		}
		j.Point = at
		joints = append(joints, j)
	}
	a, err := New(joints, geom.At(at.Add(geom.Vec{X: 60, Y: 25, Z: 40}), geom.RPY{Roll: 20, Pitch: 30, Yaw: 40}))
	if err != nil {
		t.Fatalf("%s: %v", k.name, err)
	}
	return a
}

// ofKind builds the arm of a kind.
func ofKind(t testing.TB, name string) *Arm {
	for _, k := range fewKinds {
		if k.name == name {
			return k.make(t)
		}
	}
	t.Fatalf("there is no kind %q", name)
	return nil
}

// anyReadings are readings within the ranges.
func (a *Arm) anyReadings(r *rand.Rand) (readings Readings) {
	for i := range a.Joints {
		j := &a.Joints[i]
		readings[i] = j.Lo + (j.Hi-j.Lo)*r.Float64()
	}
	return readings
}

// Readings that made a pose are among its solutions, and each solution makes it.
func TestFewJointsAreFoundAgain(t *testing.T) {
	for _, k := range fewKinds {
		t.Run(k.name, func(t *testing.T) {
			a, r := k.make(t), rand.New(rand.NewPCG(1, 2))
			var room [64]Solution
			most := 0
			for n := range k.cases(t, a, 3000) {
				want := a.anyReadings(r)
				flange := a.Pose(want)
				list := a.Solve(flange, Readings{}, room[:0])
				most = max(most, len(list))
				if !isAmong(a, list, want) {
					t.Errorf("case %d of %s: %v is not among %v", n, a.Class(), want, list)
				}
				for _, one := range list {
					if way, turn := Off(a.Pose(one.Readings), flange); way > 1e-10*a.length*2 || turn > 1e-7 {
						t.Errorf("%v is off by %v mm and %v°", one, way, turn)
					}
				}
				if t.Failed() {
					return
				}
			}
			t.Logf("%s: up to %d solutions", a.Class(), most)
		})
	}
}

// Poses that were lost once: close to where two solutions become one, and where the made-up joints of six can be moved.
func TestFewJointsLostOnce(t *testing.T) {
	for _, c := range []struct {
		kind string
		r    Readings
	}{
		{"two upright, two level, slide, roll", Readings{89.07995195593242, 174.05944544614476, 93.54525571740385, 86.39885795237535, 213.4828759803545, 127.08830190959702}},
		{"five directions, the last two meet", Readings{114.34932965513394, 139.17422999704934, 0.861352436543001, 150.78235615589773, 129.2039876317511}},
		{"four directions", Readings{-16.65610919454386, -58.906660202900156, 23.303840364392585, 56.20753352335797}},
	} {
		a := ofKind(t, c.kind)
		if list := a.Solve(a.Pose(c.r), Readings{}, nil); !isAmong(a, list, c.r) {
			t.Errorf("%s: %v is not among %v", c.kind, c.r, list)
		}
	}
}

// cases is how many poses a law is tried on; a search takes long.
func (k fewKind) cases(t *testing.T, a *Arm, usual int) int {
	if strings.Contains(a.Class(), "search") {
		return arms(t, usual) / 30
	}
	return arms(t, usual)
}

// So are readings of many zeros and right angles, where joints are in line, stretched, folded and free: what was there is the
// nearest of all that are free.
func TestFewJointsAreFoundAgainSquare(t *testing.T) {
	for _, k := range fewKinds {
		t.Run(k.name, func(t *testing.T) {
			a, d := k.make(t), roll(11)
			var room [64]Solution
			for range k.cases(t, a, 600) {
				var want Readings
				for i := range a.Joints {
					want[i] = d.of(180, 0, 90, -90, 180)
				}
				if list := a.Solve(a.Pose(want), want, room[:0]); !isAmong(a, list, want) {
					t.Errorf("%s: %v is not among %v", a.Class(), want, list)
				}
			}
		})
	}
}

// isAmong says whether readings are among solutions, or so near to one that nothing tells them apart.
func isAmong(a *Arm, list []Solution, want Readings) bool {
	all := solutions{arm: a, flange: a.Pose(want), list: list}
	for _, one := range list {
		if size(a.way(one.Readings, want)) < 1e-5 {
			return true
		}
	}
	return all.listed(Solution{Readings: want})
}
