package golden

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/num/quat"
)

// Facts from outside the project, held through real plans: each names its source.

// factCell is a cell without limits, with the frames that are given.
const factCell = `cell:
  tools:
    cup:
      tcp: {at: [0, 0, 80]}
      mass: 0.3
      grip: {output: 1, level: on, settle: 0.5}
      release: {output: 1, level: off, settle: 0.5}
  frames: {%s}
`

// factPlan writes a plan for a test and gives its name. Grids and transfers are
// lines of YAML.
func factPlan(t *testing.T, frames, grids, transfers string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "fact.plan.yaml")
	text := "format: gridferry plan 1\n" + fmt.Sprintf(factCell, frames) +
		"parts: {p: {mass: 0.001}}\ngrids:\n" + grids +
		"motion: {tool: cup, approach: 30, speed: {travel: 200, near: 40}}\ntransfers:\n" + transfers
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

// slotsOf is where the arm goes down to at each slot of a grid, from a list of moves.
func slotsOf(moves []listed, grid string) map[string]*listed {
	at := map[string]*listed{}
	for i := range moves {
		name, slot, found := strings.Cut(moves[i].Target, " ")
		if found && name == grid && moves[i].Action == "straight" && !strings.Contains(slot, " ") {
			at[slot] = &moves[i]
		}
	}
	return at
}

// Plate of the three layouts of ANSI/SLAS 4-2004: wells, pitch and the place of A1
// from the plate's left and top edges, in mm; length and width from ANSI/SLAS 1-2004.
const plateLength, plateWidth = 127.76, 85.48

var plates = []struct {
	wells, rows, columns int
	pitch, left, top     float64
	last                 string  // the last well
	x, y                 float64 // of it, from the left and top edges
}{
	{96, 8, 12, 9, 14.38, 11.24, "H12", 113.38, 74.24},
	{384, 16, 24, 4.5, 12.13, 8.99, "P24", 115.63, 76.49},
	{1536, 32, 48, 2.25, 11.005, 7.865, "AF48", 116.755, 77.615},
}

// plateMoves carries every part of one plate to a second one, so that every well
// is gone to. The frame lies in the bottom left corner of the plate, Y up: rows
// step towards it.
func plateMoves(t *testing.T, i int) map[string]*listed {
	t.Helper()
	p := plates[i]
	grid := func(name, frame, filled string) string {
		return fmt.Sprintf("  %s: {frame: %s, rows: %d, columns: %d, pitch: [%g, %g], first: [%g, %g, 10], part: p, filled: %s}\n",
			name, frame, p.rows, p.columns, p.pitch, -p.pitch, p.left, plateWidth-p.top, filled)
	}
	plan := factPlan(t, "one: {at: [200, -150, 0]}, two: {at: [200, 50, 0]}", grid("from", "one", "all")+grid("to", "two", "none"), "  - {from: from, to: to}\n")
	return slotsOf(listMoves(t, plan), "from")
}

// TestPlatesOfTheStandard holds grids that are written by hand to ANSI/SLAS 4-2004:
// last wells, the centring of the wells on the footprint, and row letters.
func TestPlatesOfTheStandard(t *testing.T) {
	for i, p := range plates {
		at := plateMoves(t, i)
		if len(at) != p.wells {
			t.Fatalf("the plate of %d wells has %d", p.wells, len(at))
		}
		first, last := at["A1"], at[p.last]
		if last == nil {
			t.Fatalf("the plate of %d wells has no %s", p.wells, p.last)
		}
		// From the top left edges, as the standard counts.
		near(t, p.last+" from the left", last.X, p.x)
		near(t, p.last+" from the top", plateWidth-last.Y, p.y)
		near(t, "A1 from the left", first.X, p.left)
		near(t, "A1 from the top", plateWidth-first.Y, p.top)
		// The wells are centred: the last is as far from the right and bottom edges.
		near(t, "centring along the length", first.X+last.X, plateLength)
		near(t, "centring along the width", first.Y+last.Y, plateWidth)
		near(t, "offset along the length", first.X, (plateLength-float64(p.columns-1)*p.pitch)/2)
		near(t, "offset along the width", plateWidth-first.Y, (plateWidth-float64(p.rows-1)*p.pitch)/2)
		// In the base: the frame stands at (200, -150).
		near(t, "A1 in the base", first.BaseX, 200+p.left)
		near(t, "A1 in the base", first.BaseY, -150+plateWidth-p.top)
	}
}

