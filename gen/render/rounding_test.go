package render_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family/blocks"
	"gridferry/gen/geom"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// named is decimals in a hint.
var named = regexp.MustCompile(`(length|angle): [0-9]`)

const wholePose = "{{.X}} {{.Y}} {{.Z}} {{.Roll}} {{.Pitch}} {{.Yaw}}"

// decimals is a rule with so many for lengths and angles.
func decimals(length, angle int) string {
	return fmt.Sprintf("decimals: {length: %d, angle: %d, time: 2, speed: 1, mass: 2}", length, angle)
}

// withYaw is the bench with its bath turned, the frame of every move here.
func withYaw(yaw float64) move.Job {
	job := benchJob()
	job.Frames[1].Base.Yaw = yaw
	return job
}

func inBath(m move.Move) move.Move {
	m.Frame, m.FrameNumber = "bath", 2
	return m
}

// What rounding makes of a pose, worked out by hand. An inch is 25.4 mm: 40, 12 and 3 mm are
// 1.57, 0.47 and 0.12 inch, so that whole inches are 10.8, 12 and 3 mm off, together
// √(10.8² + 12² + 3²) = 16.42 mm. A frame that is written 0.04 degrees off takes a slot that
// lies 300 mm away 300·sin 0.04° = 0.2094 mm off; a turn about Z of 0.02 rad that is written
// as none is 1.146 degrees.
func TestRoundingTolerance(t *testing.T) {
	down := geom.RPY{Roll: 180}
	turned := func(yaw float64) geom.RPY { return geom.RPY{Roll: 180, Yaw: yaw} }
	tool := func(z float64) move.Job {
		job := benchJob()
		job.Tools[0].TCP.Z = z
		return job
	}
	held := func(m move.Move) move.Move { m.ToolNumber = 1; return m }
	const nothing = ""
	for _, c := range []struct {
		rules []string
		job   move.Job
		m     move.Move
		want  string // of the message and its hint; nothing else is found
	}{
		{[]string{"length_unit: inch", decimals(0, 3)}, benchJob(), travelTo(40, 12, 3, down), "with 0 decimals, lengths in inch take move 1 (travel to clear) 16.42 mm off where the plan has it, and the tolerance is 0.1 mm: length: 3"},
		{[]string{"length_unit: inch", decimals(2, 3)}, benchJob(), travelTo(0.127, 0, 0, down), "with 2 decimals, lengths in inch take move 1 (travel to clear) 0.127 mm off where the plan has it, and the tolerance is 0.1 mm: length: 3"},
		{[]string{"length_unit: inch", decimals(3, 3)}, tool(131.9873), held(travelTo(300.0127, 99.9873, 41.9873, down)), nothing},
		{[]string{"length_unit: inch", decimals(4, 3), "coordinates: frame"}, withYaw(33.3333), inBath(travelTo(300.0127, 99.9873, 41.9873, down)), nothing},

		// At the tolerance, and just past it.
		{[]string{decimals(0, 3)}, benchJob(), travelTo(10.1, 0, 0, down), nothing},
		{[]string{decimals(0, 3)}, benchJob(), travelTo(10.1001, 0, 0, down), "with 0 decimals, lengths in mm take move 1 (travel to clear) 0.1001 mm off where the plan has it, and the tolerance is 0.1 mm: length: 2"},
		{[]string{decimals(0, 3), "tolerance: {position: 0.25}"}, benchJob(), travelTo(10.25, 0, 0, down), nothing},
		{[]string{decimals(0, 3), "tolerance: {position: 0.01 inch}"}, benchJob(), travelTo(10.255, 0, 0, down), "with 0 decimals, lengths in mm take move 1 (travel to clear) 0.255 mm off where the plan has it, and the tolerance is 0.254 mm: length: 1"},
		{[]string{decimals(3, 0)}, benchJob(), travelTo(1, 2, 3, turned(30.05)), nothing},
		{[]string{decimals(3, 0)}, benchJob(), travelTo(1, 2, 3, turned(30.0501)), "with 0 decimals, angles in deg take move 1 (travel to clear) 0.0501 degrees off where the plan has it, and the tolerance is 0.05 degrees: angle: 2"},
		{[]string{decimals(3, 0), "tolerance: {orientation: 0.06}"}, benchJob(), travelTo(1, 2, 3, turned(30.0501)), nothing},
		{[]string{decimals(3, 0), "tolerance: {orientation: 0.0000000001}"}, benchJob(), travelTo(1, 2, 3, turned(0.25)), "with 0 decimals, angles in deg take move 1 (travel to clear) 0.25 degrees off where the plan has it, and the tolerance is 1e-10 degrees: no decimals do"},

		// The same turn in other units and forms.
		{[]string{"angle_unit: rad", decimals(3, 1)}, benchJob(), travelTo(1, 2, 3, geom.RPY{Yaw: 0.02 * 180 / math.Pi}), "with 1 decimal, angles in rad take move 1 (travel to clear) 1.146 degrees off where the plan has it, and the tolerance is 0.05 degrees: angle: 4"},
		{[]string{"angle_unit: rad", decimals(3, 3)}, benchJob(), travelTo(1, 2, 3, geom.RPY{Yaw: 0.0204 * 180 / math.Pi}), nothing},

		// A frame's angles swing what is written in it, and not what is in the base.
		{[]string{decimals(3, 1), "coordinates: frame"}, withYaw(0.04), inBath(travelTo(300, 0, 0, down)), "with 1 decimal, angles in deg take move 1 (travel to clear) 0.2094 mm off where the plan has it, and the tolerance is 0.1 mm: angle: 3"},
		{[]string{decimals(3, 1), "coordinates: frame"}, withYaw(0.04), inBath(travelTo(30, 0, 0, down)), nothing},
		{[]string{decimals(3, 1), "coordinates: base"}, withYaw(0.04), inBath(travelTo(300, 0, 0, down)), nothing},

		// A tool centre point is rounded, too.
		{[]string{decimals(0, 3)}, tool(132.4), held(travelTo(1, 2, 3, down)), "with 0 decimals, lengths in mm take move 1 (travel to clear) 0.4 mm off where the plan has it, and the tolerance is 0.1 mm: length: 2"},
		{[]string{decimals(0, 3)}, tool(132), held(travelTo(1, 2, 3, down)), nothing},

		// Both at once are two mistakes.
		{[]string{decimals(0, 0)}, benchJob(), travelTo(1.2, 2, 3, turned(0.4)), "with 0 decimals, lengths in mm take move 1 (travel to clear) 0.2 mm off where the plan has it, and the tolerance is 0.1 mm: length: 2\n" +
			"with 0 decimals, angles in deg take move 1 (travel to clear) 0.4 degrees off where the plan has it, and the tolerance is 0.05 degrees: angle: 2"},
	} {
		if got := coarseIn(t, ruled(t, wholePose, c.rules...), c.job, c.m); got != c.want {
			t.Errorf("%v, %v:\n got %s\nwant %s", c.rules, c.m.At, got, c.want)
		}
		rules := slices.Clone(c.rules)
		for _, hint := range named.FindAllStringSubmatch(c.want, -1) {
			for i := range rules {
				rules[i] = regexp.MustCompile(hint[1]+": [0-9]").ReplaceAllString(rules[i], hint[0])
			}
		}
		if got := coarseIn(t, ruled(t, wholePose, rules...), c.job, c.m); got != "" && !strings.Contains(got, "no decimals do") {
			t.Errorf("with the decimals that are named, %v: %s", rules, got)
		}
	}
}

