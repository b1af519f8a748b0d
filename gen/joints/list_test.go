package joints_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"gridferry/gen"
	"gridferry/gen/arm"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan"
)

// machine is an arm of a class, in the lines of a cell. All dimensions are invented.
type machine struct {
	name   string
	joints []string
	flange string
	clear  []float64 // readings at which it stands over its bench
	tilt   float64   // degrees, how far frames and tools may lean
	rare   bool      // hardly anything of it is solved quickly: few benches
}

var spherical = []string{
	"axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]",
	"axis: [0, 1, 0], point: [60, 0, 300], range: [-100, 130]",
	"axis: [0, 1, 0], point: [60, 0, 620], range: [-200, 70]",
	"axis: [1, 0, 0], point: [60, 0, 660], range: [-185, 185]",
	"axis: [0, 1, 0], point: [400, 0, 660], range: [-120, 120]",
	"axis: [1, 0, 0], point: [400, 0, 660], range: [-350, 350]",
}

const sphericalFlange = "{at: [480, 0, 660], rpy: [0, 90, 0]}"

var machines = []machine{
	{name: "spherical wrist", joints: spherical, flange: sphericalFlange, clear: []float64{0, 0, 0, 0, 90, 0}, tilt: 12},
	{name: "three parallel axes", joints: []string{
		"axis: [0, 0, 1], point: [0, 0, 0], range: [-360, 360]",
		"axis: [0, 1, 0], point: [0, 0, 160], range: [-200, 200]",
		"axis: [0, 1, 0], point: [360, 0, 160], range: [-170, 170]",
		"axis: [0, 1, 0], point: [700, 0, 160], range: [-360, 360]",
		"axis: [0, 0, -1], point: [700, 110, 160], range: [-360, 360]",
		"axis: [0, 1, 0], point: [700, 110, 80], range: [-360, 360]",
	}, flange: "{at: [700, 190, 80], rpy: [-90, 0, 0]}", clear: []float64{0, -80, 90, -100, -90, 0}, tilt: 12},
	{name: "four axes", joints: []string{
		"axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]",
		"axis: [0, 0, 1], point: [300, 0, 0], range: [-150, 150]",
		"slides: [0, 0, 1], range: [-450, 100]",
		"axis: [0, 0, 1], point: [600, 0, 0], range: [-350, 350]",
	}, flange: "{at: [600, 0, 550], rpy: [180, 0, 0]}", clear: []float64{20, 60, -100, 10}},
	{name: "gantry", joints: []string{
		"slides: [1, 0, 0], range: [-700, 900]", "slides: [0, 1, 0], range: [-900, 900]", "slides: [0, 0, 1], range: [-500, 100]",
		"axis: [0, 0, 1], point: [0, 0, 0], range: [-200, 200]",
	}, flange: "{at: [0, 0, 550], rpy: [180, 0, 0]}", clear: []float64{300, 0, 0, 10}},
	{name: "rail under six axes", joints: append([]string{"slides: [0, 1, 0], range: [-500, 500]"}, spherical...), flange: sphericalFlange,
		clear: []float64{100, 0, 0, 0, 0, 90, 0}, tilt: 12},
	{name: "six axes with a wrist that does not meet", joints: append(append([]string{}, spherical[:5]...),
		"axis: [1, 0, 0], point: [400, 25, 660], range: [-350, 350]"), flange: "{at: [480, 25, 660], rpy: [0, 90, 0]}", clear: []float64{0, 0, 0, 0, 90, 0}, tilt: 12, rare: true},
}

