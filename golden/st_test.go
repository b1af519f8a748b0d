package golden

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	st "gridferry/golden/structuredtext"
)

// dialect is what the st family says of itself in AUTHORING: poses and speeds
// are LREAL.
var dialect = st.Dialect{LongReals: true}

// scan is how long one cycle of the simulated controller takes.
const scan = 50 * time.Millisecond

// TestStructuredTextPrograms parses every program, checks its meaning, holds it
// to the portable subset and runs it: the motions, outputs and waits are those
// of the move list, in order.
func TestStructuredTextPrograms(t *testing.T) {
	eachProgram(t, "st", func(t *testing.T, plan, program string) {
		if err := compareStructuredText(listMoves(t, plan), program); err != nil {
			t.Error(err)
		}
	})
}

// TestStructuredTextComparisonSees plants single faults in a sound program.
func TestStructuredTextComparisonSees(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: many programs are compared")
	}
	t.Chdir(demoFolder)
	const plan = "mortar-cubes-scale.plan.yaml"
	program := mustRun(t, "write", plan, "--family", "st", "-o", "-")
	moves := listMoves(t, plan)
	for _, change := range [][2]string{
		{"400.000,      0.000,    420.000", "400.050,      0.000,    420.000"},
		{"RotAngle3 := Position[6]", "RotAngle3 := Position[5]"},
		{"8.0, 0.0, 0.0,        0.0", "9.0, 0.0, 0.0,        0.0"},
		{"Outputs[LREAL_TO_DINT(Fields[12])] := Fields[13] > 0.5", "Outputs[LREAL_TO_DINT(Fields[12])] := Fields[13] < 0.5"},
		{"Fields[14] * 1000.0", "Fields[14] * 900.0"},
		{"RunDirect := FALSE;\n      Phase := 2", "Phase := 2"},
		{"LoadMass := Fields[16]", "LoadMass := Fields[15]"},
		{"RunLinear := TRUE", "RunDirect := TRUE"},
		{"Inputs[LREAL_TO_DINT(Fields[12])] = (", "Inputs[LREAL_TO_DINT(Fields[12])] <> ("},
		{"ToolInUse = ToolNumber", "TRUE"}, {"ABS(LoadInUse - LoadMass) < 0.0005", "TRUE"}, {"LoadCentre[Index] := Fields[3 + Index]", "LoadCentre[Index] := Fields[4 + Index]"},
		{"END_PROGRAM", "END_PROGRAMS"},
	} {
		changed := strings.Replace(program, change[0], change[1], 1)
		if changed == program {
			t.Errorf("the program holds no %q", change[0])
		} else if compareStructuredText(moves, changed) == nil {
			t.Errorf("%q in place of %q goes unseen", change[1], change[0])
		}
	}
}

// compareStructuredText runs a program and holds what happens to the move list.
func compareStructuredText(moves []listed, program string) error {
	parsed, faults := st.Parse(program)
	if parsed == nil {
		return fmt.Errorf("does not parse: %v", faults)
	}
	faults = append(append(st.Check(parsed, dialect), st.Portable(program)...), st.Motion(parsed)...)
	if len(faults) > 0 {
		return fmt.Errorf("%d faults: %v", len(faults), faults[:min(3, len(faults))])
	}
	machine, err := st.NewMachine(parsed, st.Options{Dialect: dialect, Cycles: 1})
	if err != nil {
		return err
	}
	c := controller{machine: machine, moves: moves}
	if err := c.run(); err != nil {
		return err
	}
	return compareDeeds(moves, c.deeds())
}

// controller is what stands around a program: it answers what the program asks,
// a few scans late, so that a program that does not wait is found out.
type controller struct {
	machine *st.Machine
	moves   []listed
	silent  int // an input that never comes; 0 for none

	asked   int64   // the tool number that the program asks for
	load    float64 // and the load
	since   int     // scans since it asked for them
	waiting int64   // the step whose input is held back
	held    int     // scans for which it has been
	fitting int     // scans for which another tool has been asked for
	seen    int     // entries of the log that were looked at
}

// late is how many scans an answer takes.
const late = 6

