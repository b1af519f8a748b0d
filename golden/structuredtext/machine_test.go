package structuredtext

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// workingProgram makes three moves with a gripper output and a pause, and
// stops the group when a block answers Error.
const workingProgram = `TYPE Axes : ARRAY[0..5] OF LREAL; END_TYPE
PROGRAM three_moves
VAR_EXTERNAL
  Arm : AXES_GROUP_REF;
END_VAR
VAR_OUTPUT
  Grip : BOOL;
  Finished : BOOL;
  Stopped : BOOL;
END_VAR
VAR CONSTANT
  LAST : INT := 4;
END_VAR
VAR
  X : ARRAY[1..4] OF LREAL := [10.0, 20.0, 0.0, 30.0];
  Kind : ARRAY[1..4] OF INT := [1, 2, 3, 1];
  Enable : MC_GroupEnable;
  Travel : MC_MoveDirectAbsolute;
  Straight : MC_MoveLinearAbsolute;
  Halt : MC_GroupStop;
  Pause : TON;
  Target : Axes;
  State : INT := 0;
  n : INT := 1;
END_VAR
CASE State OF
  0: (* enable the group *)
    Enable(AxesGroup := Arm, Execute := TRUE);
    IF Enable.Done THEN
      Enable(AxesGroup := Arm, Execute := FALSE);
      State := 1;
    ELSIF Enable.Error THEN
      State := 99;
    END_IF;
  1: // one step of the table
    Target[0] := X[n];
    CASE Kind[n] OF
      1:
        Travel(AxesGroup := Arm, Execute := TRUE, Position := Target, Velocity := 500.0, Acceleration := 2000.0, Deceleration := 2000.0,
               CoordSystem := mcMCS, BufferMode := mcAborting, TransitionMode := mcTMNone);
        IF Travel.Done THEN
          Travel(AxesGroup := Arm, Execute := FALSE);
          State := 2;
        ELSIF Travel.Error OR Travel.CommandAborted THEN
          State := 99;
        END_IF;
      2:
        Straight(AxesGroup := Arm, Execute := TRUE, Position := Target, Velocity := 80.0, Acceleration := 2000.0, Deceleration := 2000.0,
                 CoordSystem := mcMCS, BufferMode := mcAborting, TransitionMode := mcTMNone);
        IF Straight.Done THEN
          Straight(AxesGroup := Arm, Execute := FALSE);
          Grip := TRUE;
          State := 2;
        ELSIF Straight.Error OR Straight.CommandAborted THEN
          State := 99;
        END_IF;
      3:
        Pause(IN := TRUE, PT := T#40ms);
        IF Pause.Q THEN
          Pause(IN := FALSE);
          State := 2;
        END_IF;
    END_CASE;
  2:
    IF n = LAST THEN
      Finished := TRUE;
    ELSE
      n := n + 1;
      State := 1;
    END_IF;
  99:
    Halt(AxesGroup := Arm, Execute := TRUE, Deceleration := 5000.0, Jerk := 50000.0);
    Stopped := Halt.Done;
END_CASE;
END_PROGRAM
`