// bench is a plan of two tools, one with two zones, and grids of every kind, somewhere before a machine.
func (k machine) bench(r *rand.Rand) string {
	between := func(lo, hi float64) string { return fmt.Sprintf("%.3f", lo+float64((hi-lo)*r.Float64())) }
	lean := func() string { return between(-k.tilt, k.tilt) }
	frame := func() string {
		at := geom.RotZ(100*r.Float64() - 50).Apply(geom.Vec{X: 300 + 180*r.Float64(), Z: 40 + 60*r.Float64()})
		return fmt.Sprintf("{at: [%.3f, %.3f, %.3f], rpy: [%s, %s, %s]}", at.X, at.Y, at.Z, lean(), lean(), between(-180, 180))
	}
	rpy := func() string {
		return fmt.Sprintf("[%g, %s, %s]", 180+math.Round(k.tilt*r.Float64()), lean(), between(-180, 180))
	}
	readings := func() string {
		var all []string
		for _, v := range k.clear {
			all = append(all, fmt.Sprintf("%.3f", v+20*r.Float64()-10))
		}
		return "{joints: [" + strings.Join(all, ", ") + "]}"
	}
	var b strings.Builder
	p := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	p("format: gridferry plan 1\ncell:\n  format: gridferry cell 1\n  name: bench\n  arm:\n    joints:")
	for _, j := range k.joints {
		p("      - {%s}", j)
	}
	p("    flange: %s", k.flange)
	p("  tools:")
	p("    jaw: {tcp: {at: [%s, 0, 90], rpy: [0, 0, %s]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}", between(-5, 5), between(-180, 180))
	p("    twin:\n      tcp: {at: [0, 0, 110], rpy: [%s, %s, 0]}\n      mass: 0.7\n      zones:", lean(), lean())
	p("        left: {at: [-20, 0, 0], grip: {output: 2, level: on}, release: {output: 2, level: off}}")
	p("        right: {at: [20, 0, 0], rpy: [0, 0, 30], grip: {output: 3, level: on}, release: {output: 3, level: off}}")
	p("  frames: {near: %s, far: %s, table: %s}", frame(), frame(), frame())
	p("  poses:\n    clear: %s\n    door: %s\n    post: {frame: near, at: [20, 20, 150], rpy: %s}", readings(), readings(), rpy())
	p("parts: {peg: {mass: 0.1, size: [12, 12, 30]}}\ngrids:")
	p("  here: {frame: near, rows: 2, columns: 3, pitch: [40, 40], first: [0, 0, 10], rpy: %s, part: peg, filled: all}", rpy())
	p("  there: {frame: far, rows: 2, columns: 3, pitch: [35, 45], first: [0, 0, 10], rpy: %s, part: peg, motion: {along: tool, entry: [door, post]}}", rpy())
	p("  rotor: {frame: table, ring: {radius: 60, places: 6, start: %s, turned: radial}, first: [0, 0, 10], rpy: %s, part: peg, motion: {tool: twin, along: tool}}", between(-180, 180), rpy())
	p("  tray: {frame: table, rows: 1, columns: 4, pitch: [40, 40], first: [-60, 90, 10], rpy: %s, part: peg, filled: all, motion: {tool: twin}}", rpy())
	p("motion: {tool: jaw, approach: 30, speed: {travel: 500, near: 60}, fly_by: 5, clear: clear}")
	p("transfers:\n  - {from: here, to: there}\n  - {from: tray, to: rotor, at_once: 2}\n  - {from: there, to: here}")
	return b.String()
}

func read(t testing.TB, text string) *gen.Job {
	t.Helper()
	j := new(gen.Job)
	if !j.Read(plan.Source{File: "random.plan.yaml", Data: []byte(text), Dir: "."}, nil, layout.Options{}) {
		t.Fatalf("%v\n%s", j.Findings.Sorted(), text)
	}
	return j
}

// benches calls a test for some random benches of every machine.
func benches(t *testing.T, most int, test func(t *testing.T, k machine, text string)) {
	for i, k := range machines {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			n := most
			if k.rare {
				n = max(1, n/10)
			}
			for seed := range n {
				test(t, k, k.bench(rand.New(rand.NewPCG(uint64(i), uint64(seed)))))
			}
		})
	}
}

func size(whole, short int) int {
	if testing.Short() {
		return short
	}
	return whole
}