// coarseIn is what is found about the rounding of one move, a line each: the message and
// the decimals that its hint names. Anything else that is found is a line, too.
func coarseIn(t *testing.T, f *blocks.Blocks, job move.Job, m move.Move) string {
	t.Helper()
	_, list := program(t, f, job, m)
	return coarseOf(list)
}

func coarseOf(list *diag.List) string {
	var lines []string
	for _, f := range list.Sorted() {
		hint, _, _ := strings.Cut(strings.TrimPrefix(f.Hint, "write \""), "\" under")
		hint, _, _ = strings.Cut(hint, ": say")
		lines = append(lines, f.Message+": "+hint)
		if f.Rule != "rounds-too-coarsely" {
			lines = append(lines, f.Rule)
		}
	}
	return strings.Join(lines, "\n")
}

// However an orientation is written, it is as far off as the written one turns from it: by
// the angle between two unit quaternions, 2 acos |p·q| (a textbook formula, from memory).
func TestRoundingOfOrientations(t *testing.T) {
	const a, b, c = 12.34, 41.23, -67.89
	exact := geom.RPY{Roll: a, Pitch: b, Yaw: c}
	w, x, y, z := exact.Rot().Quaternion()
	round := func(v float64) float64 { return math.Round(v*10) / 10 }
	between := func(p, q [4]float64) float64 {
		dot, n := 0.0, 0.0
		for i := range p {
			dot, n = dot+p[i]*q[i], n+q[i]*q[i]
		}
		return 2 * math.Acos(math.Min(1, math.Abs(dot)/math.Sqrt(n))) * 180 / math.Pi
	}
	of := func(r geom.Rot) [4]float64 {
		w, x, y, z := r.Quaternion()
		return [4]float64{w, x, y, z}
	}
	z1, y1, x1 := exact.Rot().EulerZYX()
	za, yb, zc := exact.Rot().EulerZYZ()
	v := exact.Rot().Vector()
	for _, k := range []struct {
		rotation, travel string
		written          [4]float64
	}{
		{"fixed-xyz", "{{.Roll}}", of(geom.RPY{Roll: round(a), Pitch: round(b), Yaw: round(c)}.Rot())},
		{"moving-zyx", "{{.Turn1}}", of(geom.RotZ(round(z1)).Mul(geom.RotY(round(y1))).Mul(geom.RotX(round(x1))))},
		{"moving-zyz", "{{.Turn1}}", of(geom.RotZ(round(za)).Mul(geom.RotY(round(yb))).Mul(geom.RotZ(round(zc))))},
		{"quaternion", "{{.QX}}", [4]float64{round(w), round(x), round(y), round(z)}},
		{"vector", "{{.RX}}", of(geom.RotFromVector(geom.Vec{X: round(v.X), Y: round(v.Y), Z: round(v.Z)}))},
	} {
		rules := []string{"decimals: {length: 3, angle: 1, time: 2, speed: 1, mass: 2, quaternion: 1}", "tolerance: {orientation: 0.001}", "rotation: " + k.rotation}
		got := coarseIn(t, ruled(t, k.travel, rules...), benchJob(), travelTo(0, 0, 0, exact))
		want := fmt.Sprintf(" %.4g degrees off", between([4]float64{w, x, y, z}, k.written))
		if !strings.Contains(got, want) {
			t.Errorf("%s: %q, wanted%s", k.rotation, got, want)
		}
	}
	// A vertical tool has one turn, and what no block asks for is not rounded.
	coarse := decimals(3, 1)
	for _, k := range []struct{ travel, want string }{{"{{.Turn}}", " 0.04 degrees off"}, {"{{.X}}", ""}} {
		m := travelTo(0, 0, 0, geom.RPY{Roll: 180, Yaw: 12.34})
		got := coarseIn(t, ruled(t, k.travel, coarse, "rotation: vertical", "tolerance: {orientation: 0.001}"), benchJob(), m)
		if !strings.Contains(got, k.want) || k.want == "" && got != "" {
			t.Errorf("%s: %q, wanted %q", k.travel, got, k.want)
		}
	}
}

