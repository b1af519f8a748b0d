package structuredtext

import (
	"strings"
	"testing"
)

func TestMeaningRefused(t *testing.T) {
	const numbers = "b : BOOL; i : INT; d : DINT; u : UINT; r : REAL; x : LREAL; t : TIME; w : WORD; s : STRING; a : ARRAY[1..3] OF LREAL; "
	const blocks = numbers + "g : AXES_GROUP_REF; mv : MC_MoveLinearAbsolute; ton1 : TON; ge : MC_GroupEnable; "
	for _, c := range []struct{ vars, body, source, part string }{
		{"", "x := 1;", iecVariables, `"x" is not declared`},
		{"x : INT; X : DINT;", "", iecNames, "declared already"},
		{"x : FLOAT;", "", iecTypes, `type "FLOAT" is not declared`},
		{"ton : BOOL;", "", iecNames, "name of a type or function block"},
		{"abs : BOOL;", "", iecNames, "standard function"},
		{"mcMCS : INT;", "", iecNames, "value of MC_COORD_SYSTEM"},
		{"demo : INT;", "", iecNames, "own name"},
		{numbers, "i := d;", iecConvert, "DINT_TO_INT converts"},
		{numbers, "i := x;", iecConvert, "LREAL_TO_INT converts"},
		{numbers, "r := x;", iecConvert, "LREAL_TO_REAL converts"},
		{numbers, "r := d;", iecConvert, "REAL was wanted, found DINT"},
		{numbers, "d := u; u := d;", iecConvert, "UINT was wanted"},
		{numbers, "u := i;", iecConvert, "UINT was wanted, found INT"},
		{numbers, "b := i;", iecConvert, "BOOL was wanted"},
		{numbers, "b := 1;", iecConvert, "BOOL was wanted"},
		{numbers, "i := b;", iecConvert, "INT was wanted"},
		{numbers, "i := 1.0;", iecConvert, "INT was wanted"},
		{numbers, "t := 5;", iecConvert, "TIME was wanted"},
		{numbers, "x := t;", iecConvert, "LREAL was wanted"},
		{numbers, "x := LREAL_TO_TIME(x);", iecConvert, "found TIME"},
		{numbers, "s := i;", iecConvert, "STRING was wanted"},
		{numbers, "w := i;", iecConvert, "WORD was wanted"},
		{numbers, "i := 32768;", iecTypes, "does not fit INT"},
		{numbers, "i := -32769;", iecTypes, "does not fit INT"},
		{numbers, "i := 30000 + 10000;", iecTypes, "40000 does not fit INT"},
		{numbers, "u := -1;", iecTypes, "does not fit UINT"},
		{numbers, "w := 16#1_0000;", iecTypes, "does not fit WORD"},
		{numbers, "d := 2147483648;", iecTypes, "does not fit DINT"},
		{numbers, "i := INT#40000;", iecNumbers, "does not fit INT"},
		{numbers, "b := BOOL#2;", iecNumbers, "in front of"},
		{numbers, "i := i + b;", iecLanguage, `"+" does not go with INT and BOOL`},
		{numbers, "b := i AND b;", iecLanguage, `"AND" does not go with INT and BOOL`},
		{numbers, "b := i AND d;", iecLanguage, `"AND" does not go`},
		{numbers, "b := b < 3;", iecLanguage, `"<" does not go`},
		{numbers, "b := t > 3;", iecLanguage, `">" does not go`},
		{numbers, "x := x MOD 2.0;", iecLanguage, `"MOD" does not go`},
		{numbers, "i := i ** 2;", iecLanguage, `"**" does not go`},
		{numbers, "b := NOT i;", iecLanguage, "NOT wants BOOL"},
		{numbers, "b := -b;", iecLanguage, "signed number"},
		{numbers, "i := i / 0;", iecLanguage, "division by zero"},
		{numbers, "IF i THEN END_IF;", iecConvert, "BOOL was wanted"},
		{numbers, "WHILE i DO END_WHILE;", iecConvert, "BOOL was wanted"},
		{numbers, "x := a;", iecConvert, "found ARRAY OF LREAL"},
		{numbers + "c : ARRAY[1..3] OF LREAL; ", "a := c;", iecConvert, "ARRAY OF LREAL was wanted, found ARRAY OF LREAL"}, // a type each
		{numbers + "c : Three; ", "c := a;", iecConvert, "Three was wanted, found ARRAY OF LREAL"},
		{blocks, "mv(AxesGroup := g, Position := a);", iecConvert, "whose type has a name was wanted, found ARRAY OF LREAL"},
		{numbers, "a[0] := 1.0;", iecTypes, "index 0 is outside 1..3"},
		{numbers, "a[4] := 1.0;", iecTypes, "index 4 is outside 1..3"},
		{numbers + "k : INT;", "a[x] := 1.0;", iecTypes, "index must be a whole number"},
		{numbers, "a[1, 2] := 1.0;", iecTypes, "wants 1 indexes"},
		{numbers, "i[1] := 1;", iecTypes, "has no elements"},
		{numbers, "i.x := 1;", iecVariables, "has no part"},
		{"a : ARRAY[1..2] OF LREAL := [1.0, 2.0, 3.0];", "", iecVariables, "3 initial values for 2 elements"},
		{"a : ARRAY[1..2] OF LREAL := [2(1.0), 3.0];", "", iecVariables, "3 initial values for 2 elements"},
		{"a : ARRAY[1..2] OF INT := [1, 2.0];", "", iecConvert, "INT was wanted"},
		{"a : ARRAY[1..2] OF INT := [1, 70000];", "", iecTypes, "does not fit INT"},
		{"a : ARRAY[1..2] OF INT := [-1(0)];", "", iecVariables, "repeated -1 times"},
		{"a : ARRAY[1..1000] OF ARRAY[1..1000] OF INT;", "", iecTypes, "too long"},
		{"a : ARRAY[2..1] OF INT;", "", iecTypes, "empty"},
		{"n : INT := 3; a : ARRAY[1..n] OF INT;", "", iecTypes, "constant whole number"},
		{"i : INT := [1];", "", iecVariables, "a list of values for INT"},
		{"x : INT; i : INT := x;", "", iecVariables, "must be constant"},
		{numbers, "i();", iecBlocks, "cannot be called"},
		{numbers, "mcMCS := 1;", iecLanguage, "cannot be assigned to"},
		{numbers, "CASE i OF 1: ; 2, 1: ; END_CASE;", iecLanguage, "used before"},
		{numbers, "CASE i OF 1..5: ; 3: ; END_CASE;", iecLanguage, "used before"},
		{numbers, "CASE i OF d: ; END_CASE;", iecConvert, "INT was wanted"},
		{numbers + "j : INT;", "CASE i OF j: ; END_CASE;", iecLanguage, "must be constant"},
		{numbers, "CASE i OF 40000: ; END_CASE;", iecTypes, "does not fit INT"},
		{numbers, "CASE i OF 5..2: ; END_CASE;", iecLanguage, "CASE range"},
		{numbers, "CASE x OF 1: ; END_CASE;", iecLanguage, "CASE selects by"},
		{numbers, "FOR x := 1.0 TO 2.0 DO END_FOR;", iecLanguage, "integer type"},
		{numbers, "FOR i := 1 TO d DO END_FOR;", iecConvert, "INT was wanted"},
		{numbers, "FOR i := 1 TO 3 DO i := 2; END_FOR;", iecLanguage, "counts the loop"},
		{numbers, "FOR i := 1 TO 3 DO FOR i := 1 TO 2 DO END_FOR; END_FOR;", iecLanguage, "counts the loop"},
		{numbers, "FOR i := 1 TO 3 BY 0 DO END_FOR;", iecLanguage, "by 0"},
		{numbers, "EXIT;", iecLanguage, "outside every loop"},
		{"END_VAR VAR CONSTANT k : INT := 1;", "k := 2;", iecVariables, "is a constant"},
		{"END_VAR VAR CONSTANT k : INT := 1;", "FOR k := 2 TO 3 DO END_FOR;", iecVariables, "is a constant"},
		{"END_VAR VAR CONSTANT k : INT;", "", iecVariables, "has no value"},
		{"END_VAR VAR CONSTANT t1 : TON;", "", iecVariables, "may not be CONSTANT"},
		{"END_VAR VAR_INPUT go : BOOL;", "go := FALSE;", iecVariables, "is an input"},
		{"go AT %IX0.0 : BOOL;", "go := FALSE;", iecVariables, "lies in the inputs"},
		{"END_VAR VAR_EXTERNAL g : BOOL := TRUE;", "", iecVariables, "may not have an initial value"},
		{numbers, "i := FOO(1);", iecFunctions, `function "FOO"`},
		{blocks, "b := ton1(TRUE);", iecFunctions, "no function"},
		{numbers, "i := ABS(i, i);", iecFunctions, "1 to 1 were wanted"},
		{numbers, "i := LIMIT(1, x, 3);", iecConvert, "INT was wanted, found LREAL"},
		{numbers, "i := MAX(i, b);", iecFunctions, "does not go with"},
		{numbers, "x := SEL(i, 1.0, 2.0);", iecFunctions, "does not go with"},
		{numbers, "x := SIN(i);", iecFunctions, "does not go with"},
		{numbers, "i := DINT_TO_INT(x);", iecConvert, "DINT was wanted"},
		{blocks, "ton1(IN := 1, PT := T#1s);", iecConvert, "BOOL was wanted"},
		{blocks, "ton1(IN := TRUE, PT := 1.5);", iecConvert, "TIME was wanted"},
		{blocks, "ton1(In1 := TRUE);", iecBlocks, `no input or output "In1"`},
		{blocks, "ton1(IN := TRUE, IN := FALSE);", iecBlocks, "given twice"},
		{blocks, "ton1(IN => b);", iecBlocks, `it is given with ":="`},
		{blocks, "ton1(Q := TRUE);", iecBlocks, `taken with "=>"`},
		{blocks, "ton1(Q => i);", iecConvert, `"Q" gives BOOL`},
		{blocks, "ton1.IN := TRUE;", iecBlocks, "is an input of TON"},
		{blocks, "ton1.Q := TRUE;", iecBlocks, "outputs are only read"},
		{blocks, "b := ton1.Z;", iecVariables, "has no part"},
		{blocks, "b := ton1;", iecConvert, "BOOL was wanted, found TON"},
		{blocks, "ge(Execute := TRUE);", iecBlocks, `gives no "AxesGroup"`},
		{blocks, "ge(AxesGroup := 1, Execute := TRUE);", iecBlocks, "wants a variable"},
		{blocks, "ge(AxesGroup := b, Execute := TRUE);", iecBlocks, "of type AXES_GROUP_REF"},
		{blocks, "ge(AxesGroup => g);", iecBlocks, "is given with"},
		{blocks, "g := g;", plcopenBlocks, "cannot be assigned"},
		{blocks, "mv(AxesGroup := g, Velocity := x);", iecConvert, "LREAL_TO_REAL converts"},
		{blocks, "mv(AxesGroup := g, Velocity := TRUE);", iecConvert, "REAL was wanted"},
		{blocks, "mv(AxesGroup := g, Position := x);", iecConvert, "an array of REAL or LREAL whose type has a name was wanted"},
		{blocks + "ai : ARRAY[0..5] OF INT;", "mv(AxesGroup := g, Position := ai);", iecConvert, "an array of REAL or LREAL"},
		{blocks, "mv(AxesGroup := g, BufferMode := mcMCS);", iecConvert, "MC_BUFFER_MODE was wanted, found MC_COORD_SYSTEM"},
		{blocks, "mv(AxesGroup := g, BufferMode := 1);", iecConvert, "MC_BUFFER_MODE was wanted"},
		{blocks, "mv(AxesGroup := g, BufferMode := mcSoft);", iecVariables, "not declared"},
		{blocks, "mv(AxesGroup := g, CoordSystem := MC_COORD_SYSTEM#mcWCS);", iecTypes, "no value"}, // V2.0 draft only
		{blocks, "mv(AxesGroup := g, Distance := a);", iecBlocks, "no input"},
		{blocks, "mv(AxesGroup := g, ErrorID => i);", iecConvert, `"ErrorID" gives WORD`},
		{"wt : MC_GroupWaitTime;", "", plcopenBlocks, "V2.0"},
		{"g : AXES_GROUP_REF; st : MC_GroupStop;", "st(AxesGroup := g, Active => g);", iecBlocks, "no input or output"},
	} {
		text := around(c.vars, c.body)
		p, faults := Parse(text)
		if p == nil {
			t.Errorf("does not parse: %v\n%s", faults, text)
			continue
		}
		if e := firstOf(Check(p)); e == nil || e.Source != c.source || !strings.Contains(e.Message, c.part) {
			t.Errorf("%q: got %v, want …%s… [%s]", c.vars[max(0, len(c.vars)-40):]+" | "+c.body, e, c.part, c.source)
		}
	}
}