// motion is what was found of one.
type motion struct {
	move.Move
	joints arm.Readings
	has    bool
}

func motions(moves move.Batches) (all []motion) {
	for m := range move.Single(moves) {
		if !m.Kind.IsMotion() {
			continue
		}
		own := motion{Move: m}
		if own.has = m.Joints != nil; own.has {
			own.joints, own.Joints = *m.Joints, nil
		}
		all = append(all, own)
	}
	return all
}

// What is chosen where the preferred configuration is asked for alone is what is chosen of all.
func TestPreferredAlone(t *testing.T) {
	var alone atomic.Int32
	t.Run("benches", func(t *testing.T) {
		benches(t, size(60, 12), func(t *testing.T, k machine, text string) {
			l := read(t, text).Layout
			moves := expand.Batches(l, expand.Whole)
			ofAll, wholly := joints.ChooseOfAll(l, moves)
			if wholly {
				alone.Add(1)
			}
			if got, want := motions(joints.Choose(l, moves).Fill(moves)), motions(ofAll.Fill(moves)); !reflect.DeepEqual(got, want) {
				t.Fatalf("other joints are chosen where one configuration is asked for alone (%t)\n%s", wholly, text)
			}
		})
	})
	if t.Logf("%d benches in one configuration", alone.Load()); alone.Load() == 0 {
		t.Error("the test proves little")
	}
}

// Every motion that has joints ends where the list says, by the joints going forward, and as it has to; those
// that have none could not end so.
func TestEveryMotionEndsWhereTheListSays(t *testing.T) {
	benches(t, size(60, 4), func(t *testing.T, k machine, text string) {
		j := read(t, text)
		all := motions(j.Batches())
		seen, long := ends(t, j.Layout, k, all)
		if j.Check(); long && !j.Findings.HasErrors() {
			t.Error("a joint goes the long way on a straight, and nothing is found")
		}
		servable(t, j.Layout, all)
		if t.Failed() {
			t.Fatal(text)
		}
		if seen == 0 {
			t.Errorf("no motion has joints:\n%s", text)
		}
	})
}

// ends holds motions to their own poses, and the joints to their ranges and ways; it counts those that have joints,
// and says whether a joint has to go round by more than half a turn on a straight.
func ends(t *testing.T, l *layout.Layout, k machine, all []motion) (seen int, long bool) {
	t.Helper()
	byJoints := map[string]*arm.Readings{}
	for _, p := range l.Poses {
		if p.Joints != nil {
			byJoints[p.Name] = p.Joints
		}
	}
	for i := range all {
		m := &all[i]
		if given := byJoints[m.Target.Pose]; given != nil && (!m.has || m.joints != *given) {
			t.Errorf("%d to %q: %v, %t, wanted %v", m.N, m.Target, m.joints, m.has, *given)
		}
		if !m.has {
			continue
		}
		seen++
		tilt := 1e-6
		if len(k.joints) < 6 {
			tilt = joints.MostTilt
		}
		tcp := l.Arm.Pose(m.joints).Mul(l.Tools[m.ToolNumber-1].TCP)
		if way, turn := arm.Off(tcp, geom.At(m.Base.Vec, m.Base.RPY)); !(way <= 1e-6 && turn <= tilt) {
			t.Errorf("%d to %q: the TCP is %g mm and %g° off", m.N, m.Target, way, turn)
		}
		for n := range l.Arm.Joints {
			if joint := &l.Arm.Joints[n]; !(m.joints[n] >= joint.Lo-1e-6 && m.joints[n] <= joint.Hi+1e-6) {
				t.Errorf("%d to %q: %s is at %g", m.N, m.Target, joint.Name, m.joints[n])
			}
		}
		c, either := l.Arm.Configuration(m.joints)
		if c != m.Configuration {
			t.Errorf("%d to %q: said to be %q, is %q", m.N, m.Target, m.Configuration, c)
		}
		if m.Kind == move.Straight && i > 0 && all[i-1].has {
			before := &all[i-1]
			if _, edge := l.Arm.Configuration(before.joints); before.Configuration != c && edge|either == 0 {
				t.Errorf("%d to %q: from %q to %q on a straight", m.N, m.Target, before.Configuration, c)
			}
			for n := range l.Arm.Joints {
				way := math.Abs(m.joints[n] - before.joints[n])
				long = long || !l.Arm.Joints[n].Slides && way > joints.StraightMost
			}
		}
	}
	return seen, long
}