// Rounding is followed over the whole list, and the pose that is furthest off is named once.
func TestFurthestOff(t *testing.T) {
	f := ruled(t, wholePose, decimals(0, 3))
	var moves []move.Move
	for i := range 3000 {
		m := travelTo(float64(i), 0, 0, geom.RPY{Roll: 180})
		m.N, m.Transfer = i+1, i/10
		if m.N%700 == 0 {
			m.At.X, m.Base.X = m.At.X+0.2, m.Base.X+0.2
		}
		if m.N == 2100 {
			m.Base.Y = 0.4
		}
		moves = append(moves, m)
	}
	_, list := program(t, f, benchJob(), moves...)
	if got := coarseOf(list); strings.Count(got, "off") != 1 || !strings.Contains(got, "move 2100 (travel to clear) 0.4472 mm off") {
		t.Error(got)
	}
}

// Loops reckon slots out of rounded steps: in steps of 9.0 for 9.04 mm the twentieth column
// is 19 × 0.04 = 0.76 mm off. Where offsets are written one by one each is rounded by itself,
// 9.04 to 9.0 and 11 × 9.04 = 99.44 to 99.4.
func TestRoundingOfLoops(t *testing.T) {
	for _, c := range []struct {
		columns  int
		decimals string
		want     string
	}{
		{20, "length: 1", "with 1 decimal, lengths in mm take slot tray A20 0.76 mm off"},
		{12, "length: 1", ""},
		{20, "length: 2", ""},
		{12, "length: 0", "with 0 decimals, lengths in mm take slot tray A12 0.44 mm off"},
		{-1, "length: 0", "with 0 decimals, lengths in mm take slot tray A1 0.5831 mm off"}, // off by 0.5, written 1, and 0.3, written 0: the root of 0.25 and 0.09
		{-2, "length: 0", "with 0 decimals, lengths in mm take slot tray A1 approach 0.4 mm off"},
	} {
		sub, err := fs.Sub(templates.FS, "loops")
		if err != nil {
			t.Fatal(err)
		}
		family := fstest.MapFS{}
		for _, name := range []string{"family.yaml", "head.tmpl", "loops.tmpl", "tables.tmpl"} {
			data, err := fs.ReadFile(sub, name)
			if err != nil {
				t.Fatal(err)
			}
			family[name] = &fstest.MapFile{Data: bytes.Replace(data, []byte("length: 3"), []byte(c.decimals), 1)}
		}
		tables := loops.Tables{
			Grids: []loops.Grid{{Name: "tray", Frame: "bath", FrameNumber: 2, Rows: 1, Columns: c.columns, Layers: 1, Turn: geom.RPY{Roll: 180}, Column: 9.04}},
		}
		switch g := &tables.Grids[0]; c.columns {
		case -1:
			g.Columns, g.Off = 1, []loops.Slot{{Row: 1, Column: 1, Layer: 1, At: geom.Vec{X: 0.5, Z: 0.3}}}
		case -2:
			g.Columns, g.Leads = 1, []loops.Lead{{Along: geom.Vec{Z: 1}, Distance: 50}, {Back: true, Distance: 49.4}}
		}
		var list diag.List
		var out bytes.Buffer
		none := slices.Values([]loops.Statement(nil))
		if err := render.ProgramWith(&out, load(t, family, "loops"), benchJob(), move.Batched(slices.Values(benchMoves())), &list, render.Options{Loops: &render.Loops{Tables: tables, Statements: none}}); err != nil {
			t.Fatal(err)
		}
		if got := coarseOf(&list); !strings.HasPrefix(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%d columns, %s: %q, wanted %q", c.columns, c.decimals, got, c.want)
		}
	}
}