// starts is a way to start a program that is at rest: the inputs scan by scan.
var starts = []struct {
	start, at bool
	why       string // nothing may happen; "" where the program begins
}{
	{true, false, "without AtStart"}, {true, true, "AtStart comes while Start is on"}, {false, true, "Start goes off"}, {true, true, ""},
}

// begin starts the program as it may be started, and tries on the way how it must not be.
func (c *controller) begin() error {
	for _, s := range starts {
		if err := errors.Join(c.machine.Set("Start", s.start), c.machine.Set("AtStart", s.at)); err != nil {
			return err
		}
		if s.why == "" {
			return nil
		}
		before := len(c.machine.Log)
		for range late {
			if err := c.machine.Step(scan); err != nil {
				return err
			}
		}
		if len(c.machine.Log) > before {
			return fmt.Errorf("%s, and something happens: %+v", s.why, c.machine.Log[before])
		}
	}
	return errors.New("the program is never started")
}

// run starts the program and goes on until it says Done. Once it has begun, the arm leaves
// its start pose.
func (c *controller) run() error {
	if err := c.begin(); err != nil {
		return err
	}
	for range 60*len(c.moves) + 1000 {
		if err := c.answer(); err != nil {
			return err
		}
		if err := c.machine.Step(scan); err != nil {
			return err
		}
		if err := errors.Join(c.watch(), c.machine.Set("AtStart", false)); err != nil {
			return err
		}
		if c.is("Done") {
			return nil
		}
	}
	return fmt.Errorf("does not come to its end; stands at step %d of %d", c.number("StepNumber"), len(c.moves))
}

func (c *controller) is(name string) bool {
	v, _ := c.machine.Get(name)
	return v == true
}

func (c *controller) real(name string) float64 {
	v, _ := c.machine.Get(name)
	x, _ := v.(float64)
	return x
}

func (c *controller) number(name string) int64 {
	v, _ := c.machine.Get(name)
	n, _ := v.(int64)
	return n
}

// fit is the person who changes the tool where the program asks for that; before, nothing moves.
func (c *controller) fit() error {
	if _, asks := c.machine.Get("ChangeTool"); !asks {
		return nil
	}
	if !c.is("ChangeTool") {
		c.fitting = 0
		return c.machine.Set("ToolFitted", false)
	}
	if m := c.step(); m == nil || m.Action != "select" || m.Text == "" {
		return fmt.Errorf("asks for another tool at step %d", c.number("StepNumber"))
	}
	c.fitting++
	return c.machine.Set("ToolFitted", c.fitting > late)
}

// answer gives the inputs that the program waits for.
func (c *controller) answer() error {
	if tool, load := c.number("ToolNumber"), c.real("LoadMass"); tool != c.asked || load != c.load {
		c.asked, c.load, c.since = tool, load, 0
	}
	if c.since++; c.since > late {
		if err := c.machine.Set("LoadInUse", c.load); err != nil {
			return err
		}
	}
	if c.since > 2*late { // later still
		if err := c.machine.Set("ToolInUse", c.asked); err != nil {
			return err
		}
	}
	if err := c.fit(); err != nil {
		return err
	}
	m := c.step()
	if m == nil || m.Action != "await" || !c.is("Busy") {
		return nil
	}
	if n := c.number("StepNumber"); n != c.waiting {
		c.waiting, c.held = n, 0
	}
	c.held++
	given := c.held > late && m.Signal != c.silent
	return c.machine.Set(fmt.Sprintf("Inputs[%d]", m.Signal), given == (m.Level == "on"))
}

// step is the move that the program says it is at; nil for none.
func (c *controller) step() *listed {
	n := c.number("StepNumber")
	if n < 1 || int(n) > len(c.moves) {
		return nil
	}
	return &c.moves[n-1]
}

// watch finds a program that went on without its answer, or ended in Fault.
func (c *controller) watch() error {
	step := c.number("StepNumber")
	switch {
	case c.is("Fault"):
		return fmt.Errorf("ends in Fault at step %d", step)
	case c.waiting > 0 && c.held <= late && step != c.waiting:
		return fmt.Errorf("goes on from step %d before its input has come", c.waiting)
	}
	for _, e := range c.machine.Log[c.seen:] {
		if e.Kind == st.Started && e.Inputs["Position"] != nil && c.number("ToolInUse") != c.number("ToolNumber") {
			return fmt.Errorf("step %d moves before the kinematics reckon with tool %d", step, c.number("ToolNumber"))
		}
		if e.Kind == st.Started && e.Inputs["Position"] != nil && c.real("LoadInUse") != c.real("LoadMass") {
			return fmt.Errorf("step %d moves before the controller reckons with %g kg", step, c.real("LoadMass"))
		}
	}
	c.seen = len(c.machine.Log)
	return nil
}