func machine(t *testing.T, text string, o Options) *Machine {
	t.Helper()
	p, faults := Parse(text)
	if p == nil {
		t.Fatal(faults)
	}
	m, err := NewMachine(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// story tells the log in short.
func story(log []Entry) string {
	var parts []string
	for _, e := range log {
		switch {
		case e.Kind == Output:
			parts = append(parts, fmt.Sprintf("%s=%v", e.Name, e.Value))
		case e.Kind == Started && e.Inputs["Position"] != nil:
			parts = append(parts, fmt.Sprintf("%s started %v", e.Instance, e.Inputs["Position"].([]Value)[0]))
		case e.Kind == Started && e.Block == "TON":
			parts = append(parts, fmt.Sprintf("%s started %v", e.Instance, e.Inputs["PT"]))
		default:
			parts = append(parts, fmt.Sprintf("%s %s", e.Instance, e.Kind))
		}
	}
	return strings.Join(parts, "; ")
}

func TestWholeProgram(t *testing.T) {
	p, faults := Parse(workingProgram)
	if p == nil {
		t.Fatal(faults)
	}
	if faults := append(append(Check(p), Portable(workingProgram)...), Motion(p)...); len(faults) > 0 {
		t.Error(faults)
	}
	m := machine(t, workingProgram, Options{})
	if err := m.RunUntil("Finished", 10*time.Millisecond, 200); err != nil {
		t.Fatal(err)
	}
	want := "Enable started; Enable done; Travel started 10; Travel done; Straight started 20; Straight done; Grip=true; " +
		"Pause started 40ms; Pause done; Travel started 30; Travel done; Finished=true"
	if got := story(m.Log); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	var waited time.Duration
	for _, e := range m.Log {
		switch {
		case e.Instance == "Pause" && e.Kind == Started:
			waited = -e.Time
		case e.Instance == "Pause" && e.Kind == Done:
			waited += e.Time
		}
	}
	if waited != 40*time.Millisecond {
		t.Errorf("the pause took %v", waited)
	}
	if m.GroupState("arm") != groupStandby {
		t.Errorf("the group is in %s", m.GroupState("Arm"))
	}
}

func TestFaultStopsTheProgram(t *testing.T) {
	starts := 0
	o := Options{Enabled: true, Fault: func(e Entry) int64 {
		if starts++; e.Block == "MC_MoveLinearAbsolute" {
			return 0x1234
		}
		return 0
	}}
	m := machine(t, workingProgram, o)
	if err := m.RunUntil("Stopped", 10*time.Millisecond, 100); err != nil {
		t.Fatal(err)
	}
	want := "Enable started; Enable done; Travel started 10; Travel done; Straight started 20; Straight failed; Halt started; Halt done; Stopped=true"
	if got := story(m.Log); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if m.GroupState("Arm") != groupErrorStop || m.Log[5].ErrorID != 0x1234 || starts != 4 {
		t.Errorf("state %s, entry %+v, %d starts", m.GroupState("Arm"), m.Log[5], starts)
	}
}

// mover is a block with everything constant, driven from outside by Go.
const mover = `TYPE Axes : ARRAY[0..5] OF LREAL; END_TYPE
PROGRAM p
VAR_INPUT Go, Go2 : BOOL; END_VAR
VAR_EXTERNAL Arm : AXES_GROUP_REF; END_VAR
VAR
  a, b : MC_MoveLinearAbsolute; P1 : Axes; V : REAL := 10.0;
  Done1, Busy1, Act1, Abort1, Err1 : BOOL; Id1 : WORD;
END_VAR
a(AxesGroup := Arm, Execute := Go, Position := P1, Velocity := V, BufferMode := mcAborting,
  Done => Done1, Busy => Busy1, Active => Act1, CommandAborted => Abort1, Error => Err1, ErrorID => Id1);
b(AxesGroup := Arm, Execute := Go2, Position := P1, Velocity := 1.0, BufferMode := WANTED);
END_PROGRAM`

func steps(t *testing.T, m *Machine, n int) {
	t.Helper()
	for range n {
		if err := m.Step(time.Millisecond); err != nil {
			t.Fatal(err)
		}
	}
}

func set(t *testing.T, m *Machine, name string, v Value) {
	t.Helper()
	if err := m.Set(name, v); err != nil {
		t.Fatal(err)
	}
}

func flags(m *Machine) string {
	text := ""
	for _, name := range []string{"Done1", "Busy1", "Act1", "Abort1", "Err1"} {
		if v, _ := m.Get(name); v == true {
			text += name + " "
		}
	}
	return text
}

func buffered(mode string) string { return strings.ReplaceAll(mover, "WANTED", mode) }

// PLCopen Part 1 V2.0, 2.4: the outputs exclude each other; Done stays while
// Execute is TRUE, and for one call when Execute has gone before.
func TestOutputsOfABlock(t *testing.T) {
	m := machine(t, buffered("mcAborting"), Options{Enabled: true, Cycles: 2})
	set(t, m, "Go", true)
	for i, want := range []string{"Busy1 Act1 ", "Busy1 Act1 ", "Done1 ", "Done1 "} {
		steps(t, m, 1)
		if got := flags(m); got != want {
			t.Errorf("scan %d: %q, want %q", i+1, got, want)
		}
	}
	set(t, m, "Go", false)
	steps(t, m, 1)
	if got := flags(m); got != "" {
		t.Errorf("after Execute has gone: %q", got)
	}
	set(t, m, "Go", true)
	steps(t, m, 1)
	set(t, m, "Go", false)
	for i, want := range []string{"Busy1 Act1 ", "Done1 ", ""} {
		steps(t, m, 1)
		if got := flags(m); got != want {
			t.Errorf("a short Execute, scan %d: %q, want %q", i+1, got, want)
		}
	}
}

func TestNoEdgeNoStart(t *testing.T) {
	m := machine(t, buffered("mcAborting"), Options{Enabled: true, Cycles: 1})
	set(t, m, "Go", true)
	steps(t, m, 3)
	set(t, m, "P1[0]", 5.0) // a new target, but Execute has never gone FALSE
	steps(t, m, 3)
	if got := story(m.Log); got != "a started 0; a done; a ignored" {
		t.Errorf("got %s", got)
	}
}

func TestBufferModes(t *testing.T) {
	for mode, want := range map[string]string{
		"mcAborting": "a started 0; b started 0; a aborted; b done",
		"mcBuffered": "a started 0; b started 0; a done; b done",
	} {
		m := machine(t, buffered(mode), Options{Enabled: true, Cycles: 3})
		set(t, m, "Go", true)
		steps(t, m, 1)
		set(t, m, "Go2", true)
		steps(t, m, 8)
		if got := story(m.Log); got != want {
			t.Errorf("%s: %s, want %s", mode, got, want)
		}
	}
}

func TestStatesRefuse(t *testing.T) {
	m := machine(t, buffered("mcAborting"), Options{})
	set(t, m, "Go", true)
	steps(t, m, 1)
	if id, _ := m.Get("Id1"); flags(m) != "Err1 " || id != int64(errorState) {
		t.Errorf("a disabled group moves: %q, %v", flags(m), id)
	}
	m = machine(t, buffered("mcAborting"), Options{Enabled: true})
	set(t, m, "V", -1.0)
	set(t, m, "Go", true)
	steps(t, m, 1)
	if id, _ := m.Get("Id1"); flags(m) != "Err1 " || id != int64(errorInputs) {
		t.Errorf("a negative velocity: %q, %v", flags(m), id)
	}
}

func TestTransform(t *testing.T) {
	text := `TYPE Axes : ARRAY[0..5] OF LREAL; END_TYPE
PROGRAM p
VAR_EXTERNAL Arm : AXES_GROUP_REF; END_VAR
VAR f : MC_SetCartesianTransform; a : MC_MoveLinearAbsolute; P1 : Axes; END_VAR
f(AxesGroup := Arm, Execute := TRUE, TransX := 100.0, RotAngle3 := 90.0, ExecutionMode := mcImmediately);
a(AxesGroup := Arm, Execute := f.Done, Position := P1, Velocity := 1.0, CoordSystem := mcPCS);
END_PROGRAM`
	m := machine(t, text, Options{Enabled: true})
	steps(t, m, 6)
	for _, e := range m.Log {
		if e.Kind == Started && e.Instance == "a" {
			if fmt.Sprint(e.Transform) != "[100 0 0 0 0 90]" || e.Inputs["CoordSystem"] != Enum("mcPCS") {
				t.Errorf("got %+v", e)
			}
			return
		}
	}
	t.Errorf("the move never starts: %s", story(m.Log))
}

// value runs "y := expression" once.
func value(t *testing.T, typ, expression string) (Value, error) {
	t.Helper()
	const vars = "i : INT := 7; j : INT := -7; d : DINT := 100000; x : LREAL := 2.5; b : BOOL := TRUE; w : WORD := 16#00F0; z : INT; r : REAL := 0.1; "
	m := machine(t, around(vars+"y : "+typ+";", "y := "+expression+";"), Options{})
	if err := m.Step(time.Second); err != nil {
		return nil, err
	}
	v, _ := m.Get("y")
	return v, nil
}

// IEC 61131-3 Ed. 3: Table 71 (precedence), Table 29 (arithmetic), Table 22
// (conversions round to nearest, half to even).
func TestExpressions(t *testing.T) {
	for _, c := range []struct {
		typ, expression string
		want            Value
	}{
		{"INT", "2 + 3 * 4", int64(14)},
		{"INT", "(2 + 3) * 4", int64(20)},
		{"INT", "10 - 3 - 2", int64(5)},
		{"INT", "i / 2", int64(3)},
		{"INT", "j / 2", int64(-3)},
		{"INT", "j MOD 4", int64(-3)},
		{"LREAL", "2.0 ** 3.0 ** 2.0", 64.0},
		{"LREAL", "2.0 * 3.0 ** 2.0", 18.0},
		{"LREAL", "i / 2.0", 3.5},
		{"LREAL", "x + i", 9.5},
		{"BOOL", "TRUE OR FALSE AND FALSE", true},
		{"BOOL", "TRUE XOR TRUE AND FALSE", true},
		{"BOOL", "NOT FALSE AND FALSE", false},
		{"BOOL", "1 < 2 = TRUE", true},
		{"BOOL", "i >= 7 AND j <> 7", true},
		{"WORD", "w OR 16#0F", int64(0xFF)},
		{"WORD", "NOT w", int64(0xFF0F)},
		{"INT", "LREAL_TO_INT(2.5)", int64(2)},
		{"INT", "LREAL_TO_INT(3.5)", int64(4)},
		{"INT", "LREAL_TO_INT(-2.6)", int64(-3)},
		{"DINT", "TRUNC(-2.6)", int64(-2)},
		{"TIME", "LREAL_TO_TIME(400.0)", 400 * time.Millisecond},
		{"TIME", "T#1s * 0.4", 400 * time.Millisecond},
		{"TIME", "T#1s - T#250ms", 750 * time.Millisecond},
		{"LREAL", "LIMIT(0.0, x, 1.0)", 1.0},
		{"INT", "MAX(i, j, 3) + MIN(i, j)", int64(0)},
		{"INT", "SEL(b, 1, 2)", int64(2)},
		{"INT", "ABS(j)", int64(7)},
		{"LREAL", "r", float64(float32(0.1))},
		{"INT", "BOOL_TO_INT(b)", int64(1)},
	} {
		got, err := value(t, c.typ, c.expression)
		if err != nil || got != c.want {
			t.Errorf("%s = %v, %v; want %v", c.expression, got, err, c.want)
		}
	}
	if got, err := value(t, "LREAL", "SQRT(2.0) * SIN(0.5)"); err != nil || math.Abs(got.(float64)-math.Sqrt2*math.Sin(0.5)) > 1e-15 {
		t.Errorf("%v, %v", got, err)
	}
}

func TestFaultsWhileRunning(t *testing.T) {
	for _, c := range []struct{ vars, body, part string }{
		{"a : ARRAY[1..2] OF INT; i : INT := 3;", "a[i] := 1;", "index 3 is outside 1..2"},
		{"i : INT := 32767;", "i := i + 1;", "does not fit INT"},
		{"i : INT; z : INT;", "i := 1 / z;", "division by zero"},
		{"x : LREAL; y : LREAL;", "x := 1.0 / y;", "division by zero"},
		{"x : LREAL;", "x := SQRT(-1.0 + x);", "NaN"},
		{"i : INT; d : DINT := 70000;", "i := DINT_TO_INT(d);", "does not fit INT"},
		{"i : INT;", "WHILE TRUE DO i := 1; END_WHILE;", "statements"},
		{"i : INT;", "WHILE TRUE DO END_WHILE;", "does not end"},
		{"i : SINT;", "FOR i := 1 TO 127 DO END_FOR;", "does not fit SINT"},
		{"i, n : INT;", "FOR i := 1 TO 3 BY n DO END_FOR;", "by 0"},
	} {
		m := machine(t, around(c.vars, c.body), Options{Statements: 1000})
		if err := m.Step(0); err == nil || !strings.Contains(err.Error(), c.part) {
			t.Errorf("%s: got %v, want …%s…", c.body, err, c.part)
		}
	}
}

func TestLoops(t *testing.T) {
	for _, c := range []struct {
		body string
		want int64
	}{
		{"FOR i := 1 TO 4 DO n := n + i; END_FOR;", 10},
		{"FOR i := 4 TO 1 BY -2 DO n := n + i; END_FOR;", 6},
		{"FOR i := 4 TO 1 DO n := n + i; END_FOR;", 0},
		{"FOR i := 1 TO 4 DO IF i = 3 THEN EXIT; END_IF; n := n + i; END_FOR;", 3},
		{"FOR i := 1 TO 4 DO IF i = 3 THEN CONTINUE; END_IF; n := n + i; END_FOR;", 7},
		{"FOR i := 1 TO 4 DO IF i = 3 THEN RETURN; END_IF; n := n + i; END_FOR; n := 99;", 3},
		{"WHILE n < 5 DO n := n + 2; END_WHILE;", 6},
		{"REPEAT n := n + 2; UNTIL n > 0 END_REPEAT;", 2},
		{"CASE n OF 1: n := 5; 0, 7: n := 6; END_CASE;", 6},
		{"CASE n OF -3..2: n := 5; ELSE n := 6; END_CASE;", 5},
		{"CASE n OF 1: n := 5; ELSE n := 6; END_CASE;", 6},
	} {
		m := machine(t, around("i, n : INT;", c.body), Options{})
		steps(t, m, 1)
		if got, _ := m.Get("n"); got != c.want {
			t.Errorf("%s gives %v, want %d", c.body, got, c.want)
		}
	}
}

// IEC 61131-3 Ed. 3, Tables 44 and 46: edges and timers, scan by scan, 10 ms
// each, PT 25 ms.
func TestEdgesAndTimers(t *testing.T) {
	text := `PROGRAM p
VAR_INPUT In1 : BOOL; END_VAR
VAR a : TON; b : TOF; c : TP; r : R_TRIG; f : F_TRIG; END_VAR
a(IN := In1, PT := T#25ms); b(IN := In1, PT := T#25ms); c(IN := In1, PT := T#25ms); r(CLK := In1); f(CLK := In1);
END_PROGRAM`
	m := machine(t, text, Options{})
	got := map[string]string{}
	for _, in := range "0111110000010000" {
		set(t, m, "In1", in == '1')
		if err := m.Step(10 * time.Millisecond); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"a.Q", "b.Q", "c.Q", "r.Q", "f.Q"} {
			v, _ := m.Get(name)
			got[name] += fmt.Sprint(asBit(v.(bool)))
		}
	}
	for name, want := range map[string]string{
		"a.Q": "0000110000000000", "b.Q": "0111111110011110", "c.Q": "0111000000011100",
		"r.Q": "0100000000010000", "f.Q": "0000001000001000",
	} {
		if got[name] != want {
			t.Errorf("%s: %s, want %s", name, got[name], want)
		}
	}
}

func TestNewMachineRefusesWhatCheckRefuses(t *testing.T) {
	p, _ := Parse(around("i : INT;", "i := TRUE;"))
	if _, err := NewMachine(p, Options{}); err == nil {
		t.Error("accepted")
	}
}

func TestGetAndSet(t *testing.T) {
	m := machine(t, "TYPE pose : STRUCT x : LREAL := 1.5; y : LREAL; END_STRUCT; END_TYPE\n"+
		around("p : ARRAY[0..1] OF pose; a : ARRAY[1..2, 0..1] OF INT := [1, 2, 2(3)]; q AT %QB0 : ARRAY[0..1] OF BOOL;", "p[1].x := 4.5; q[1] := TRUE;"), Options{})
	steps(t, m, 1)
	if v, _ := m.Get("p[1]"); fmt.Sprint(v) != "map[x:4.5 y:0]" {
		t.Errorf("%v", v)
	}
	if v, _ := m.Get("p[0].x"); v != 1.5 {
		t.Errorf("%v", v)
	}
	if v, _ := m.Get("a"); fmt.Sprint(v) != "[1 2 3 3]" {
		t.Errorf("%v", v)
	}
	if got := story(m.Log); got != "q[1]=true" {
		t.Errorf("%s", got)
	}
	for _, name := range []string{"nope", "a[9, 0]", "a[1]", "p[0].z", "1", "a[", ""} {
		if _, ok := m.Get(name); ok {
			t.Errorf("%q is found", name)
		}
	}
	if m.Set("a", int64(1)) == nil || m.Set("p[0].x", true) == nil || m.Set("a[1, 1]", int64(70000)) == nil {
		t.Error("a wrong value is taken")
	}
}
