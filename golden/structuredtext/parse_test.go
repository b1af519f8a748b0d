package structuredtext

import (
	"errors"
	"strings"
	"testing"
	"time"
)

// first gives the first fault of a list as an *Error.
func first(t *testing.T, faults []error) *Error {
	t.Helper()
	var e *Error
	if len(faults) == 0 || !errors.As(faults[0], &e) {
		t.Fatalf("no fault, or one without a place: %v", faults)
	}
	return e
}

// around puts declarations and statements into a program.
func around(vars, body string) string {
	return "TYPE Three : ARRAY[1..3] OF LREAL; END_TYPE PROGRAM demo\nVAR\n" + vars + "\nEND_VAR\n" + body + "\nEND_PROGRAM\n"
}

// IEC 61131-3 Ed. 3, Table 8: the standard's own examples.
func TestDurations(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"T#14ms": 14 * time.Millisecond, "T#-14ms": -14 * time.Millisecond, "T#14.7s": 14700 * time.Millisecond,
		"t#25h15m": 25*time.Hour + 15*time.Minute, "T#25h_15m": 25*time.Hour + 15*time.Minute, "TIME#14ms": 14 * time.Millisecond,
		"t#5d_14h_12m_18s_3.5ms": 5*24*time.Hour + 14*time.Hour + 12*time.Minute + 18*time.Second + 3500*time.Microsecond,
		"T#100S12ms":             100*time.Second + 12*time.Millisecond,
		"T#12us3ns":              12003 * time.Nanosecond,
	} {
		l := lex(text)
		if len(l.faults) > 0 || l.tokens[0].value != want {
			t.Errorf("%s: %v, %v; want %v", text, l.tokens[0].value, l.faults, want)
		}
	}
	for text, part := range map[string]string{
		"15ms": "directly", "t#5m68s": "overflow", "t#4ms13d": "order", "T#": "a number and a unit", "T#5": "a number and a unit",
		"T#1.5h3m": "only the last", "T#1h1h": "order", "T#5x": "a number and a unit", "T#1m1000ms": "overflow", "T#.5s": "unit",
	} {
		if e := first(t, lex(text).faults); !strings.Contains(e.Message, part) {
			t.Errorf("%s: %v, want …%s…", text, e, part)
		}
	}
}

// IEC 61131-3 Ed. 3, Table 5: the standard's own examples, and their rule.
func TestNumbers(t *testing.T) {
	for text, want := range map[string]any{
		"123_4": int64(1234), "2#1111_0000": int64(240), "16#FF": int64(255), "16#ff": int64(255), "8#377": int64(255),
		"0.0": 0.0, "1.34E-12": 1.34e-12, "1.0E+6": 1e6, "12.3_4": 12.34,
	} {
		l := lex(text)
		if len(l.faults) > 0 || l.tokens[0].value != want {
			t.Errorf("%s: %v, %v", text, l.tokens[0].value, l.faults)
		}
	}
	for _, text := range []string{"1.", ".5", "1E5", "1E-5", "1.0E", "1__2", "1_", "2#12", "7#1", "16#", "16#G", "99999999999999999999", "1.5.2", "12V7", "1.e5", "1.0E999"} {
		if e := first(t, lex(text).faults); e.Source != iecNumbers {
			t.Errorf("%s: %v", text, e)
		}
	}
	if l := lex("1..5"); len(l.faults) > 0 || len(l.tokens) != 4 {
		t.Errorf("1..5 reads as %v, %v", l.tokens, l.faults)
	}
}

// IEC 61131-3 Ed. 3, Tables 2, 6 and 7.
func TestNamesAndStrings(t *testing.T) {
	for _, text := range []string{"_12V7", "A_BCD", "AB_CD", "x", "IW215Z"} {
		if l := lex(text); len(l.faults) > 0 || l.tokens[0].kind != tokName {
			t.Errorf("%s: %v", text, l.faults)
		}
	}
	for _, text := range []string{"__LIM", "LIM__SW5", "LIM_SW5_"} {
		if e := first(t, lex(text).faults); e.Source != iecNames {
			t.Errorf("%s: %v", text, e)
		}
	}
	if l := lex("'a$$b$'c$0Ad$N'"); len(l.faults) > 0 || l.tokens[0].value != "a$b'c\nd\n" {
		t.Errorf("%q, %v", l.tokens[0].value, l.faults)
	}
	for _, text := range []string{"'open", "'a$Qb'", "'a$4'", "'ü'", "'a\nb'"} {
		if len(lex(text).faults) == 0 {
			t.Errorf("%q is accepted", text)
		}
	}
}