// solutions is all of a motion.
func solutions(l *layout.Layout, m *motion) []arm.Solution {
	return l.Arm.Solve(geom.At(m.Base.Vec, m.Base.RPY).Mul(l.Tools[m.ToolNumber-1].TCP.Inverse()), arm.Readings{}, nil)
}

// servable holds that a travel and the straights behind it have joints where one configuration serves for all of them.
func servable(t *testing.T, l *layout.Layout, all []motion) {
	t.Helper()
	if len(l.Arm.Configurations()) == 0 {
		return
	}
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && all[to].Kind == move.Straight {
			to++
		}
		serve := map[arm.Configuration]int{}
		for _, m := range all[from:to] {
			for c := range within(l, &m) {
				serve[c]++
			}
		}
		for c, n := range serve {
			for _, m := range all[from:to] {
				if n == to-from && !m.has {
					t.Errorf("%d to %q has no joints, but %q serves from %d to %d", m.N, m.Target, c, all[from].N, all[to-1].N)
				}
			}
		}
		from = to
	}
}

// within is the configurations of all solutions of a motion that lie inside the ranges.
func within(l *layout.Layout, m *motion) map[arm.Configuration]bool {
	found := map[arm.Configuration]bool{}
	for _, s := range solutions(l, m) {
		if r, ok := l.Arm.InRange(s.Readings, arm.Readings{}); ok {
			c, _ := l.Arm.Configuration(r)
			found[c] = true
		}
	}
	return found
}

// The list is the same on every pass, whatever the pieces in which it comes, and while others go through it.
func TestEveryPassIsTheSame(t *testing.T) {
	benches(t, size(6, 1), func(t *testing.T, _ machine, text string) {
		j := read(t, text)
		moves := expand.Batches(j.Layout, expand.Whole)
		choice := joints.Choose(j.Layout, moves)
		want := motions(choice.Fill(moves))
		again := joints.Choose(j.Layout, pieces(moves, 7))
		passes := map[string]move.Batches{
			"again": choice.Fill(moves), "in pieces": choice.Fill(pieces(moves, 3)), "chosen in pieces": again.Fill(moves),
			"one by one": again.Fill(pieces(moves, 1)), "by the job": j.Batches(), "of another reading": read(t, text).Batches(),
		}
		var wait sync.WaitGroup
		for name, pass := range passes {
			wait.Go(func() {
				if got := motions(pass); !reflect.DeepEqual(plain(got), plain(want)) {
					t.Errorf("%s: another list", name)
				}
			})
		}
		wait.Wait()
	})
}

// What is remembered of one pass over the list is what the next one would find.
func TestSolutionsAreRememberedAsTheyAreFound(t *testing.T) {
	benches(t, size(20, 1), func(t *testing.T, _ machine, text string) {
		j := read(t, text)
		moves := expand.Batches(j.Layout, expand.Whole)
		choice := joints.Choose(j.Layout, moves)
		want := motions(choice.Fill(moves))
		if choice.Forget(moves); !reflect.DeepEqual(plain(motions(choice.Fill(moves))), plain(want)) {
			t.Errorf("another list:\n%s", text)
		}
	})
}

// plain is what passes have to agree on.
func plain(all []motion) (lines []string) {
	for _, m := range all {
		lines = append(lines, fmt.Sprint(m.N, m.Target, m.Base, m.has, m.joints, m.Configuration))
	}
	return lines
}

