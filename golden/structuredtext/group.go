package structuredtext

import (
	"math"
	"reflect"
	"strings"
)

// The states of an axes group (PLCopen Part 4 V1.0).
const (
	groupDisabled  = "GroupDisabled"
	groupStandby   = "GroupStandby"
	groupMoving    = "GroupMoving"
	groupStopping  = "GroupStopping"
	groupErrorStop = "GroupErrorStop"
)

// Error numbers of these stubs; PLCopen leaves them to the maker.
const (
	errorState  = 1 // the group's state does not allow the command
	errorInputs = 2 // an input is out of its range
)

type axesGroup struct {
	name      string
	state     string
	queue     []*command // the first one is running
	beside    []*command // commands that do not wait for motion
	transform []float64
}

// A command is what a rising edge of Execute has started.
type command struct {
	instance *instance
	left     int // scans until its end
	end      EntryKind
	errorID  int64 // of Failed, or that which it will end with
	ended    bool
	finish   func() // what the end brings about, or nil

	transform []float64 // of a transform that waits in the queue
}

func (m *Machine) groupOf(i *instance) *axesGroup {
	g := m.groups[i.group]
	if g == nil {
		g = &axesGroup{name: i.groupName, state: groupDisabled}
		if m.options.Enabled {
			g.state = groupStandby
		}
		m.groups[i.group] = g
		m.order = append(m.order, g)
	}
	return g
}

// GroupState gives the state of an axes group by its variable's name, in the
// words of PLCopen Part 4; "" for a group that nothing has used yet.
func (m *Machine) GroupState(name string) string {
	if g := m.groups[strings.ToUpper(name)]; g != nil {
		return g.state
	}
	return ""
}

// advance lets one scan pass for a group.
func (m *Machine) advance(g *axesGroup) {
	for _, c := range g.beside {
		m.countDown(g, c)
	}
	g.beside = running(g.beside)
	if len(g.queue) > 0 {
		m.countDown(g, g.queue[0])
		g.queue = running(g.queue)
	}
	if len(g.queue) == 0 && g.state == groupMoving {
		g.state = groupStandby
	}
}

func running(list []*command) []*command {
	var left []*command
	for _, c := range list {
		if !c.ended {
			left = append(left, c)
		}
	}
	return left
}

func (m *Machine) countDown(g *axesGroup, c *command) {
	if c.left--; c.left > 0 || c.ended {
		return
	}
	if c.errorID != 0 {
		m.end(c, Failed)
		m.abortAll(g)
		g.state = groupErrorStop
		return
	}
	m.end(c, Done)
	if c.finish != nil {
		c.finish()
	}
}

func (m *Machine) end(c *command, kind EntryKind) {
	if c.ended {
		return
	}
	c.ended, c.end = true, kind
	e := c.instance.entry(kind, 0)
	e.ErrorID = c.errorID
	m.note(e)
}

func (m *Machine) abortAll(g *axesGroup) {
	for _, c := range append(g.queue, g.beside...) {
		c.errorID = 0
		m.end(c, Aborted)
	}
	g.queue, g.beside = nil, nil
}

// callMotion runs one call of a block with Execute, by the rules of PLCopen
// Part 1 V2.0, 2.4.
func (m *Machine) callMotion(i *instance, line int) {
	execute := i.on("Execute")
	switch {
	case execute && !i.before:
		m.start(i, line)
	case execute && !i.ignored && changed(i.inputs, i.latched):
		i.ignored = true
		e := i.entry(Ignored, line)
		e.Inputs = i.entryInputs()
		m.note(e)
	}
	i.before = execute
	m.report(i, execute)
	if !execute {
		m.released(i)
	}
}

// changed compares inputs; lists are held in them.
func changed(a, b map[string]any) bool { return !reflect.DeepEqual(a, b) }

func copyInputs(inputs map[string]any) map[string]any {
	c := map[string]any{}
	for name, v := range inputs {
		c[name] = v
	}
	return c
}

// start takes the inputs in and begins the command. An edge during a motion
// of the same instance aborts that motion.
func (m *Machine) start(i *instance, line int) {
	g := m.groupOf(i)
	if i.command != nil && !i.command.ended {
		m.abandon(g, i.command)
	}
	i.latched, i.ignored, i.shown = copyInputs(i.inputs), false, false
	e := i.entry(Started, line)
	e.Inputs, e.Transform = i.entryInputs(), g.transformFor(i)
	c := &command{instance: i, left: m.options.Cycles}
	if m.options.Fault != nil {
		c.errorID = m.options.Fault(e)
	}
	m.note(e)
	i.command = c
	if problem := refusal(g, i); problem != 0 {
		c.errorID = problem
		m.end(c, Failed)
		return
	}
	m.begin(g, i, c)
}

func (m *Machine) abandon(g *axesGroup, c *command) {
	c.errorID = 0
	m.end(c, Aborted)
	g.queue, g.beside = running(g.queue), running(g.beside)
}