// TestStructuredTextTimeOuts lets an input stay away: the program stops in
// Fault, or goes on where the plan says "else: go-on".
func TestStructuredTextTimeOuts(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes-scale.plan.yaml"
	program := mustRun(t, "write", plan, "--family", "st", "-o", "-")
	moves := listMoves(t, plan)
	for _, c := range []struct {
		input   int
		seconds float64 // until the program gives up
		fault   string  // "" for a program that goes on to its end
	}{{4, 20, "ends in Fault at step 3"}, {6, 5, ""}} {
		parsed, faults := st.Parse(program)
		if parsed == nil {
			t.Fatal(faults)
		}
		machine, err := st.NewMachine(parsed, st.Options{Dialect: dialect, Cycles: 1})
		if err != nil {
			t.Fatal(err)
		}
		around := controller{machine: machine, moves: moves, silent: c.input}
		err = around.run()
		if got := fmt.Sprint(err); err != nil && got != c.fault || err == nil && c.fault != "" {
			t.Errorf("without input %d: %v, wanted %q", c.input, err, c.fault)
		}
		if waited := longestWait(machine.Log); math.Abs(waited-c.seconds) > 2*scan.Seconds() && c.fault != "" {
			t.Errorf("without input %d the program waits %g s, wanted %g s", c.input, waited, c.seconds)
		}
		if c.fault != "" && outputsAfter(machine.Log) {
			t.Errorf("without input %d: an output changes although the program stops", c.input)
		}
	}
}

// TestStructuredTextAfterAFault: a program that stopped in Fault begins again only from
// its start pose, and then from its first step.
func TestStructuredTextAfterAFault(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes-scale.plan.yaml"
	parsed, faults := st.Parse(mustRun(t, "write", plan, "--family", "st", "-o", "-"))
	if parsed == nil {
		t.Fatal(faults)
	}
	machine, err := st.NewMachine(parsed, st.Options{Dialect: dialect, Cycles: 1})
	if err != nil {
		t.Fatal(err)
	}
	c := controller{machine: machine, moves: listMoves(t, plan), silent: 4}
	if err := c.run(); err == nil || !c.is("Fault") {
		t.Fatalf("without input 4: %v, wanted a Fault", err)
	}
	for _, on := range []bool{false, true, false} { // the arm comes to rest first
		for _, name := range []string{"Acknowledge", "Start"} {
			if err := machine.Set(name, on && name == "Acknowledge"); err != nil {
				t.Fatal(err)
			}
		}
		for range 4 * late {
			if err := machine.Step(scan); err != nil {
				t.Fatal(err)
			}
		}
	}
	if c.is("Fault") {
		t.Fatal("it stays in Fault although somebody acknowledged")
	}
	c.silent, c.seen, c.waiting, machine.Log = 0, 0, 0, nil
	if err := c.run(); err != nil { // it tries to start without AtStart first
		t.Error(err)
	}
	made, wanted := 0, 0
	for _, d := range c.deeds() {
		if d.what == "travel" || d.what == "straight" {
			made++
		}
	}
	for i := range c.moves {
		if c.moves[i].moves() {
			wanted++
		}
	}
	if made != wanted {
		t.Errorf("begun again, it makes %d motions, wanted all %d", made, wanted)
	}
}

// longestWait is the longest time from a timer's start to its end, in seconds.
func longestWait(log []st.Entry) float64 {
	var longest, began time.Duration
	for _, e := range log {
		switch {
		case e.Block == "TON" && e.Kind == st.Started:
			began = e.Time
		case e.Block == "TON" && e.Kind == st.Done:
			longest = max(longest, e.Time-began)
		}
	}
	return longest.Seconds()
}

