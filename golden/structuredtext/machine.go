package structuredtext

import (
	"errors"
	"fmt"
	"time"
)

// Options set up a Machine.
type Options struct {
	Dialect Dialect
	// Cycles is how many scans a motion stays busy; 0 means 3.
	Cycles int
	// Enabled: axes groups stand in GroupStandby from the start, so that a program need
	// not enable them.
	Enabled bool
	// Fault is asked at every start of a motion block; an answer that is not 0 is
	// the ErrorID with which the block ends. Nil: none fails.
	Fault func(start Entry) (errorID int64)
	// Statements is how many statements one scan may execute (a watchdog); 0
	// means a million.
	Statements int
}

// A Machine runs a program scan by scan, with stubs of the motion blocks: a
// rising edge of Execute makes a block busy, and after some scans done. Axes
// groups keep the states of PLCopen Part 4. Time is simulated.
type Machine struct {
	// Log is all that happened, in order.
	Log []Entry

	program *Program
	checker *checker
	options Options

	// The present state.
	cells  map[string]*cell
	groups map[string]*axesGroup
	order  []*axesGroup // in order of first use
	scan   int
	now    time.Duration
	left   int              // statements that this scan may still execute
	shown  map[string]Value // outputs at the end of the last scan
}

// An EntryKind says what an entry is about.
type EntryKind string

// What a log holds.
const (
	Started  EntryKind = "started"  // a block saw its rising edge (or a timer its IN)
	Done     EntryKind = "done"     // a block's Done (or a timer's Q) was set
	Failed   EntryKind = "failed"   // a block's Error was set
	Aborted  EntryKind = "aborted"  // a block's CommandAborted was set
	Ignored  EntryKind = "ignored"  // inputs changed while Execute stayed TRUE: no rising edge, nothing starts
	Override EntryKind = "override" // MC_GroupSetOverride with new factors
	Output   EntryKind = "output"   // an output had another value at the end of a scan
)

// An Entry is one line of the log.
type Entry struct {
	Kind EntryKind
	Scan int // from 1
	Time time.Duration
	Line int // of the program, where a call made the entry

	Instance, Block string           // of a block: "MoveA", "MC_MoveLinearAbsolute"
	Group           string           // the axes group's variable
	Inputs          map[string]Value // of a start: every input's value, by the standard's name
	Transform       []float64        // of a start: the Cartesian transform in force, 6 numbers; nil when never set
	ErrorID         int64            // of Failed

	Name  string // of Output: the variable, with its index
	Value Value  // of Output
}

// NewMachine sets up a program; it is refused when Check finds a fault.
func NewMachine(p *Program, o Options) (*Machine, error) {
	if o.Cycles <= 0 {
		o.Cycles = 3
	}
	if o.Statements <= 0 {
		o.Statements = 1_000_000
	}
	c := newChecker(p, []Dialect{o.Dialect})
	if len(c.faults) > 0 {
		return nil, errors.Join(c.faults...)
	}
	m := &Machine{program: p, checker: c, options: o, cells: map[string]*cell{}, groups: map[string]*axesGroup{}, shown: map[string]Value{}}
	for _, v := range p.Vars {
		if err := m.allocate(v); err != nil {
			return nil, err
		}
	}
	m.outputs(func(name string, value Value) { m.shown[name] = value })
	return m, nil
}

func (m *Machine) allocate(v *Variable) error {
	c := newCell(m.checker.names[upperName(v.Name)].typ, v.Name)
	m.cells[upperName(v.Name)] = c
	if err := m.fieldDefaults(c); err != nil {
		return err
	}
	if v.Initial == nil {
		return nil
	}
	return m.initialise(c, v.Initial)
}

// fieldDefaults gives structures the initial values of their declaration.
func (m *Machine) fieldDefaults(c *cell) error {
	for _, e := range c.elems {
		if err := m.fieldDefaults(e); err != nil {
			return err
		}
	}
	for _, f := range c.typ.fields {
		part := c.fields[upperName(f.name)]
		if err := m.fieldDefaults(part); err != nil {
			return err
		}
		if f.decl.Initial == nil {
			continue
		}
		if err := m.initialise(part, f.decl.Initial); err != nil {
			return err
		}
	}
	return nil
}

func (m *Machine) initialise(c *cell, x Expression) error {
	switch x := x.(type) {
	case *ArrayValue:
		return m.initialiseArray(c, x)
	case *StructValue:
		for i, name := range x.Names {
			if err := m.initialise(c.fields[upperName(name)], x.Values[i]); err != nil {
				return err
			}
		}
		return nil
	}
	value, _ := m.checker.constant(x) // Check has seen that it is constant
	if err := c.store(value); err != nil {
		return faultAt(x.place(), execution, "%v", err)
	}
	return nil
}