// pieces is the same moves in batches of another size.
func pieces(moves move.Batches, size int) move.Batches {
	return func(yield func([]move.Move) bool) {
		var piece []move.Move
		for m := range move.Single(moves) {
			if piece = append(piece, m); len(piece) == size {
				if !yield(piece) {
					return
				}
				piece = nil
			}
		}
		if len(piece) > 0 {
			yield(piece)
		}
	}
}

// What holds of a whole job holds of its prove-out and of its rest.
func TestEveryRunEndsWhereItsListSays(t *testing.T) {
	for name, run := range map[string]gen.Run{
		"a prove-out":                  {ProveOut: &proveout.Options{Speed: 50, Lift: 40}},
		"a prove-out with parts":       {ProveOut: &proveout.Options{Speed: 50, Grips: true, Steps: true}},
		"a resumed job":                {Resume: &resume.Request{Transfer: 4}},
		"a prove-out of a resumed job": {ProveOut: &proveout.Options{Speed: 50, Lift: 25}, Resume: &resume.Request{Transfer: 7}},
	} {
		t.Run(name, func(t *testing.T) {
			benches(t, size(10, 1), func(t *testing.T, k machine, text string) {
				j := read(t, text)
				if !j.Prepare(run) {
					t.Fatal(j.Findings.Sorted())
				}
				all := motions(j.Batches())
				ends(t, j.Layout, k, all)
				servable(t, j.Layout, all)
				if len(all) == 0 || t.Failed() {
					t.Fatalf("%d motions\n%s", len(all), text)
				}
			})
		})
	}
}

// A pose at which the wrist is straight is of either configuration: the one that is kept through the job goes on
// there, and nothing changes.
func TestConfigurationGoesOnAtSingularPoses(t *testing.T) {
	at := readings([]float64{10, 20, -30, 0, 0, 0})
	a := read(t, withPose(t, "{at: [400, 0, 300]}", "front up up")).Layout.Arm
	flange := a.Pose(at)
	straight := flange.Mul(geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: 90}})
	rpy := straight.R.RPY()
	pose := fmt.Sprintf("{at: [%.12g, %.12g, %.12g], rpy: [%.12g, %.12g, %.12g]}", straight.T.X, straight.T.Y, straight.T.Z, rpy.Roll, rpy.Pitch, rpy.Yaw)
	for _, words := range []string{"front up up", "front up down"} {
		j := read(t, withPose(t, pose, words))
		straightened := false
		for m := range j.Moves() {
			if !m.Kind.IsMotion() {
				continue
			}
			if m.Joints == nil || m.Configuration.String() != words {
				t.Fatalf("%s: move %d ends at %v in %q", words, m.N, m.Joints, m.Configuration)
			}
			straightened = straightened || math.Abs(m.Joints[4]) < 1e-6
		}
		if !straightened {
			t.Errorf("%s: the wrist is never straight: the test has lost its point", words)
		}
	}
}

func readings(values []float64) (r arm.Readings) {
	copy(r[:], values)
	return r
}

// withPose is a plan whose clear pose is the given one and which asks for a configuration.
func withPose(t *testing.T, pose, words string) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "format: gridferry plan 1\ncell:\n  arm:\n    joints:\n")
	for _, j := range spherical {
		fmt.Fprintf(&b, "      - {%s}\n", j)
	}
	fmt.Fprintf(&b, "    flange: %s\n", sphericalFlange)
	fmt.Fprintf(&b, `  tools: {jaw: {tcp: {at: [0, 0, 90]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: %s}
parts: {peg: {mass: 0.1, size: [12, 12, 30]}}
grids:
  here: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [380, 0, 60], part: peg, filled: all}
  there: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [380, 120, 60], part: peg}
motion: {tool: jaw, approach: 30, speed: {travel: 500, near: 60}, clear: clear, configuration: %s}
transfers:
  - {from: here, to: there}
`, pose, words)
	return b.String()
}
