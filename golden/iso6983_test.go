package golden

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/corpus"
	"gridferry/golden/npm"
	"gridferry/golden/wordaddress"
)

// TestWordAddressPrograms reads every word-address program with the strict
// reader and runs it: positions in the base, clamp states, seconds and feeds
// are those of the move list, one by one, and there is nothing besides.
func TestWordAddressPrograms(t *testing.T) {
	eachProgram(t, "iso6983", func(t *testing.T, plan, program string) {
		if err := compareWordAddress(listMoves(t, plan), program); err != nil {
			t.Error(err)
		}
	})
}

// TestWordAddressComparisonSees plants single faults in a sound program.
func TestWordAddressComparisonSees(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	program := mustRun(t, "write", plan, "--family", "iso6983", "-o", "-")
	moves := listMoves(t, plan)
	for _, change := range [][2]string{
		{"X400.000", "X400.002"}, {"Z67.000", "Z66.000"}, {"C90.000", "C-90.000"}, {"F4800.0", "F80.0"}, {"N110 M10", "N110 M11"}, {"P2.000", "P2.002"},
		{"N10 G21", "N10 G20"}, {"N20 G90", "N20 G91"}, {"N40 G61", "N40 G64"}, {"G0 X580", "G1 X580"}, {"X364.595", "X364,595"}, {" M2\n", " M0\n"},
	} {
		changed := strings.Replace(program, change[0], change[1], 1)
		if changed == program {
			t.Errorf("the program holds no %q", change[0])
		} else if compareWordAddress(moves, changed) == nil {
			t.Errorf("%q in place of %q goes unseen", change[1], change[0])
		}
	}
}

// TestWordAddressProgramsOutside asks two parsers from outside the project
// (npm gcode and gcode-parser) for their opinion.
func TestWordAddressProgramsOutside(t *testing.T) {
	eachProgram(t, "iso6983", func(t *testing.T, plan, program string) {
		report := npm.Judge(t, program)
		faults := report.Faults()
		for _, fault := range faults[:min(5, len(faults))] {
			t.Error(fault)
		}
		compareOutside(t, program, report)
	})
}

// eachProgram goes through the demo plans that a family can write.
func eachProgram(t *testing.T, family string, do func(t *testing.T, plan, program string)) {
	t.Chdir(demoFolder)
	written := 0
	for _, plan := range corpus.Plans(t, "") {
		r := run("write", plan, "--family", family, "-o", "-")
		if r.status != 0 {
			continue // TestDemo holds which ones and why
		}
		written++
		t.Run(plan, func(t *testing.T) { do(t, plan, r.stdout) })
	}
	if written < 3 {
		t.Errorf("family %s wrote %d demo programs, wanted 3 or more", family, written)
	}
}

// hasWord tells which kinds of move become an event of a word-address program.
var hasWord = map[string]wordaddress.Kind{
	"travel": wordaddress.Traverse, "straight": wordaddress.Feed,
	"grip": wordaddress.Clamp, "release": wordaddress.Unclamp, "dwell": wordaddress.Dwell,
}

// compareWordAddress runs a program and holds what happens to the move list.
func compareWordAddress(moves []listed, program string) error {
	events, err := runWordAddress(program)
	if err != nil {
		return err
	}
	at, last, moved, stopped := 0, wordaddress.Position{Z: math.NaN()}, false, false
	for i := range moves {
		m := &moves[i]
		kind, ok := hasWord[m.Action]
		if m.Action == "select" && m.Text != "" { // a person changes the tool
			kind, ok = wordaddress.Stop, true
		}
		if !ok {
			continue
		}
		if first := !moved && m.moves(); first {
			if fault := zAlone(m, events[at:]); fault != "" {
				return fmt.Errorf("the first motion, move %d: %s", m.N, fault)
			}
			kind, at, moved = wordaddress.Feed, at+1, true
		} else if stopped && m.moves() {
			kind = wordaddress.Feed // behind a stop for a person it is slow, and a traverse has no speed
		}
		stopped = kind == wordaddress.Stop || stopped && !m.moves()
		if at >= len(events) {
			return fmt.Errorf("the program ends before move %d", m.N)
		}
		e := events[at]
		if fault := wordAddressFault(m, kind, e, last); fault != "" {
			return fmt.Errorf("line %d, move %d %s %s: %s", e.Line, m.N, m.Action, m.Target, fault)
		}
		at, last = at+1, e.At
	}
	if len(events) != at+1 || events[at].Kind != wordaddress.End {
		return fmt.Errorf("after the last move there are %d events, wanted the end alone", len(events)-at)
	}
	return nil
}