// outputsAfter tells whether an output of the cell changes once Fault is set.
func outputsAfter(log []st.Entry) bool {
	fault := false
	for _, e := range log {
		fault = fault || e.Kind == st.Output && e.Name == "Fault"
		if fault && e.Kind == st.Output && strings.HasPrefix(e.Name, "Outputs[") {
			return true
		}
	}
	return false
}

// deed is one thing that a run did: a motion, an output or a wait.
type deed struct {
	what    string // travel, straight, output, wait
	line    int    // of the program
	to      pose   // of a motion, in the base
	speed   float64
	load    float64
	centre  [3]float64 // of that load
	inertia [3]float64
	signal  string // "Outputs[3]"
	level   bool
	seconds float64
}

// deeds picks what matters out of the log.
func (c *controller) deeds() []deed {
	var out []deed
	var load float64
	var centre, inertia [3]float64
	for _, e := range c.machine.Log {
		switch {
		case e.Kind == st.Output && strings.HasPrefix(e.Name, "LoadCentre["):
			centre[e.Name[len("LoadCentre[")]-'1'], _ = e.Value.(float64)
		case e.Kind == st.Output && strings.HasPrefix(e.Name, "LoadInertia["):
			inertia[e.Name[len("LoadInertia[")]-'1'], _ = e.Value.(float64)
		case e.Kind == st.Output && e.Name == "LoadMass":
			load, _ = e.Value.(float64)
		case e.Kind == st.Output && strings.HasPrefix(e.Name, "Outputs["):
			out = append(out, deed{what: "output", line: e.Line, signal: e.Name, level: e.Value == true})
		case e.Kind == st.Started && e.Block == "TON":
			wait, _ := e.Inputs["PT"].(time.Duration)
			out = append(out, deed{what: "wait", line: e.Line, seconds: wait.Seconds()})
		case e.Kind == st.Started && e.Inputs["Position"] != nil:
			d := motion(e)
			d.load, d.centre, d.inertia = load, centre, inertia
			out = append(out, d)
		case e.Kind == st.Ignored, e.Kind == st.Failed, e.Kind == st.Aborted:
			out = append(out, deed{what: string(e.Kind) + " " + e.Instance, line: e.Line})
		}
	}
	return out
}

// motion is where a motion block leads: its position in the frame that is set.
func motion(start st.Entry) deed {
	var p [6]float64
	for i, v := range start.Inputs["Position"].([]st.Value) {
		p[i], _ = v.(float64)
	}
	frame := pose{turn: turned(0, 0, 0)}
	if t := start.Transform; t != nil {
		frame = pose{[3]float64{t[0], t[1], t[2]}, turned(t[3], t[4], t[5])}
	}
	what := map[string]string{"MC_MoveDirectAbsolute": "travel", "MC_MoveLinearAbsolute": "straight"}[start.Block]
	speed, _ := start.Inputs["Velocity"].(float64)
	to := frame.times(pose{[3]float64{p[0], p[1], p[2]}, turned(p[3], p[4], p[5])})
	return deed{what: what, line: start.Line, to: to, speed: speed}
}

// compareDeeds holds what was done to the move list. An output that has its
// level already is no deed.
func compareDeeds(moves []listed, deeds []deed) error {
	at, outputs := 0, map[string]bool{}
	for i := range moves {
		m := &moves[i]
		want, ok := expected(m, outputs)
		if !ok {
			continue
		}
		if at >= len(deeds) {
			return fmt.Errorf("nothing more is done before move %d %s %s", m.N, m.Action, m.Target)
		}
		if fault := deedFault(want, deeds[at]); fault != "" {
			return fmt.Errorf("move %d %s %s, program line %d: %s", m.N, m.Action, m.Target, deeds[at].line, fault)
		}
		at++
	}
	if at != len(deeds) {
		return fmt.Errorf("%d more things are done after the last move, first %+v", len(deeds)-at, deeds[at])
	}
	return nil
}

// expected is the deed that a move asks for; false for none.
func expected(m *listed, outputs map[string]bool) (deed, bool) {
	switch m.Action {
	case "travel", "straight":
		return deed{what: m.Action, to: m.base(), speed: m.Speed, load: m.Load, centre: [3]float64{m.CentreX, m.CentreY, m.CentreZ},
			inertia: [3]float64{m.InertiaX, m.InertiaY, m.InertiaZ}}, true
	case "grip", "release", "set":
		signal, level := fmt.Sprintf("Outputs[%d]", m.Signal), m.Level == "on"
		changed := outputs[signal] != level
		outputs[signal] = level
		return deed{what: "output", signal: signal, level: level}, changed
	case "dwell", "await":
		return deed{what: "wait", seconds: m.Seconds}, m.Seconds > 0
	}
	return deed{}, false
}