// TestPlatesNest: each well of 96 is the mean of a block of 2 by 2 wells of 384, and
// each of 384 that of a block of 1536 (arithmetic on ANSI/SLAS 4-2004).
func TestPlatesNest(t *testing.T) {
	coarse := plateMoves(t, 0)
	for i := 1; i < len(plates); i++ {
		fine := plateMoves(t, i)
		for row := range plates[i-1].rows {
			for col := range plates[i-1].columns {
				var x, y float64
				for k := range 4 {
					at := fine[well(2*row+k/2, 2*col+k%2)]
					x, y = x+at.X/4, y+at.Y/4
				}
				name := well(row, col)
				near(t, name, x, coarse[name].X)
				near(t, name, y, coarse[name].Y)
			}
		}
		coarse = fine
	}
}

// well names a well as the trade does: letters, after Z two of them, and a number.
// 1536 wells end with AF48 in the most common practice; no standard fixes it.
func well(row, col int) string {
	letters := string(rune('A' + row%26))
	if row >= 26 {
		letters = "A" + letters
	}
	return fmt.Sprintf("%s%d", letters, col+1)
}

// TestRowLetters: Z is row 26, AA row 27, AF row 32, and AG is refused.
func TestRowLetters(t *testing.T) {
	at := plateMoves(t, 2)
	for name, row := range map[string]int{"A1": 1, "Z1": 26, "AA1": 27, "AF1": 32} {
		near(t, name, plateWidth-at[name].Y, 7.865+float64(row-1)*2.25)
	}
	plan := factPlan(t, "", "  a: {frame: base, rows: 32, columns: 48, pitch: [2.25, 2.25], first: [0, 0, 0], part: p, filled: all}\n  b: {frame: base, rows: 1, columns: 1, first: [200, 0, 0], part: p}\n",
		"  - {from: a AG1, to: b}\n")
	if r := run("moves", plan); r.status != 1 || !strings.Contains(r.stderr, "[slot-outside-grid]") {
		t.Errorf("row AG of 32 rows is not refused: %s", r.stderr)
	}
}

// TestStandardKeyword: what "standard:" stands for is what the standard says, from
// every corner of the plate.
func TestStandardKeyword(t *testing.T) {
	for _, p := range plates {
		for corner, want := range map[string][4]float64{ // A1 and the last well, in a frame at that corner, X right and Y up
			"top-left":     {p.left, -p.top, p.x, -p.y},
			"bottom-left":  {p.left, plateWidth - p.top, p.x, plateWidth - p.y},
			"top-right":    {p.left - plateLength, -p.top, p.x - plateLength, -p.y},
			"bottom-right": {p.left - plateLength, plateWidth - p.top, p.x - plateLength, plateWidth - p.y},
		} {
			plan := factPlan(t, "f: {at: [300, 0, 0]}",
				fmt.Sprintf("  plate: {frame: f, standard: ansi-slas-%d, corner: %s, height: 10, part: p, filled: all}\n  rest: {frame: base, rows: 1, columns: 2, pitch: [9, 0], first: [500, 0, 0], part: p}\n", p.wells, corner),
				fmt.Sprintf("  - {from: \"plate A1, %s\", to: rest}\n", p.last))
			at := slotsOf(listMoves(t, plan), "plate")
			near(t, corner+" A1", at["A1"].X, want[0])
			near(t, corner+" A1", at["A1"].Y, want[1])
			near(t, corner+" "+p.last, at[p.last].X, want[2])
			near(t, corner+" "+p.last, at[p.last].Y, want[3])
		}
	}
}

// TestHexagonalRows: rows p·√3/2 apart and shifted by p/2 give six neighbours at the
// distance p (geometry); for p = 10 the rows are 8.6602540 apart, for 9, 7.7942286.
func TestHexagonalRows(t *testing.T) {
	for pitch, rows := range map[float64]float64{10: 8.6602540, 9: 7.7942286} {
		plan := factPlan(t, "", fmt.Sprintf("  a: {frame: base, rows: 3, columns: 3, pitch: [%g, %g], stagger: %g, first: [200, 0, 0], part: p, filled: all}\n", pitch, rows, pitch/2)+
			"  b: {frame: base, rows: 3, columns: 3, pitch: [30, 30], first: [400, 0, 0], part: p}\n", "  - {from: a, to: b}\n")
		at := slotsOf(listMoves(t, plan), "a")
		for _, neighbour := range []string{"A2", "A3", "B1", "B3", "C2", "C3"} { // of B2
			d := math.Hypot(at["B2"].X-at[neighbour].X, at["B2"].Y-at[neighbour].Y)
			if math.Abs(d-pitch) > 1e-6 {
				t.Errorf("pitch %g: B2 and %s are %.7f apart", pitch, neighbour, d)
			}
		}
	}
}