// refusal says why a command cannot begin, or 0.
func refusal(g *axesGroup, i *instance) int64 {
	switch upperName(i.block.name) {
	case "MC_GROUPENABLE":
		return stateError(g.state == groupErrorStop || g.state == groupStopping)
	case "MC_GROUPDISABLE", "MC_UNGROUPALLAXES", "MC_GROUPRESET":
		return 0
	case "MC_GROUPSTOP", "MC_SETCARTESIANTRANSFORM":
		return stateError(g.state == groupDisabled)
	}
	if g.state != groupStandby && g.state != groupMoving {
		return errorState
	}
	return inputError(i)
}

func stateError(wrong bool) int64 {
	if wrong {
		return errorState
	}
	return 0
}

// inputError: Acceleration, Deceleration and Jerk are positive where they are
// given, and a motion has a velocity and a place to go to.
func inputError(i *instance) int64 {
	for _, name := range []string{"VELOCITY", "ACCELERATION", "DECELERATION", "JERK"} {
		f, has := i.inputs[name].(float64)
		if has && (f < 0 || f == 0 && (name == "VELOCITY" || i.given[name] && name != "JERK")) {
			return errorInputs
		}
	}
	for _, name := range []string{"POSITION", "DISTANCE", "ENDPOINT"} {
		if v, has := i.inputs[name]; has && v == nil {
			return errorInputs
		}
	}
	return 0
}

// begin gives the command its place: administrative ones run beside the
// motion, motions abort what runs or wait behind it.
func (m *Machine) begin(g *axesGroup, i *instance, c *command) {
	switch upperName(i.block.name) {
	case "MC_GROUPENABLE":
		m.administer(g, c, func() {
			if g.state == groupDisabled {
				g.state = groupStandby
			}
		})
	case "MC_GROUPRESET":
		m.administer(g, c, func() {
			if g.state == groupErrorStop {
				g.state = groupStandby
			}
		})
	case "MC_GROUPDISABLE", "MC_UNGROUPALLAXES":
		m.abortAll(g)
		m.administer(g, c, func() { g.state = groupDisabled })
	case "MC_SETCARTESIANTRANSFORM":
		m.beginTransform(g, i, c)
	case "MC_GROUPSTOP":
		m.abortAll(g)
		if g.state != groupErrorStop {
			g.state = groupStopping
		}
		g.beside = append(g.beside, c)
	default:
		m.beginMotion(g, i, c)
	}
}

func (m *Machine) administer(g *axesGroup, c *command, finish func()) {
	c.left, c.finish = 1, finish
	g.beside = append(g.beside, c)
}

// beginTransform: mcQueued waits behind the motions, the others act at once.
// The transform holds for motions that start after its Done.
func (m *Machine) beginTransform(g *axesGroup, i *instance, c *command) {
	var six []float64
	for _, name := range []string{"TRANSX", "TRANSY", "TRANSZ", "ROTANGLE1", "ROTANGLE2", "ROTANGLE3"} {
		six = append(six, i.inputs[name].(float64))
	}
	set := func() { g.transform = six }
	if i.inputs["EXECUTIONMODE"] == enumValue("mcQueued") && len(g.queue) > 0 {
		c.left, c.finish, c.transform = 1, set, six
		g.queue = append(g.queue, c)
		return
	}
	m.administer(g, c, set)
}

// transformFor is the transform that will hold when the command runs: one that
// waits in the queue before it counts, unless the command aborts the queue.
func (g *axesGroup) transformFor(i *instance) []float64 {
	six := g.transform
	for _, c := range g.queue {
		if c.transform != nil && !aborts(i) {
			six = c.transform
		}
	}
	return six
}

// aborts reports whether a motion ends what runs instead of waiting for it.
func aborts(i *instance) bool {
	mode := i.inputs["BUFFERMODE"]
	return mode == enumValue("mcAborting") || mode == nil
}

func (m *Machine) beginMotion(g *axesGroup, i *instance, c *command) {
	if aborts(i) {
		for _, other := range g.queue {
			other.errorID = 0
			m.end(other, Aborted)
		}
		g.queue = nil
	}
	g.queue = append(g.queue, c)
	g.state = groupMoving
}

// report sets the outputs: Busy, Done, Error and CommandAborted exclude each
// other, and an end stays visible for at least one call.
func (m *Machine) report(i *instance, execute bool) {
	c := i.command
	for _, name := range []string{"Done", "Busy", "Active", "CommandAborted", "Error"} {
		i.set(name, false)
	}
	i.set("ErrorID", int64(0))
	switch {
	case c == nil:
	case !c.ended:
		i.set("Busy", true)
		i.set("Active", m.active(i, c))
	case execute || !i.shown:
		i.shown = true
		i.set("Done", c.end == Done)
		i.set("CommandAborted", c.end == Aborted)
		i.set("Error", c.end == Failed)
		i.set("ErrorID", int64(math.Min(float64(c.errorID), 65535)))
	}
}

func (m *Machine) active(i *instance, c *command) bool {
	g := m.groups[i.group]
	return len(g.queue) > 0 && g.queue[0] == c
}

// released: a stop holds the group while its Execute is TRUE.
func (m *Machine) released(i *instance) {
	c := i.command
	if c == nil || !c.ended || c.end != Done || upperName(i.block.name) != "MC_GROUPSTOP" {
		return
	}
	if g := m.groups[i.group]; g.state == groupStopping {
		g.state = groupStandby
	}
}