// A figure that is not 0 must not become it: fly-by radii, loads and their moments of inertia, where they are written.
func TestNothingLeft(t *testing.T) {
	m := travelTo(1, 2, 3, geom.RPY{Roll: 180})
	m.FlyBy, m.Load, m.Spread = 0.4, 0.4, &move.Spread{Inertia: geom.Vec{X: 2, Y: 2, Z: 0.4}}
	for travel, want := range map[string]string{
		"{{.FlyBy}}":           "p.yaml:3:1: a figure rounds to nothing: 0.4 mm is written 0 [rounds-to-nothing]\n",
		"{{.Load}}":            "p.yaml:3:1: a figure rounds to nothing: 0.4 kg is written 0 [rounds-to-nothing]\n",
		"{{.InertiaX}}":        "p.yaml:3:1: a figure rounds to nothing: 0.4 kg*m2 is written 0 [rounds-to-nothing]\n",
		"{{.X}} {{.Y}} {{.Z}}": "",
	} {
		if _, got := travelled(t, ruled(t, travel, "decimals: {length: 0, angle: 0, time: 0, speed: 0, mass: 0, inertia: 0}"), benchJob(), m); got != want {
			t.Errorf("%s: %q, want %q", travel, got, want)
		}
	}
	m.Load, m.Spread = 0.0004, &move.Spread{Inertia: geom.Vec{X: 4e-7, Y: 4e-7, Z: 4e-7}} // of less than a gram, and a square millimetre of a kilogram, nothing is lost
	if _, got := travelled(t, ruled(t, "{{.Load}} {{.InertiaX}}"), benchJob(), m); got != "" {
		t.Error(got)
	}
}