// TestTouchedFrame: published corners of a calibration object, nominal cube of
// 250 mm, and where a tracker saw them (Johns Hopkins course 600.455/655,
// programming assignment 1, data set "debug-a", rounded to 0.01 mm). Three corners
// make the frame; the fourth one is then found where it was seen.
func TestTouchedFrame(t *testing.T) {
	plan := factPlan(t, "f: {three_points: {origin: [208.01, 209.60, 209.48], along_x: [458.00, 211.11, 208.25], toward_y: [206.47, 459.57, 205.80]}}",
		"  a: {frame: f, rows: 1, columns: 1, first: [0, 0, 250], part: p, filled: all}\n  b: {frame: base, rows: 1, columns: 1, first: [500, 0, 0], part: p}\n",
		"  - {from: a, to: b}\n")
	at := slotsOf(listMoves(t, plan), "a")["A1"]
	for i, c := range []struct{ got, computed, published float64 }{
		{at.BaseX, 209.2176, 209.21}, {at.BaseY, 213.2874, 213.28}, {at.BaseZ, 459.4499, 459.45},
	} {
		if math.Abs(c.got-c.computed) > 0.0005 || math.Abs(c.got-c.published) > 0.015 {
			t.Errorf("axis %d: %.4f, wanted %.4f and near the published %.2f", i, c.got, c.computed, c.published)
		}
	}
}

// TestNestedFramesAgainstQuaternions chains frames with gonum's quaternions, which
// know nothing of the project's matrices.
func TestNestedFramesAgainstQuaternions(t *testing.T) {
	type frame struct{ at, rpy [3]float64 }
	chain := []frame{{[3]float64{100, -50, 20}, [3]float64{10, 20, 30}}, {[3]float64{7, 8, 9}, [3]float64{-120, 5, 77}}, {[3]float64{1, 2, 3}, [3]float64{180, 0, -90}}}
	frames, parent := "", "base"
	q, at := quat.Number{Real: 1}, quat.Number{}
	for i, f := range chain {
		name := fmt.Sprintf("f%d", i)
		frames += fmt.Sprintf("%s: {parent: %s, at: [%g, %g, %g], rpy: [%g, %g, %g]}, ", name, parent, f.at[0], f.at[1], f.at[2], f.rpy[0], f.rpy[1], f.rpy[2])
		parent = name
		at = quat.Add(at, turnedBy(q, f.at))
		q = quat.Mul(q, quaternion(f.rpy))
	}
	grid := frame{[3]float64{40, 50, 60}, [3]float64{170, 15, 25}}
	at, q = quat.Add(at, turnedBy(q, grid.at)), quat.Mul(q, quaternion(grid.rpy))
	plan := factPlan(t, strings.TrimSuffix(frames, ", "),
		"  a: {frame: f2, rows: 1, columns: 1, first: [40, 50, 60], rpy: [170, 15, 25], part: p, filled: all}\n  b: {frame: base, rows: 1, columns: 1, first: [500, 0, 0], part: p}\n",
		"  - {from: a, to: b}\n")
	got := slotsOf(listMoves(t, plan), "a")["A1"]
	near(t, "x", got.BaseX, at.Imag)
	near(t, "y", got.BaseY, at.Jmag)
	near(t, "z", got.BaseZ, at.Kmag)
	turn := quaternion([3]float64{got.BaseRoll, got.BasePitch, got.BaseYaw})
	if dot := math.Abs(turn.Real*q.Real + turn.Imag*q.Imag + turn.Jmag*q.Jmag + turn.Kmag*q.Kmag); math.Abs(dot-1) > 1e-12 {
		t.Errorf("the tool is turned by %v, gonum says %v", turn, q)
	}
}

// quaternion is the rotation about the fixed X, then Y, then Z axes, degrees.
func quaternion(rpy [3]float64) quat.Number {
	about := func(degrees float64, axis quat.Number) quat.Number {
		s, c := math.Sincos(degrees * math.Pi / 360)
		return quat.Add(quat.Number{Real: c}, quat.Scale(s, axis))
	}
	x, y, z := about(rpy[0], quat.Number{Imag: 1}), about(rpy[1], quat.Number{Jmag: 1}), about(rpy[2], quat.Number{Kmag: 1})
	return quat.Mul(z, quat.Mul(y, x))
}

