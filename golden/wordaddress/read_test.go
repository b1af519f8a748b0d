package wordaddress

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// Values: NISTIR 6556 (NIST RS274NGC Version 3, 2000), by the clause named
// beside each row. Rows marked "ours" are choices of this reader.

// written gives the words of a one-line program, M2 following.
func written(t *testing.T, line string, options ...Options) string {
	t.Helper()
	blocks, err := Read(line+"\nM2\n", options...)
	if err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return fmt.Sprint(blocks[0].Words)
}

func TestAccepted(t *testing.T) {
	for _, c := range []struct{ clause, line, want string }{
		{"3.3", "g0x +0. 12 34y 7", "[G0 X+0.1234 Y7]"},
		{"3.3", "G0\tX1 Y2", "[G0 X1 Y2]"},
		{"3.3", "/g0x1", "[G0 X1]"},
		{"3.3", " / N 1 2 G0 X1", "[G0 X1]"},
		{"3.3.1", "N00000 G0 X1", "[G0 X1]"},
		{"3.3.1", "N99999 G0 X1", "[G0 X1]"},
		{"3.3.2.1", "X.5", "[X.5]"},
		{"3.3.2.1", "X5.", "[X5.]"},
		{"3.3.2.1", "X+5", "[X+5]"},
		{"3.3.2.1", "X-.5", "[X-.5]"},
		{"3.3.2.1", "X007.10", "[X007.10]"},
		{"3.3.2.1, whole within 0.0001", "G1.00005 X1", "[G1.00005 X1]"},
		{"3.3.4", "(a remark) G0 X1 (another; % / # [ ] are fine)", "[G0 X1]"},
		{"3.3.5, any number of G words", "G0 G17 G21 G90 G94 G54 G61 G40 G49 X1", "[G0 G17 G21 G90 G94 G54 G61 G40 G49 X1]"},
		{"3.3.5, four M words", "M0 M3 M6 M8", "[M0 M3 M6 M8]"},
		{"3.3.6, any order", "X1 G0", "[X1 G0]"},
		{"Table 4", "G59.3", "[G59.3]"},
		{"3.4, G4 uses no axis words", "G4 P1 G1 X5 F100", "[G4 P1 G1 X5 F100]"},
		{"Table 3", "A1 B2 C3 D1 F1 H1 I1 J1 K1 L1 P1 Q1 R1 S1 T1 X1 Y1 Z1", "[A1 B2 C3 D1 F1 H1 I1 J1 K1 L1 P1 Q1 R1 S1 T1 X1 Y1 Z1]"},
	} {
		if got := written(t, c.line); got != c.want {
			t.Errorf("%s: %q read as %s, want %s", c.clause, c.line, got, c.want)
		}
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		line   string
		column int
		clause string
		part   string // of the message
	}{
		{"N000009 G0 X1", 1, "3.3.1", "more than five digits"},
		{"N G0 X1", 3, "3.3.1", "unsigned"},
		{"N-1 G0 X1", 2, "3.3.1", "unsigned"},
		{"N10.5 G0 X1", 4, "3.3", "'.' found"},
		{"G0 X1 N10", 7, "3.3.1", "must come first"},
		{"N1 N2 G0 X1", 4, "3.3.1", "must come first"},
		{"(first) N10 G0 X1", 9, "3.3.1", "must come first"},
		{"G0 / X1", 4, "3.3", "first character"},
		{"G0 X.", 6, "3.3.2.1", "the line ends"},
		{"G0 X", 5, "3.3.2.1", "the line ends"},
		{"G0 X Y1", 6, "3.3.2.1", "'Y' found"},
		{"G0 X--1", 6, "3.3.2.1", "'-' found"},
		{"G0 X1-1", 6, "3.3", "'-' found"},
		{"G0 X1.2.3", 8, "3.3", "'.' found"},
		{"G0 X1e3", 6, "3.3.2", "no word begins with 'E'"},
		{"G0 X1,5", 6, "3.3", "',' found"},
		{"G0 X1E+3", 6, "3.3.2", "'E'"},
		{"G0 X12345678901234567890", 4, "3.3.2.1", "no accuracy"},
		{"G0 XNaN", 5, "3.3.2.1", "'N' found"},
		{"G0 XInf", 5, "3.3.2.1", "'I' found"},
		{"G0 U1", 4, "3.3.2", "'U'"},
		{"G0 V1", 4, "3.3.2", "'V'"},
		{"G0 W1", 4, "3.3.2", "'W'"},
		{"O100", 1, "3.3.2", "'O'"},
		{"G0 X1 ; remark", 7, "3.3", "';' found"},
		{"G0 X1 // remark", 7, "3.3", "first character"},
		{"G0 X#1", 5, "3.3.2", "not read here"},
		{"#1=5", 1, "3.3.3", "not read here"},
		{"G0 X[1+2]", 5, "3.3.2", "not read here"},
		{"G0 X1 (open", 7, "3.3.4", "not closed"},
		{"G0 (a (b) c) X1", 7, "3.3.4", "hold another"},
		{"G0 X1 )", 7, "3.3", "')' found"},
		{"(Würfel)", 3, "3.3.4", "printable ASCII"},
		{"(bell \a)", 7, "3.3.4", "printable ASCII"},
		{"G0\x00X1", 3, "3.3", "'\\x00' found"},
		{"G0\u00a0X1", 3, "3.3", "found"},
		{"G0 \xffX1", 4, "3.3", "found"},
		{"G0 X1 %", 7, "3.1", "alone"},
		{"G0 X1 X2", 7, "3.3.5", "'X' stands twice"},
		{"G4 P1 P2", 7, "3.3.5", "'P' stands twice"},
		{"F1 F1", 4, "3.3.5", "'F' stands twice"},
		{"G0 G1 X1", 4, "3.3.5", "one modal group"},
		{"G0 G0 X1", 4, "3.3.5", "one modal group"},
		{"G90 G91", 5, "3.3.5", "one modal group"},
		{"G20 G21", 5, "3.3.5", "one modal group"},
		{"G17 G18", 5, "3.3.5", "one modal group"},
		{"G93 G94", 5, "3.3.5", "one modal group"},
		{"G54 G59.3", 5, "3.3.5", "one modal group"},
		{"G61 G64", 5, "3.3.5", "one modal group"},
		{"G4 P1 G53", 7, "3.3.5", "one modal group"},
		{"M0 M2", 4, "3.3.5", "one modal group"},
		{"M7 M8", 4, "3.3.5", "one modal group"},
		{"M3 M4", 4, "3.3.5", "one modal group"},
		{"M0 M6 M3 M8 M48", 13, "3.3.5", "fifth M word"},
		{"G5 X1", 1, "3.5", "G5 is not in the language"},
		{"G70", 1, "3.5", "not in the language"}, // ISO 6983-1's inch, not NIST's
		{"G1.5 X1", 1, "3.5", "not in the language"},
		{"G-1 X1", 1, "3.5", "not in the language"},
		{"G1.01 X1", 1, "3.5", "not in the language"},
		{"G59.4", 1, "3.5", "not in the language"},
		{"M12", 1, "3.6", "not in the language"},
		{"M62 P1", 1, "3.6", "not in the language"}, // 2.8: not in NISTIR 6556
		{"M10", 1, "3.6", "not in the language"},    // only as a named option
		{"M1.5", 1, "3.6", "not in the language"},
		{"F-1", 1, "3.7", "negative"},
		{"S-1", 1, "3.7", "negative"},
		{"T-1", 1, "3.7", "negative"},
		{"T1.5", 1, "3.3.2.1", "whole"},
		{"G1 G92 X5", 4, "3.4", "both use the axis words"},
		{"G0 G28 X5", 4, "3.4", "both use the axis words"},
		{strings.Repeat(" ", 251) + "G0 X12", 257, "3.3", "257 characters"},
	} {
		_, err := Read("G21\n" + c.line + "\nM2\n")
		var fault *Error
		if !errors.As(err, &fault) {
			t.Errorf("%q is accepted", c.line)
			continue
		}
		if fault.Line != 2 || fault.Column != c.column || fault.Clause != c.clause || !strings.Contains(fault.Message, c.part) {
			t.Errorf("%q: got %v\nwant 2:%d: …%s… [%s]", c.line, fault, c.column, c.part, c.clause)
		}
	}
}

