package structuredtext

import (
	"strings"
	"time"
)

// An instance is one function block with its memory.
type instance struct {
	block   *block
	name    string
	inputs  map[string]any // by upper-case name; kept from call to call
	given   map[string]bool
	outputs map[string]*cell

	group, groupName string // the axes group of the last call

	// Memory of edges and timers.
	before  bool          // Execute, IN or CLK at the last call
	since   time.Duration // when the timer began
	running bool          // of a timer

	// Memory of motion blocks.
	command *command
	latched map[string]any // the inputs at the last rising edge
	ignored bool           // the present lack of an edge is in the log
	shown   bool           // the command's end has been visible for a call
}

func newInstance(b *block, name string) *instance {
	i := &instance{block: b, name: name, inputs: map[string]any{}, given: map[string]bool{}, outputs: map[string]*cell{}}
	for _, p := range b.inputs {
		i.inputs[upperName(p.name)] = zero(p.typ)
	}
	for _, p := range b.outputs {
		i.outputs[upperName(p.name)] = &cell{typ: p.typ, value: zero(p.typ)}
	}
	return i
}

func (i *instance) set(output string, v any) {
	if c := i.outputs[upperName(output)]; c != nil {
		c.value = v
	}
}

func (i *instance) on(name string) bool {
	v, _ := i.inputs[upperName(name)].(bool)
	return v
}

// entryInputs names the inputs as the standard spells them.
func (i *instance) entryInputs() map[string]Value {
	named := map[string]Value{}
	for _, p := range i.block.inputs {
		named[p.name] = i.inputs[upperName(p.name)]
	}
	return named
}

func (i *instance) entry(kind EntryKind, line int) Entry {
	return Entry{Kind: kind, Line: line, Instance: i.name, Block: i.block.name, Group: i.groupName}
}

// callBlock runs one call of a block.
func (m *Machine) callBlock(i *instance, line int) {
	switch name := strings.ToUpper(i.block.name); name {
	case "TON":
		m.onDelay(i, line)
	case "TOF":
		m.offDelay(i)
	case "TP":
		m.pulse(i, line)
	case "R_TRIG":
		i.set("Q", i.on("CLK") && !i.before)
		i.before = i.on("CLK")
	case "F_TRIG":
		i.set("Q", !i.on("CLK") && i.before)
		i.before = i.on("CLK")
	case "MC_GROUPSETOVERRIDE":
		m.setOverride(i, line)
	default:
		m.callMotion(i, line)
	}
}

// onDelay is TON: Q follows IN after PT (IEC 61131-3 Ed. 3, Table 46).
func (m *Machine) onDelay(i *instance, line int) {
	in, limit := i.on("IN"), i.inputs["PT"].(time.Duration)
	if !in {
		i.set("Q", false)
		i.set("ET", time.Duration(0))
		i.before = false
		return
	}
	if !i.before {
		i.before, i.since, i.shown = true, m.now, false
		start := i.entry(Started, line)
		start.Inputs = i.entryInputs()
		m.note(start)
	}
	elapsed := min(m.now-i.since, limit)
	i.set("ET", elapsed)
	i.set("Q", elapsed >= limit)
	if elapsed >= limit && !i.shown {
		i.shown = true
		m.note(i.entry(Done, line))
	}
}

// offDelay is TOF: Q stays for PT after IN has gone.
func (m *Machine) offDelay(i *instance) {
	in, limit := i.on("IN"), i.inputs["PT"].(time.Duration)
	if i.before && !in {
		i.since, i.running = m.now, true
	}
	i.before = in
	elapsed := time.Duration(0)
	if i.running && !in {
		elapsed = min(m.now-i.since, limit)
		i.running = elapsed < limit
	} else if in {
		i.running = false
	} else {
		elapsed = i.outputs["ET"].value.(time.Duration)
	}
	i.set("ET", elapsed)
	i.set("Q", in || i.running)
}

// pulse is TP: a rising IN gives Q for PT, whatever IN does meanwhile.
func (m *Machine) pulse(i *instance, line int) {
	in, limit := i.on("IN"), i.inputs["PT"].(time.Duration)
	if in && !i.before && !i.running {
		i.since, i.running = m.now, true
		start := i.entry(Started, line)
		start.Inputs = i.entryInputs()
		m.note(start)
	}
	i.before = in
	elapsed := time.Duration(0)
	if i.running {
		elapsed = min(m.now-i.since, limit)
	} else if in {
		elapsed = limit
	}
	if i.running && elapsed >= limit {
		i.running = false
	}
	i.set("ET", elapsed)
	i.set("Q", i.running)
}

// setOverride works while Enable is TRUE; the factors are 0.0 to 1.0.
func (m *Machine) setOverride(i *instance, line int) {
	enabled := i.on("Enable")
	wrong := false
	for _, name := range []string{"VELFACTOR", "ACCFACTOR", "JERKFACTOR"} {
		f := i.inputs[name].(float64)
		wrong = wrong || i.given[name] && (f < 0 || f > 1)
	}
	i.set("Enabled", enabled && !wrong)
	i.set("Busy", enabled && !wrong)
	i.set("Error", enabled && wrong)
	if enabled && !wrong && (!i.before || changed(i.inputs, i.latched)) {
		e := i.entry(Override, line)
		e.Inputs = i.entryInputs()
		m.note(e)
		i.latched = copyInputs(i.inputs)
	}
	i.before = enabled
}
