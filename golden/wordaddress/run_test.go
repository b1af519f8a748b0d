package wordaddress

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

func run(t *testing.T, text string, setup ...Setup) []Event {
	t.Helper()
	blocks, err := Read(text+"\nM2", Options{Clamp: true})
	if err != nil {
		t.Fatal(err)
	}
	events, err := Run(blocks, setup...)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return events[:len(events)-1]
}

func last(t *testing.T, text string, setup ...Setup) Event {
	t.Helper()
	events := run(t, text, setup...)
	if len(events) == 0 {
		t.Fatalf("nothing happens in\n%s", text)
	}
	return events[len(events)-1]
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

func same(a, b Position) bool {
	x, y := a.axes(), b.axes()
	for i := range x {
		if !near(x[i], y[i]) {
			return false
		}
	}
	return true
}

// NISTIR 6556, 3.5.3.2: at X7 Y7 the block below has its centre at (10, 11)
// and the radius 5.
func TestPublishedHelix(t *testing.T) {
	e := last(t, "G21\nG0 X7 Y7 Z0\nF100\nG17 G2 X10 Y16 I3 J4 Z9")
	if e.Kind != Arc || !e.Clockwise || e.Plane != 17 || !near(e.Center.X, 10) || !near(e.Center.Y, 11) || !same(e.At, Position{X: 10, Y: 16, Z: 9}) {
		t.Errorf("got %+v", e)
	}
	if r := math.Hypot(7-e.Center.X, 7-e.Center.Y); !near(r, 5) {
		t.Errorf("radius %v", r)
	}
	// Constructed: from direction (-3,-4) clockwise to (0,5) on radius 5, climbing 9.
	if want := math.Hypot(5*clockwise(-3, -4, 0, 5), 9) / 100 * 60; !near(e.Seconds, want) {
		t.Errorf("%v s, want %v", e.Seconds, want)
	}
}

// clockwise is the angle from one direction to another.
func clockwise(x1, y1, x2, y2 float64) float64 {
	a := math.Atan2(float64(y1*x2)-float64(x1*y2), float64(x1*x2)+float64(y1*y2))
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// NISTIR 6556, 3.5.18: X reads 4; after G92 X7 it reads 7 with an offset of
// -3; G92 X9 then makes the offset -5.
func TestPublishedOffset(t *testing.T) {
	e := last(t, "G21\nG0 X4 Y0\nG92 X7\nG0 Y1")
	if !near(e.At.X, 7) || !near(e.Machine.X, 4) {
		t.Errorf("after G92 X7: %+v", e)
	}
	e = last(t, "G21\nG0 X4 Y0\nG92 X7\nG92 X9\nG0 Y1")
	if !near(e.At.X, 9) || !near(e.Machine.X-e.At.X, -5) {
		t.Errorf("after G92 X9: %+v", e)
	}
}

// NISTIR 6556, 2.1.2.5, with the figures of its rules A, B and C worked out.
func TestFeedWithRotaryAxes(t *testing.T) {
	const start = "G21\nG0 X0 Y0 Z0 A0 B0 C0\n"
	for _, c := range []struct {
		block         string
		seconds, rate float64
		rotary        bool
	}{
		{"G1 A30 B40 F100", 30, 100, true},   // D = 50 degrees
		{"G1 X100 A90 F600", 10, 600, false}, // A rides along
		{"G1 C90 F90", 60, 90, true},
		{"G1 X3 Y4 F60", 5, 60, false},
		{"G93 G1 X60 F2.0", 30, 120, false}, // half a minute (3.5.19)
	} {
		e := last(t, start+c.block)
		if !near(e.Seconds, c.seconds) || !near(e.Rate, c.rate) || e.Rotary != c.rotary {
			t.Errorf("%s: %v s at %v, rotary %v", c.block, e.Seconds, e.Rate, e.Rotary)
		}
	}
}

// Table 8.
func TestOrderOfExecution(t *testing.T) {
	for _, c := range []struct{ why, text, want string }{
		{"dwell before the motion of its line", "G21\nX1 G4 P2 G0", "dwell 2 | traverse X1"},
		{"M0 stops after the motion of its line", "G21\nM0 G0 X1", "traverse X1 | stop"},
		{"G21 applies to the motion of its line", "G0 X1 G21", "traverse X1"},
		{"G20 applies to the motion of its line", "G21\nX1 G20 G0", "traverse X25.4"},
		{"G91 applies to the motion of its line", "G21\nG0 X1\nX1 G91", "traverse X1 | traverse X2"},
		{"modal motion goes on", "G21\nG0 X1\nX2", "traverse X1 | traverse X2"},
		{"G92 uses the axis words", "G21\nG0 X1\nG92 X5\nX6", "traverse X1 | traverse X6"},
		{"deleted blocks run", "G21\n/G0 X1", "traverse X1"},
		{"clamp, unclamp", "G21\nM11\nG0 X1\nM10", "unclamp | traverse X1 | clamp"},
	} {
		if got := story(run(t, c.text)); got != c.want {
			t.Errorf("%s: %s, want %s", c.why, got, c.want)
		}
	}
}

// story tells X of each motion.
func story(events []Event) string {
	var parts []string
	for _, e := range events {
		switch e.Kind {
		case Dwell:
			parts = append(parts, fmt.Sprintf("dwell %v", e.Seconds))
		case Traverse, Feed, Arc:
			parts = append(parts, fmt.Sprintf("%s X%v", e.Kind, e.At.X))
		default:
			parts = append(parts, string(e.Kind))
		}
	}
	return strings.Join(parts, " | ")
}

func TestNothingRunsAfterTheEnd(t *testing.T) { // 3.6.1
	blocks, err := Read("G21\nG0 X1\nM2\nG0 X2\n")
	if err != nil {
		t.Fatal(err)
	}
	events, err := Run(blocks)
	if err != nil || story(events) != "traverse X1 | end" {
		t.Errorf("%s, %v", story(events), err)
	}
}

func TestBlockDelete(t *testing.T) {
	if got := run(t, "G21\n/G0 X1", Setup{SkipDeleted: true}); len(got) != 0 {
		t.Errorf("a deleted block ran: %v", got)
	}
}

func TestCoordinateSystems(t *testing.T) { // 3.5.12, 3.5.13
	var s Setup
	s.Offsets[1] = Position{X: 100, C: 5}
	s.Offsets[8] = Position{X: -10}
	for _, c := range []struct {
		text        string
		at, machine float64
		system      int
	}{
		{"G21\nG54 G0 X1", 1, 1, 1},
		{"G21\nG55 G0 X1", 1, 101, 2},
		{"G21\nG59.3 G0 X1", 1, -9, 9},
		{"G21\nG55 G53 G0 X1", -99, 1, 2},
		{"G20\nG55 G0 X1", 25.4, 125.4, 2},
		{"G21\nG0 X5\nG55 G91 X1", -94, 6, 2},
	} {
		e := last(t, c.text, s)
		if !near(e.At.X, c.at) || !near(e.Machine.X, c.machine) || e.System != c.system {
			t.Errorf("%q: %+v", c.text, e)
		}
	}
}

// Constructed quarter circles: seen from the positive end of the plane's
// normal, G3 turns anticlockwise (3.5.3, 3.5.6).
func TestPlanes(t *testing.T) {
	for _, c := range []struct {
		block  string
		center Position
	}{
		{"G17 G3 X0 Y10 I-10", Position{}},
		{"G17 G3 X0 Y10 R10", Position{}},
		{"G17 G2 X0 Y10 R-10", Position{}},
		{"G17 G2 X0 Y10 R10", Position{X: 10, Y: 10}},
		{"G17 G3 X0 Y10 R-10", Position{X: 10, Y: 10}},
	} {
		e := last(t, "G21\nF60\nG0 X10 Y0 Z0\n"+c.block)
		if !same(e.Center, c.center) {
			t.Errorf("%s: centre %v", c.block, e.Center)
		}
	}
	e := last(t, "G21\nF60\nG0 X0 Y0 Z10\nG18 G3 X10 Z0 R10") // Z turns into X about +Y
	if !same(e.Center, Position{}) || !near(e.Seconds, 5*math.Pi) {
		t.Errorf("G18: %+v", e)
	}
	e = last(t, "G21\nF60\nG0 X0 Y10 Z0\nG19 G3 Y0 Z10 R10") // Y turns into Z about +X
	if !same(e.Center, Position{}) || !near(e.Seconds, 5*math.Pi) {
		t.Errorf("G19: %+v", e)
	}
}

func TestFullCircle(t *testing.T) { // 3.5.3.2: the centre form may end where it starts
	e := last(t, "G21\nF60\nG0 X0 Y0\nG2 X0 I2.5")
	if !near(e.Seconds, 5*math.Pi) {
		t.Errorf("a circle of radius 2.5 takes %v s at 60 mm/min", e.Seconds)
	}
}

func TestUnknownPlaces(t *testing.T) {
	e := last(t, "G21\nG0 X1 C2")
	if e.Unknown != "YZAB" {
		t.Errorf("unknown %q", e.Unknown)
	}
	if e := last(t, "G21\nF60\nG1 X1"); !math.IsNaN(e.Seconds) {
		t.Errorf("a feed from nowhere takes %v s", e.Seconds)
	}
}

func TestRunRefuses(t *testing.T) {
	for _, c := range []struct{ text, clause, part string }{
		{"G0 X1", "3.5.7", "before any G20 or G21"},
		{"F100", "3.8, Table 8", "before the units"},
		{"G21 F100", "3.8, Table 8", "before the units"},
		{"G21\nG0", "3.5.1-3.5.3", "at least one axis word"},
		{"G21\nG1 F10", "3.5.1-3.5.3", "at least one axis word"},
		{"G21\nG1 X1", "3.5.2", "before any F"},
		{"G21\nX1", "3.5.2", "before any F"}, // G1 is in force at the start
		{"G21\nG1 X1 F0", "3.5.2", "never arrives"},
		{"G21\nG93 G1 X1 F1\nX2", "3.5.19", "own line"},
		{"G21\nG1 X1 F9\nG93\nX2", "3.5.19", "own line"},
		{"G21\nG93 G1 X1 F1\nG94 X2", "3.5.2", "this feed mode"},
		{"G21\nG1 X1 F9\nG20\nX2", "3.5.7", "other units"},
		{"G4", "3.5.4", "seconds in P"},
		{"G4 P-1", "3.5.4", "negative"},
		{"G21\nG0 X1 P1", "3.3", "nothing on this line uses P1"},
		{"G21\nG0 X1 R1", "3.3", "uses R1"},
		{"G21\nG0 X1 I1", "3.3", "uses I1"},
		{"G64 P0.1", "3.3", "uses P0.1"},
		{"G21\nF9\nG0 X0 Y0 Z0\nG2 X2 I1 K1", "3.3", "uses K1"},
		{"G21\nF9\nG0 X0 Y0\nG2 X2 R1 I1", "3.3", "uses I1"},
		{"G21\nF9\nG0 X0 Y0\nG2 X2", "3.5.3.2", "wants R"},
		{"G21\nF9\nG0 X0 Y0\nG2 I1", "3.5.1-3.5.3", "axis word"},
		{"G21\nF9\nG0 X0 Y0\nG2 Z1 I1", "3.5.3", "of its plane"},
		{"G21\nF9\nG2 X2 I1", "3.5.3", "no block has given"},
		{"G21\nF9\nG0 X0 Y0\nG2 X2.005 I1", "3.5.3", "radius"},
		{"G21\nF9\nG0 X0 Y0\nG2 X2 I0", "3.5.3.2", "zero"},
		{"G21\nF9\nG0 X0 Y0\nG2 X0 R1", "3.5.3.1", "where it starts"},
		{"G21\nF9\nG0 X0 Y0\nG2 X2 R0.9", "3.5.3.1", "too small"},
		{"G21\nG91 G0 X1", "3.5.17", "no block has given"},
		{"G21\nG92 X1", "3.5.18", "no block has given"},
		{"G21\nG92", "3.5.18", "at least one"},
		{"G21\nG0 X0 Y0\nF9\nG2 X2 R1\nG53 X1", "3.5.12", "G0 or G1"},
		{"G21\nG0 X1\nG53", "3.5.12", "axis word"},
		{"G21\nM10 G0 X1", "ISO 6983-1", "which comes first"},
		{"M10 G4 P1", "ISO 6983-1", "which comes first"},
		{"M6 T1", "3.3", "outside the subset"},
		{"M1", "3.3", "outside the subset"},
		{"G40", "3.3", "outside the subset"},
		{"G61.1", "3.3", "outside the subset"},
		{"G28 X1", "3.3", "outside the subset"},
		{"G80", "3.3", "outside the subset"},
		{"H1", "3.3", "uses H1"},
		{"D1", "3.3", "uses D1"},
	} {
		blocks, err := Read(c.text+"\nM2", Options{Clamp: true})
		if err != nil {
			t.Errorf("%q does not read: %v", c.text, err)
			continue
		}
		_, err = Run(blocks)
		var fault *Error
		if !errors.As(err, &fault) || fault.Clause != c.clause || !strings.Contains(fault.Message, c.part) {
			t.Errorf("%q: got %v, want …%s… [%s]", c.text, err, c.part, c.clause)
		}
	}
}

// 3.5.3: radii may differ by 0.002 mm, not by more.
func TestArcToleranceEdge(t *testing.T) {
	last(t, "G21\nF9\nG0 X0 Y0\nG2 X2.0019 I1")
}

// A plain cycle as a person would write it, with every place told.
func TestPickAndPlaceByHand(t *testing.T) {
	events := run(t, "G21\nG90\nG94\nN10 G0 Z50\nG0 X10 Y20 C90 (above A1)\nG1 Z5 F4800\nM10\nG4 P0.4\nG1 Z50 F4800")
	want := []struct {
		kind Kind
		at   Position
	}{
		{Traverse, Position{Z: 50}},
		{Traverse, Position{X: 10, Y: 20, Z: 50, C: 90}},
		{Feed, Position{X: 10, Y: 20, Z: 5, C: 90}},
		{Clamp, Position{X: 10, Y: 20, Z: 5, C: 90}},
		{Dwell, Position{X: 10, Y: 20, Z: 5, C: 90}},
		{Feed, Position{X: 10, Y: 20, Z: 50, C: 90}},
	}
	if len(events) != len(want) {
		t.Fatalf("%d events: %s", len(events), story(events))
	}
	for i, e := range events {
		if e.Kind != want[i].kind || !same(e.At, want[i].at) {
			t.Errorf("event %d is %s at %v, want %s at %v", i, e.Kind, e.At, want[i].kind, want[i].at)
		}
	}
	if e := events[2]; e.Rate != 4800 || !near(e.Seconds, 45.0/80) { // 4800 mm/min is 80 mm/s
		t.Errorf("the way down takes %v s at %v mm/min", e.Seconds, e.Rate)
	}
}