func TestLineOfTheLongestLength(t *testing.T) { // 3.3
	line := "G0 X1 (" + strings.Repeat("x", 256-8) + ")"
	if len(line) != 256 {
		t.Fatalf("the test's line has %d characters", len(line))
	}
	written(t, line)
}

func TestClampIsANamedAddition(t *testing.T) {
	if got := written(t, "M10", Options{Clamp: true}); got != "[M10]" {
		t.Errorf("M10 read as %s", got)
	}
	if _, err := Read("M10 M11\nM2", Options{Clamp: true}); err == nil {
		t.Error("clamp and unclamp on one line are accepted")
	}
	if _, err := Read("M12\nM2", Options{Clamp: true}); err == nil {
		t.Error("the option admits M12")
	}
}

func TestDemarcation(t *testing.T) { // 3.1
	for _, c := range []struct {
		text   string
		blocks int // -1: refused
	}{
		{"%\nG21\n%\n", 1},
		{"\n \n % \nG21\n\t%\t\nanything: ü ; after it is ignored", 1},
		{"G21\nM2\n", 2},
		{"G21\nM30", 2},
		{"%\nG21\nM2\n%", 2},
		{"%\nG21\nM2\n", -1},   // opened, never closed
		{"G21\n", -1},          // no end at all
		{"", -1},               // nor here
		{"G21\n%\nM2\n", -1},   // % after the first line without one before
		{"(x)\n%\nG21\n%", -1}, // a comment line is not blank
		{"% demo\nG21\n%", -1}, // not alone
	} {
		blocks, err := Read(c.text)
		if got := len(blocks); (err != nil) != (c.blocks < 0) || err == nil && got != c.blocks {
			t.Errorf("%q: %d blocks, error %v; want %d", c.text, got, err, c.blocks)
		}
	}
}