func TestSyntaxRefused(t *testing.T) {
	for _, c := range []struct {
		text   string
		line   int
		source string
		part   string
	}{
		{around("x : INT", "x := 1;"), 4, iecSyntax, `";" was wanted`},
		{around("x : INT;", "x := 1"), 6, iecSyntax, `";" was wanted`},
		{around("x : INT;", "x = 1;"), 5, iecSyntax, `":=" or "("`},
		{around("x : INT;", "IF x = 1 THEN x := 2;"), 6, iecSyntax, "END_IF"},
		{around("x : INT;", "IF x = 1 x := 2; END_IF;"), 5, iecSyntax, `"THEN" was wanted`},
		{around("x : INT;", "IF x = 1 THEN x := 2; END_IF"), 6, iecSyntax, `";" was wanted`},
		{around("x : INT;", "x := (1;"), 5, iecSyntax, `")" was wanted`},
		{around("x : INT;", "x := ;"), 5, iecSyntax, "a value was wanted"},
		{around("x : INT;", "x := 1 + ;"), 5, iecSyntax, "a value was wanted"},
		{around("x : INT;", "x := --1;"), 5, iecSyntax, "a value was wanted"},
		{around("x : INT;", "END_WHILE;"), 5, iecSyntax, "a statement"},
		{around("step : INT;", ""), 3, iecNames, `"STEP" is a keyword`},
		{around("to : INT;", ""), 3, iecNames, `"TO" is a keyword`},
		{around("x : INTEGR = 1;", ""), 3, iecSyntax, `";" was wanted`},
		{around("x : ARRAY[0..] OF INT;", ""), 3, iecSyntax, "a value was wanted"},
		{around("x : ARRAY(0..1) OF INT;", ""), 3, iecSyntax, `"[" was wanted`},
		{around("x : STRING(8);", ""), 3, iecSyntax, `";" was wanted`},
		{around("t : TON;", "t(TRUE, T#1s);"), 5, iecBlocks, "called with names"},
		{around("t : TON; b : BOOL;", "t(b, T#1s);"), 5, iecBlocks, "called with names"},
		{around("x : INT;", "(* one (* two *) x := 1;"), 5, iecComments, "inside another"},
		{around("x : INT;", "(* open"), 5, iecComments, "never closed"},
		{around("x : INT;", "x := 1; ü"), 5, iecCharacters, "no place"},
		{around("x : INT;", "FOR x := 1 TO 3 x := 1; END_FOR;"), 5, iecSyntax, `"DO" was wanted`},
		{around("x : INT;", "CASE x OF END_CASE;"), 5, iecSyntax, "no branch"},
		{around("x : INT;", "CASE x OF 1: x := 2; ELSE x := 1 END_CASE;"), 5, iecSyntax, `";" was wanted`},
		{around("x : INT;", "REPEAT x := 1; END_REPEAT;"), 5, iecSyntax, "UNTIL"},
		{"VAR x : INT; END_VAR", 1, iecSyntax, `"PROGRAM" was wanted`},
		{"PROGRAM p END_PROGRAM x", 1, iecSyntax, "after END_PROGRAM"},
		{"PROGRAM if END_PROGRAM", 1, iecNames, "keyword"},
		{"PROGRAM p\nVAR_INPUT CONSTANT\nx : INT;\nEND_VAR\nEND_PROGRAM", 2, iecVariables, "CONSTANT"},
		{around("a, b AT %QX0.0 : BOOL;", ""), 3, iecVariables, "one address"},
		{around("a AT %ZX0 : BOOL;", ""), 3, "IEC 61131-3, Table 16", "no direct address"},
		{around("x : INT;", "x := LIMIT(MN := 1, IN := 2, MX := 3);"), 5, iecFunctions, "without the names"},
		{around("x : INT;", "x := "+strings.Repeat("(", 500)+"1;"), 5, iecSyntax, "nested deeper"},
		{"", 1, iecSyntax, "the end of the text"},
	} {
		p, faults := Parse(c.text)
		if p != nil {
			t.Errorf("accepted:\n%s", c.text)
			continue
		}
		if e := first(t, faults); e.Line != c.line || e.Source != c.source || !strings.Contains(e.Message, c.part) {
			t.Errorf("got %v, want line %d …%s… [%s]\n%.200s", e, c.line, c.part, c.source, c.text)
		}
	}
}