// deedFault says how a deed differs from the wanted one. A frame's angles are
// written with three decimals of a degree, which comes to 0.02 mm at two metres.
func deedFault(want, got deed) string {
	mm, degrees := got.to.apart(want.to)
	switch {
	case got.what != want.what:
		return fmt.Sprintf("the program does %q, wanted %q", got.what, want.what)
	case want.what == "output" && (got.signal != want.signal || got.level != want.level):
		return fmt.Sprintf("sets %s to %v, wanted %s to %v", got.signal, got.level, want.signal, want.level)
	case want.what == "wait" && math.Abs(got.seconds-want.seconds) > 0.0005:
		return fmt.Sprintf("waits %g s, wanted %g s", got.seconds, want.seconds)
	case want.what == "output" || want.what == "wait":
		return ""
	case mm > 0.02 || degrees > 0.002:
		return fmt.Sprintf("goes %g mm and %g degrees beside the point", mm, degrees)
	case math.Abs(got.speed-want.speed) > 0.0005:
		return fmt.Sprintf("with %g mm/s, wanted %g", got.speed, want.speed)
	case math.Abs(got.load-want.load) > 0.0005:
		return fmt.Sprintf("with a load of %g kg, wanted %g", got.load, want.load)
	}
	for i := range want.centre {
		if math.Abs(got.centre[i]-want.centre[i]) > 0.0005 {
			return fmt.Sprintf("with a load whose centre is at %v, wanted %v", got.centre, want.centre)
		}
		if math.Abs(got.inertia[i]-want.inertia[i]) > 0.0000005 {
			return fmt.Sprintf("with a load whose moments of inertia are %v, wanted %v", got.inertia, want.inertia)
		}
	}
	return ""
}

// TestStructuredTextTypes: a strict compiler takes no array without a type of its name for
// another one. The program without its TYPE is what such a compiler refuses.
func TestStructuredTextTypes(t *testing.T) {
	t.Chdir(demoFolder)
	program := mustRun(t, "write", "mortar-cubes.plan.yaml", "--family", "st", "-o", "-")
	const name, shape = "ArmPosition", "ARRAY [1..6] OF LREAL"
	for text, want := range map[string]int{program: 0, strings.ReplaceAll(strings.Replace(program, "TYPE\n  "+name+" : "+shape+";\nEND_TYPE\n", "", 1), ": "+name+";", ": "+shape+";"): 2} {
		parsed, faults := st.Parse(text)
		if parsed == nil {
			t.Fatal(faults)
		}
		faults = st.Check(parsed, dialect)
		if len(faults) != want {
			t.Errorf("%d faults, wanted %d: %v", len(faults), want, faults)
		}
		for _, f := range faults {
			if !strings.Contains(f.Error(), "whose type has a name was wanted, found ARRAY OF LREAL") {
				t.Error(f)
			}
		}
	}
}

// TestStructuredTextJerk: the cell's jerk, and a cautious one where it says none.
func TestStructuredTextJerk(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	if program := mustRun(t, "write", plan, "--family", "st", "-o", "-"); !strings.Contains(program, "the cell does not say: a cautious value, check it *)\n  JERK : LREAL := 5000.000;") {
		t.Error("no cautious jerk")
	}
	with := t.TempDir()
	copyWith(t, with, map[string]string{"bench.cell.yaml": "acceleration: 2500            # mm/s2", plan: ""}, "acceleration: 2500\n  jerk: 30000.5")
	if program := mustRun(t, "write", with+"/"+plan, "--family", "st", "-o", "-"); !strings.Contains(program, "from the cell *)\n  JERK : LREAL := 30000.500;") {
		t.Error("no jerk from the cell")
	}
}