func firstOf(faults []error) *Error {
	if len(faults) == 0 {
		return nil
	}
	return faults[0].(*Error)
}

func TestMeaningAccepted(t *testing.T) {
	const vars = `b : BOOL; i : INT; d : DINT; u : UINT; r : REAL; x : LREAL; t : TIME; w : WORD; n : LINT;
		a : Three := [1.0, 2, -3.5E-2]; c : Three; g : AXES_GROUP_REF; mv : MC_MoveLinearAbsolute; tm : TON;
		cs : MC_COORD_SYSTEM := mcPCS; all : ARRAY[0..1] OF R_TRIG; q AT %QX0.0 : BOOL;
		END_VAR VAR CONSTANT k : INT := 2; big : DINT := 70000; half : LREAL := 1;`
	for _, body := range []string{
		"d := i; n := d; x := d; r := i; x := r; d := u;",
		"x := 1; x := -2; r := 1.5; w := 16#FFFF; i := -32768;",
		"i := DINT_TO_INT(d); d := LREAL_TO_DINT(x); x := DINT_TO_LREAL(d); t := LREAL_TO_TIME(x); r := LREAL_TO_REAL(x); d := WORD_TO_DINT(w);",
		"t := T#1s * x + T#5ms; b := t > T#0s; t := t / 2;",
		"i := ABS(i); x := MAX(x, 1.0, d); i := LIMIT(1, i, 9); x := SEL(b, x, 0.0); x := SQRT(x) ** 2;",
		"a[k] := a[k + 1]; a := c; a[i] := x * half / half;",
		"FOR i := k TO 9 BY -1 DO IF b THEN EXIT; END_IF; d := d + i; END_FOR;",
		"CASE i OF k: ; 3, 5..9: ; -4..-2: ; ELSE ; END_CASE; CASE cs OF mcACS: ; mcPCS: b := TRUE; END_CASE;",
		"mv(AxesGroup := g, Execute := b, Position := a, Velocity := r, BufferMode := mcAborting, TransitionMode := mcTMNone, Done => b, ErrorID => w); b := mv.Error;",
		"mv(AxesGroup := g, Velocity := i, Acceleration := 5, TransitionParameter := 1.5);",
		"tm(IN := b AND NOT tm.Q, PT := t, Q => b, ET => t); all[1](CLK := b); b := all[0].Q OR b XOR b & b; q := b;",
		"b := i < d = (x >= 1.0); b := cs = mcMCS; w := w AND 16#0F;",
	} {
		p, faults := Parse(around(vars, body))
		if p == nil {
			t.Errorf("%v\n%s", faults, body)
			continue
		}
		if faults := Check(p); len(faults) > 0 {
			t.Errorf("%v\n%s", faults, body)
		}
	}
}