func TestSyntaxAccepted(t *testing.T) {
	for _, text := range []string{
		"PROGRAM p END_PROGRAM",
		around("x, y : INT := 3; z AT %QX0.1 : BOOL; w AT %I* : WORD;", ";; x := y; // to the end\n(* a\nb *) y := x;"),
		"TYPE pose : STRUCT x : LREAL; y : LREAL := 1.5; END_STRUCT; END_TYPE\n" + around("a : pose := (x := 1.0);", "a.x := a.y;"),
		around("a : ARRAY[1..2, 0..1] OF INT := [1, 2, 2(0)];", "a[1, 0] := a[2, 1] MOD 3;"),
		around("m : MC_BUFFER_MODE := MC_BUFFER_MODE#mcAborting; i : INT := INT#-5;", "m := mcBuffered;"),
		around("i : INT;", "CASE i OF 1: i := 2; 2, 3: ; -5..-4: EXIT; 7..9: i := 1; IF TRUE THEN RETURN; END_IF; ELSE CONTINUE; END_CASE;"),
		around("i : INT;", "WHILE i < 3 DO i := i + 1; END_WHILE; REPEAT i := i - 1; UNTIL i = 0 END_REPEAT; FOR i := 1 TO 9 BY 2 DO ; END_FOR;"),
		around("x : REAL;", "x := 2.0 ** 3.0 * -x + SIN(x) / ABS(-1.0);"),
		"program P var constant K : int := 1; end_var var retain r : bool; end_var end_program",
	} {
		if _, faults := Parse(text); len(faults) > 0 {
			t.Errorf("%v\n%s", faults, text)
		}
	}
}

func TestPortable(t *testing.T) {
	structs := "TYPE pose : STRUCT x : LREAL; y : LREAL; END_STRUCT; END_TYPE\n"
	for _, c := range []struct{ text, part string }{
		{around("s : STRING[80];", ""), "STRING[n]"},
		{around("s : ARRAY[0..1] OF STRING[80];", ""), "STRING[n]"},
		{structs + around("p : pose := (x := 1.0);", ""), "structure's initial"},
		{structs + around("p : ARRAY[0..1] OF pose := [(x := 1.0), (x := 2.0)];", ""), "array of structures"},
		{"TYPE pose : STRUCT x, y : LREAL; END_STRUCT; END_TYPE\n" + around("p : pose;", ""), "one name to a field"},
		{around("a : ARRAY[0..3] OF INT := [4(0)];", ""), "repetition"},
		{around("a : INT; {pragma}", ""), "pragma"},
		{around("a : INT; /* c */", ""), "edition 3"},
		{around("t : TIME := T#1m_30s;", ""), "underscores"},
		{around("a : INT := 8#17;", ""), "deprecated"},
		{around("x : LREAL;", "x := -x ** 2.0;"), "binds differently"},
		{around("x : LREAL;", "x := 1E-5;"), "1.0E-5"},
		{around("x : LREAL;", "x := 1.;"), "both sides"},
		{around("x : LREAL;", "x := .5;"), "both sides"},
		{around("x LREAL;", ""), "was wanted"},
	} {
		if e := first(t, Portable(c.text)); !strings.Contains(e.Message, c.part) {
			t.Errorf("got %v, want …%s…\n%s", e, c.part, c.text)
		}
	}
	good := structs + around("p : pose; a : ARRAY[0..1] OF LREAL := [1.0E-5, -2.5]; s : STRING; t : TIME := T#1m30s;", "p.x := (-a[0]) ** 2.0; (* fine *)")
	if faults := Portable(good); len(faults) > 0 {
		t.Error(faults)
	}
}

func FuzzParse(f *testing.F) {
	f.Add(around("x : INT := 1; t : TON;", "CASE x OF 1..2: t(IN := TRUE, PT := T#1s); ELSE x := x + 1; END_CASE;"))
	f.Add(around("a : ARRAY[0..3] OF LREAL := [1.0, 3(0.5)];", "a[1] := -a[2] ** 2.0;"))
	f.Add(workingProgram)
	f.Fuzz(func(t *testing.T, text string) {
		Portable(text)
		p, faults := Parse(text)
		if (p == nil) == (len(faults) == 0) {
			t.Fatal("a program beside faults, or neither")
		}
		if p == nil || len(Check(p)) > 0 {
			return
		}
		Motion(p)
		m, err := NewMachine(p, Options{Statements: 1000})
		if err != nil {
			return
		}
		for range 5 {
			if err := m.Step(time.Millisecond); err != nil {
				return
			}
		}
	})
}