// copyWith copies files of the folder, each with one text in place of another.
func copyWith(t *testing.T, to string, files map[string]string, instead string) {
	t.Helper()
	for name, old := range files {
		text, err := os.ReadFile(name)
		if err != nil || !strings.Contains(string(text), old) {
			t.Fatalf("%s: %v", name, err)
		}
		if old != "" {
			text = []byte(strings.Replace(string(text), old, instead, 1))
		}
		if err := os.WriteFile(filepath.Join(to, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// ownST is a copy of the family with one rule changed.
func ownST(t *testing.T, rule, other string) (folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "own")
	mustRun(t, "families", "copy", "st", folder)
	change(t, filepath.Join(folder, "family.yaml"), []edit{{rule, other}})
	return folder
}

// TestStructuredTextTables: a program whose steps fill many tables does what one with a
// single table does, also where the last one is full to its end; and there is an end to that.
func TestStructuredTextTables(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	moves := listMoves(t, plan)
	write := func(rows, most int) result {
		own := ownST(t, "tables: {rows: 2000, most: 64}", fmt.Sprintf("tables: {rows: %d, most: %d}", rows, most))
		return run("write", plan, "--family", own, "-o", "-")
	}
	sizes := []int{100, 300, len(moves) - 1, len(moves), len(moves) + 1}
	if testing.Short() {
		sizes = sizes[:1]
	}
	for _, rows := range sizes {
		program := write(rows, 20)
		if n := strings.Count(program.stdout, "] OF LREAL := [") - 2; n != (len(moves)+rows-1)/rows {
			t.Errorf("%d moves in %d tables of %d rows\n%s", len(moves), n, rows, program.stderr)
		}
		if err := compareStructuredText(moves, program.stdout); err != nil {
			t.Errorf("tables of %d rows: %v", rows, err)
		}
	}
	if r := write(100, 3); r.status != 1 || r.stdout != "" || !strings.Contains(r.stderr, "a program of this family may have 3 [too-many-tables]") {
		t.Errorf("%+v", r)
	}
}

// TestStructuredTextPassesFlyBys: where the family says so, a motion behind a fly-by is
// handed over while the one before it still runs, at the lower of the two speeds and with
// the plan's radius as the distance from the corner (PLCopen Part 4 V1.0: the names; what
// they mean, from memory). Everything is done in the list's order all the same.
func TestStructuredTextPassesFlyBys(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: 766 steps of a simulated controller, twice")
	}
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	moves := listMoves(t, plan)
	program := mustRun(t, "write", plan, "--family", ownST(t, "fly_by: stops", "fly_by: between-motions"), "-o", "-")
	if err := compareStructuredText(moves, program); err != nil {
		t.Fatal(err)
	}
	parsed, _ := st.Parse(program)
	machine, err := st.NewMachine(parsed, st.Options{Dialect: dialect, Cycles: 9})
	if err != nil {
		t.Fatal(err)
	}
	c := controller{machine: machine, moves: moves}
	if err := c.run(); err != nil {
		t.Fatal(err)
	}
	if err := compareDeeds(moves, c.deeds()); err != nil {
		t.Error(err)
	}
	passed, running := 0, 0
	for _, e := range machine.Log {
		switch {
		case e.Kind == st.Started && e.Inputs["Position"] != nil:
			if blends := fmt.Sprint(e.Inputs["BufferMode"]) == "mcBlendingLow"; blends != (running > 0) {
				t.Fatalf("line %d: %v while %d motions run", e.Line, e.Inputs["BufferMode"], running)
			} else if blends {
				if passed++; e.Inputs["TransitionParameter"] != 15.0 || fmt.Sprint(e.Inputs["TransitionMode"]) != "mcTMCornerDistance" {
					t.Fatalf("%v", e.Inputs)
				}
			}
			running++
		case e.Kind == st.Done && strings.HasPrefix(e.Block, "MC_Move"):
			running--
		case e.Kind == st.Output && strings.HasPrefix(e.Name, "Outputs[") && running > 0:
			t.Fatalf("%s changes while the arm moves", e.Name)
		}
	}
	wanted := 0
	for i := range moves[:len(moves)-1] {
		if moves[i].moves() && moves[i+1].moves() { // every such point of this plan is a fly-by
			wanted++
		}
	}
	if passed != wanted || wanted < 20 {
		t.Errorf("%d fly-bys are passed, wanted %d", passed, wanted)
	}
}