func TestLongReals(t *testing.T) {
	p, _ := Parse(around("x : LREAL; g : AXES_GROUP_REF; mv : MC_MoveLinearAbsolute;", "mv(AxesGroup := g, Velocity := x);"))
	if len(Check(p)) != 1 || len(Check(p, Dialect{LongReals: true})) != 0 {
		t.Errorf("REAL: %v; LREAL: %v", Check(p), Check(p, Dialect{LongReals: true}))
	}
}

func TestFaultsInOrderOfPlace(t *testing.T) {
	p, _ := Parse(around("a : INT; A : INT;", "x := 1;\na := y;\nb := TRUE;"))
	var lines []int
	for _, f := range Check(p) {
		lines = append(lines, f.(*Error).Line)
	}
	if len(lines) != 4 || lines[0] != 3 || lines[1] != 5 || lines[2] != 6 || lines[3] != 7 {
		t.Errorf("lines %v: one fault each was wanted", lines)
	}
}

// PLCopen Part 1 V2.0, 2.4: Execute acts on the rising edge.
func TestMotionRule(t *testing.T) {
	const vars = "g : AXES_GROUP_REF; mv : MC_MoveLinearAbsolute; go, back : BOOL; always : BOOL := TRUE; i : INT; "
	for _, c := range []struct{ body, part string }{
		{"", "never called"},
		{"mv(AxesGroup := g, Execute := TRUE);", "never FALSE"},
		{"mv(AxesGroup := g, Execute := NOT FALSE);", "never FALSE"},
		{"mv(AxesGroup := g, Execute := always);", "never FALSE"},
		{"mv(AxesGroup := g, Execute := FALSE);", "never TRUE"},
		{"mv(AxesGroup := g);", "never TRUE"},
		{"mv(AxesGroup := g, Execute := go);", "never TRUE"},
		{"go := back; back := go; mv(AxesGroup := g, Execute := go);", "never TRUE"},
		{"go := TRUE; mv(AxesGroup := g, Execute := go);", ""},
		{"mv(AxesGroup := g, Execute := TRUE); IF mv.Done THEN mv(AxesGroup := g, Execute := FALSE); END_IF;", ""},
		{"CASE i OF 1: mv(AxesGroup := g, Execute := TRUE); ELSE mv(AxesGroup := g, Execute := FALSE); END_CASE;", ""},
		{"mv(AxesGroup := g, Execute := i = 1);", ""},
	} {
		p, faults := Parse(around(vars, c.body))
		if p == nil {
			t.Fatal(faults)
		}
		e := firstOf(Motion(p))
		if (e == nil) != (c.part == "") || e != nil && !strings.Contains(e.Message, c.part) {
			t.Errorf("%s: got %v, want %q", c.body, e, c.part)
		}
	}
}