func (m *Machine) initialiseArray(c *cell, x *ArrayValue) error {
	at := 0
	for _, e := range x.Elems {
		times := int64(1)
		if e.Count != nil {
			n, _ := m.checker.constant(e.Count)
			times = n.(int64)
		}
		for range times {
			if err := m.initialise(c.elems[at], e.Value); err != nil {
				return err
			}
			at++
		}
	}
	return nil
}

// Step runs one scan, dt after the last one: motions go on, the program runs
// once, outputs are taken. An error is a fault that would have stopped or
// misled a controller: an index out of bounds, a number out of range, a
// division by zero, a scan without end.
func (m *Machine) Step(dt time.Duration) error {
	m.scan++
	m.now += dt
	m.left = m.options.Statements
	for _, g := range m.order {
		m.advance(g)
	}
	if _, err := m.run(m.program.Body); err != nil {
		return err
	}
	m.outputs(m.compare)
	return nil
}

// RunUntil steps until a BOOL variable or output (a name as for Get) is TRUE,
// at most so many scans.
func (m *Machine) RunUntil(name string, dt time.Duration, scans int) error {
	for range scans {
		if err := m.Step(dt); err != nil {
			return err
		}
		if v, ok := m.Get(name); ok && v == true {
			return nil
		}
	}
	return fmt.Errorf("%q is not TRUE after %d scans", name, scans)
}

// Get gives a variable's value; "instance.Output" reads a block's output.
func (m *Machine) Get(name string) (Value, bool) {
	c, ok := m.find(name)
	if !ok {
		return nil, false
	}
	return snapshot(c.get()), true
}

// Set gives a variable a value from outside, as an input's terminal would.
func (m *Machine) Set(name string, v Value) error {
	c, ok := m.find(name)
	if !ok || c.elems != nil || c.fields != nil || c.instance != nil {
		return fmt.Errorf("%q is no plain variable", name)
	}
	if !goesInto(v, c.typ) {
		return fmt.Errorf("%q is %s, given %T", name, c.typ.name, v)
	}
	return c.store(v)
}

func goesInto(v Value, t *dataType) bool {
	switch v.(type) {
	case bool:
		return t.kind == kindBool
	case int64:
		return t.kind == kindInteger || t.kind == kindBits
	case float64:
		return t.kind == kindReal
	case time.Duration:
		return t.kind == kindTime
	case string:
		return t.kind == kindString
	}
	return false
}

// find reads "name", "name[3]" or "name.part" as the program would.
func (m *Machine) find(name string) (*cell, bool) {
	l := lex(name)
	if len(l.faults) > 0 {
		return nil, false
	}
	r, ok := parseReference(l.tokens)
	if !ok || m.checker.names[upperName(r.Name)] == nil {
		return nil, false
	}
	faults := len(m.checker.faults)
	m.checker.reference(r)
	if wrong := len(m.checker.faults) > faults; wrong {
		m.checker.faults = m.checker.faults[:faults]
		return nil, false
	}
	c, err := m.locate(r)
	return c, err == nil
}

func parseReference(tokens []token) (r *Reference, ok bool) {
	p := &parser{tokens: tokens, program: &Program{}}
	defer func() {
		if recover() != nil {
			ok = false
		}
	}()
	r = p.reference()
	return r, p.now().kind == tokEnd
}

// outputs visits what the world outside sees, in order of declaration.
func (m *Machine) outputs(visit func(name string, value Value)) {
	for _, v := range m.program.Vars {
		seen := v.Section == "VAR_OUTPUT" || v.Section == "VAR_EXTERNAL" || v.Section == "VAR_IN_OUT" || len(v.Address) > 1 && v.Address[1] == 'Q'
		c := m.cells[upperName(v.Name)]
		if seen && c.typ.kind != kindGroup {
			visitParts(v.Name, c, visit)
		}
	}
}

func visitParts(name string, c *cell, visit func(string, Value)) {
	if c.elems == nil && c.fields == nil {
		visit(name, c.value)
		return
	}
	for i, e := range c.elems {
		visitParts(name+c.typ.elementName(int64(i)), e, visit)
	}
	for _, f := range c.typ.fields {
		visitParts(name+"."+f.name, c.fields[upperName(f.name)], visit)
	}
}

func (m *Machine) compare(name string, value Value) {
	if m.shown[name] != value {
		m.shown[name] = value
		m.note(Entry{Kind: Output, Name: name, Value: value})
	}
}

func (m *Machine) note(e Entry) {
	e.Scan, e.Time = m.scan, m.now
	m.Log = append(m.Log, e)
}