// zAlone says what is wrong with the event before the first motion, in which Z goes to
// its height at the motion's feed and no other axis moves; "" for nothing.
func zAlone(m *listed, events []wordaddress.Event) string {
	const digit = 0.000501
	switch {
	case len(events) == 0 || events[0].Kind != wordaddress.Feed || events[0].Unknown != "XYABC":
		return fmt.Sprintf("before it Z does not move alone: %+v", events[:min(1, len(events))])
	case math.Abs(events[0].At.Z-m.BaseZ) > digit || math.Abs(events[0].Rate-m.Speed*60) > 0.0501:
		return fmt.Sprintf("Z goes to %g with %g mm/min, wanted %g with %g mm/s", events[0].At.Z, events[0].Rate, m.BaseZ, m.Speed)
	}
	return ""
}

// withoutZAlone is events without the one before the first motion.
func withoutZAlone(events []wordaddress.Event) []wordaddress.Event {
	return slices.DeleteFunc(events, func(e wordaddress.Event) bool { return e.Kind == wordaddress.Feed && e.Unknown == "XYABC" })
}

func runWordAddress(program string) ([]wordaddress.Event, error) {
	blocks, err := wordaddress.Read(program, wordaddress.Options{Clamp: true})
	if err != nil {
		return nil, err
	}
	return wordaddress.Run(blocks)
}

// wordAddressFault says how an event differs from the move, "" if it does not.
// Numbers may differ by half their last written digit.
func wordAddressFault(m *listed, kind wordaddress.Kind, e wordaddress.Event, last wordaddress.Position) string {
	const digit = 0.000501 // mm and degrees are written with three decimals, seconds too
	switch {
	case e.Kind != kind:
		return fmt.Sprintf("the program does %s", e.Kind)
	case kind == wordaddress.Dwell && math.Abs(e.Seconds-m.Seconds) > digit:
		return fmt.Sprintf("waits %g s, wanted %g s", e.Seconds, m.Seconds)
	case kind != wordaddress.Traverse && kind != wordaddress.Feed:
		return ""
	}
	want := wordaddress.Position{X: m.BaseX, Y: m.BaseY, Z: m.BaseZ}
	turn := toolTurn(m)
	switch {
	case math.Abs(e.At.X-want.X) > digit, math.Abs(e.At.Y-want.Y) > digit, math.Abs(e.At.Z-want.Z) > digit:
		return fmt.Sprintf("goes to %+v, wanted %+v", e.At, want)
	case math.Abs(math.Remainder(e.At.C-turn, 360)) > digit:
		return fmt.Sprintf("turns to C %g, wanted %g", e.At.C, turn)
	case e.At != e.Machine || e.Unknown != "AB" || !e.ExactPath:
		return fmt.Sprintf("offsets, axes that were never placed or a rounded path: %+v", e)
	case kind == wordaddress.Feed:
		return feedFault(m, e, last)
	}
	return ""
}

// feedFault compares the feed: the list has mm/s, the program mm/min.
func feedFault(m *listed, e wordaddress.Event, last wordaddress.Position) string {
	if math.Abs(e.Rate-m.Speed*60) > 0.0501 {
		return fmt.Sprintf("feeds with %g mm/min, wanted %g mm/s", e.Rate, m.Speed)
	}
	way := math.Hypot(math.Hypot(e.At.X-last.X, e.At.Y-last.Y), e.At.Z-last.Z)
	if seconds := way / m.Speed; math.Abs(e.Seconds-seconds) > 0.001*seconds {
		return fmt.Sprintf("takes %g s, wanted %g s", e.Seconds, seconds)
	}
	return ""
}

// toolTurn is the angle of the tool's X axis about the vertical, seen from above.
func toolTurn(m *listed) float64 {
	r := m.base().turn
	return math.Atan2(r[1][0], r[0][0]) * 180 / math.Pi
}

// compareOutside holds the positions of the outside parsers to those of the
// strict reader, after every line that moves.
func compareOutside(t *testing.T, program string, report npm.Report) {
	t.Helper()
	events, err := runWordAddress(program)
	if err != nil {
		t.Fatal(err)
	}
	byLine := map[int]npm.Line{}
	for _, l := range report.Lines {
		byLine[l.Line] = l
	}
	compared := 0
	for _, e := range events {
		if e.Kind != wordaddress.Traverse && e.Kind != wordaddress.Feed {
			continue
		}
		for _, reading := range []npm.Reading{byLine[e.Line].Grammar, byLine[e.Line].Tokens} {
			got := reading.Position
			if got["X"] != e.At.X || got["Y"] != e.At.Y || got["Z"] != e.At.Z || got["C"] != e.At.C {
				t.Fatalf("line %d: an outside parser stands at %v, the strict reader at %+v", e.Line, got, e.At)
			}
			compared++
		}
	}
	if compared == 0 {
		t.Error("nothing was compared")
	}
}
