package npm

import (
	"math"
	"reflect"
	"testing"

	"gridferry/golden/wordaddress"
)

func TestWordsAndPositions(t *testing.T) {
	r := Judge(t, "%\nG21\nN20 G90 G0 X1.5 Y-2.0 (over)\n\n/G91 X1.0\nG20 Z1.0\nM2\n%\n")
	if faults := r.Faults(); len(faults) > 0 {
		t.Fatal(faults)
	}
	want := []struct {
		line     int
		words    []Word
		position map[string]float64
	}{
		{2, []Word{{"G", 21}}, map[string]float64{}},
		{3, []Word{{"G", 90}, {"G", 0}, {"X", 1.5}, {"Y", -2}}, map[string]float64{"X": 1.5, "Y": -2}},
		{5, []Word{{"G", 91}, {"X", 1}}, map[string]float64{"X": 2.5, "Y": -2}},
		{6, []Word{{"G", 20}, {"Z", 1}}, map[string]float64{"X": 2.5, "Y": -2, "Z": 25.4}},
		{7, []Word{{"M", 2}}, map[string]float64{"X": 2.5, "Y": -2, "Z": 25.4}},
	}
	if len(r.Lines) != len(want) {
		t.Fatalf("%d lines", len(r.Lines))
	}
	for i, w := range want {
		for name, got := range map[string]Reading{"gcode": r.Lines[i].Grammar, "gcode-parser": r.Lines[i].Tokens} {
			if r.Lines[i].Line != w.line || !reflect.DeepEqual(got.Words, w.words) || !reflect.DeepEqual(got.Position, w.position) {
				t.Errorf("%s: line %d: %+v, want %+v", name, r.Lines[i].Line, got, w)
			}
		}
	}
}

func TestFaultsAreSeen(t *testing.T) {
	for _, line := range []string{
		"G0 X1,5", "G0 X1E-5", "G0 X1 X2", "G0 X--1", "G0 X1.2.3", "G0 (a (b)) X1", "G0 X1 (open", "G0 X1 ; remark", "G0 X", "hello", "G92 X1",
		"{\"x\":1}", "$H", "G0 X1*37", "G0 XNaN",
	} {
		r := Judge(t, line+"\n")
		if len(r.Lines) != 1 || r.Lines[0].Grammar.Error == "" || r.Lines[0].Tokens.Error == "" {
			t.Errorf("%q: accepted by at least one: %+v", line, r.Lines)
		}
	}
}

// The strict grammar wants digits on both sides of the point; NISTIR 6556,
// 3.3.2.1, does not.
func TestTheGrammarsOwnRule(t *testing.T) {
	r := Judge(t, "X5.\n")
	if r.Lines[0].Grammar.Error == "" || r.Lines[0].Tokens.Error != "" {
		t.Errorf("got %+v", r.Lines[0])
	}
}

// Three readers that share no code agree on every position.
func TestAgreesWithOurReader(t *testing.T) {
	const program = "G21\nG90\nG0 Z50.0\nG0 X10.0 Y-20.5 C90.0 (above A1)\ng1 z5.25 f4800.0\nG91\nG1 X1.5 Y0.5 F600.0\n" +
		"G90\nG20\nG0 X1.0 C-45.0\nG0 Y2.0\nM2\n"
	report := Judge(t, program)
	if faults := report.Faults(); len(faults) > 0 {
		t.Fatal(faults)
	}
	blocks, err := wordaddress.Read(program)
	if err != nil {
		t.Fatal(err)
	}
	events, err := wordaddress.Run(blocks)
	if err != nil || len(events) != 7 {
		t.Fatal(len(events), err)
	}
	for _, e := range events {
		line := report.Lines[e.Line-1] // no line of this program is left out
		for name, got := range map[string]Reading{"gcode": line.Grammar, "gcode-parser": line.Tokens} {
			for letter, want := range map[string]float64{"X": e.At.X, "Y": e.At.Y, "Z": e.At.Z, "C": e.At.C} {
				if math.Abs(got.Position[letter]-want) > 1e-9 {
					t.Errorf("%s: %q: %s is at %v, ours %v", name, line.Text, letter, got.Position[letter], want)
				}
			}
		}
	}
}