// turnedBy turns a vector, which comes back as the imaginary parts.
func turnedBy(q quat.Number, v [3]float64) quat.Number {
	return quat.Mul(quat.Mul(q, quat.Number{Imag: v[0], Jmag: v[1], Kmag: v[2]}), quat.Conj(q))
}

// near compares two figures in mm, to far less than any arm can tell apart.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s: %.6f, wanted %.6f", what, got, want)
	}
}

// TestToAndFroBetweenTwoPlates: two plates of 3 × 3 slots 30 mm apart, and three
// parts carried row by row to and fro in five legs, as one chain. All figures are
// common practice, no source.
func TestToAndFroBetweenTwoPlates(t *testing.T) {
	plan := factPlan(t, "here: {at: [200, -150, 0]}, there: {at: [200, 50, 0]}",
		"  one: {frame: here, rows: 3, columns: 3, pitch: [30, 30], first: [0, 0, 10], part: p, filled: \"A1:A3\"}\n"+
			"  two: {frame: there, rows: 3, columns: 3, pitch: [30, 30], first: [0, 0, 10], part: p}\n",
		"  - chain: [\"one A1:A3\", \"two A1:A3\", \"one B1:B3\", \"two B1:B3\", \"one C1:C3\", \"two C1:C3\"]\n")
	mustRun(t, "check", plan)
	moves := listMoves(t, plan)
	checkOffsets(t, moves)
	checkTransfers(t, moves)
	checkGripper(t, moves)
}

// checkOffsets: 0, 30 and 60 along both axes of both plates, and never a fourth.
func checkOffsets(t *testing.T, moves []listed) {
	t.Helper()
	for _, grid := range []string{"one", "two"} {
		xs, ys := map[float64]bool{}, map[float64]bool{}
		for _, at := range slotsOf(moves, grid) {
			xs[at.X], ys[at.Y] = true, true
		}
		for _, offsets := range []map[float64]bool{xs, ys} {
			if len(offsets) != 3 || !offsets[0] || !offsets[30] || !offsets[60] {
				t.Errorf("plate %s has the offsets %v, wanted 0, 30 and 60", grid, offsets)
			}
		}
	}
}

// checkTransfers: after the five legs 3, 6, 9, 12 and 15 transfers.
func checkTransfers(t *testing.T, moves []listed) {
	t.Helper()
	var done [6]int
	for _, m := range moves {
		done[m.Leg] = max(done[m.Leg], m.Transfer)
	}
	if done != [6]int{0, 3, 6, 9, 12, 15} {
		t.Errorf("transfers after each leg: %v, wanted 3, 6, 9, 12, 15", done[1:])
	}
}

// checkGripper: 30 gripper actions belong to the transfers, each followed by half a
// second; the opening at the start, before the first part is reached, is one more.
func checkGripper(t *testing.T, moves []listed) {
	t.Helper()
	opening, actions := 0, 0
	for i, m := range moves {
		if m.Action != "grip" && m.Action != "release" {
			continue
		}
		if m.Target == "" {
			opening++
		} else {
			actions++
		}
		if next := moves[i+1]; next.Action != "dwell" || next.Seconds != 0.5 {
			t.Errorf("after move %d %s comes %s %g, wanted a dwell of 0.5", m.N, m.Action, next.Action, next.Seconds)
		}
	}
	if actions != 30 || opening != 1 {
		t.Errorf("%d gripper actions and %d openings, wanted 30 and 1", actions, opening)
	}
	dwells := 0
	for _, m := range moves {
		if m.Action == "dwell" {
			dwells++
		}
	}
	if dwells != 31 {
		t.Errorf("%d dwells, wanted 31: one for each gripper action", dwells)
	}
}

// TestToolMassLeftAtItsDefault: a tool mass of -1, as a form that nobody filled in
// leaves it, is refused before it reaches a controller (common practice, no source).
func TestToolMassLeftAtItsDefault(t *testing.T) {
	r := run("write", filepath.Join(demoFolder, "mortar-cubes.plan.yaml"), "--family", "listing", "-o", "-", "--set", "cell.tools.jaw.mass=-1")
	if r.status != 1 || r.stdout != "" || !strings.Contains(r.stderr, "[out-of-range]") {
		t.Errorf("status %d, output %q, said %q; wanted a refusal", r.status, r.stdout, r.stderr)
	}
}