func TestLineEnds(t *testing.T) { // 3.3: carriage return, line feed, or both
	for _, end := range []string{"\n", "\r\n", "\r"} {
		blocks, err := Read("G21" + end + end + "N7 G0 X1" + end + "M2" + end)
		if err != nil || len(blocks) != 3 || blocks[1].Line != 3 || blocks[1].Number != 7 || blocks[0].Number != -1 {
			t.Errorf("line end %q: %+v, %v", end, blocks, err)
		}
	}
}

func TestComments(t *testing.T) { // 3.3.4, 3.3.5
	for _, c := range []struct {
		line, comment string
		message       bool
	}{
		{"(one) G0 X1 (two)", "two", false},
		{"(MSG, look here)", "MSG, look here", true},
		{"( m S g , look here)", " m S g , look here", true},
		{"(message)", "message", false},
		{"(a MSG, later)", "a MSG, later", false},
		{"()", "", false},
	} {
		blocks, err := Read(c.line + "\nM2")
		if err != nil {
			t.Fatal(err)
		}
		if b := blocks[0]; c.comment != "" && (b.Comment != c.comment || b.Message != c.message) {
			t.Errorf("%q: comment %q, message %v", c.line, b.Comment, b.Message)
		}
	}
}

func TestEveryWrongLineIsNamed(t *testing.T) {
	_, err := Read("G99999\nG21\nX1,5\nM2")
	if err == nil {
		t.Fatal("accepted")
	}
	got := err.Error()
	if !strings.Contains(got, "1:1: G99999") || !strings.Contains(got, "\n3:3: ") || strings.Count(got, "\n") != 1 {
		t.Errorf("got %s", got)
	}
}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"G21\nG0 X1 Y2 Z3\nG1 X2 F100\nG2 X3 I0.5\nG4 P1\nM10\nM2", "%\nN10G90\n%", "/n1(MSG,x)g0x+0. 1", "G93 G3 X1 R-2 F3\nM30", "G20\nG92 A1",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		blocks, err := Read(text, Options{Clamp: true})
		if err != nil {
			if blocks != nil {
				t.Error("blocks beside an error")
			}
			return
		}
		events, err := Run(blocks)
		if err == nil && len(events) > 0 && events[len(events)-1].Kind != End && !strings.Contains(text, "%") {
			t.Error("the program ran out without an end")
		}
	})
}
