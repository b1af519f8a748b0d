package structuredtext

import "strings"

// A block is a function block's interface.
type block struct {
	name    string
	shared  []parameter // VAR_IN_OUT
	inputs  []parameter
	outputs []parameter
	motion  bool // a PLCopen block
}

type parameter struct {
	name string
	typ  *dataType
}

func find(list []parameter, name string) *dataType {
	for _, p := range list {
		if strings.EqualFold(p.name, name) {
			return p.typ
		}
	}
	return nil
}

// enumerations of PLCopen Part 4 V1.0 (and, for the execution mode, Part 1).
// The value names are confirmed; the type names of the circle mode, the path
// choice and the execution mode are from memory.
var enumerations = []*dataType{
	{kind: kindEnum, name: "MC_COORD_SYSTEM", values: []string{"mcACS", "mcMCS", "mcPCS"}},
	{kind: kindEnum, name: "MC_BUFFER_MODE", values: []string{
		"mcAborting", "mcBuffered", "mcBlendingLow", "mcBlendingPrevious", "mcBlendingNext", "mcBlendingHigh"}},
	{kind: kindEnum, name: "MC_TRANSITION_MODE", values: []string{
		"mcTMNone", "mcTMStartVelocity", "mcTMConstantVelocity", "mcTMCornerDistance", "mcTMMaxCornerDeviation"}},
	{kind: kindEnum, name: "MC_CIRC_MODE", values: []string{"mcBorder", "mcCenter", "mcRadius"}},
	{kind: kindEnum, name: "MC_CIRC_PATHCHOICE", values: []string{"mcClockwise", "mcCounterClockwise"}},
	{kind: kindEnum, name: "MC_EXECUTION_MODE", values: []string{"mcImmediately", "mcQueued", "mcDelayed"}},
}

// blockSpec is a block in one line; inputs and outputs are "name type" pairs.
type blockSpec struct{ name, shared, inputs, outputs string }

const (
	executing    = "Execute BOOL"
	administered = "Done BOOL, Busy BOOL, Error BOOL, ErrorID WORD"
	stopped      = "Done BOOL, Busy BOOL, CommandAborted BOOL, Error BOOL, ErrorID WORD"
	moved        = "Done BOOL, Busy BOOL, Active BOOL, CommandAborted BOOL, Error BOOL, ErrorID WORD"
	dynamics     = "Velocity *, Acceleration *, Deceleration *, Jerk *"
	manner       = "CoordSystem MC_COORD_SYSTEM, BufferMode MC_BUFFER_MODE, TransitionMode MC_TRANSITION_MODE, TransitionParameter *"
	group        = "AxesGroup AXES_GROUP_REF"
)

// motionBlocks: PLCopen Part 4 V1.0. "*" is REAL, or LREAL in a long dialect;
// "@" is the vendor-defined position.
var motionBlocks = []blockSpec{
	{"MC_GroupEnable", group, executing, administered},
	{"MC_GroupDisable", group, executing, administered},
	{"MC_GroupReset", group, executing, administered},
	{"MC_UngroupAllAxes", group, executing, administered},
	{"MC_MoveLinearAbsolute", group, executing + ", Position @, " + dynamics + ", " + manner, moved},
	{"MC_MoveLinearRelative", group, executing + ", Distance @, " + dynamics + ", " + manner, moved},
	{"MC_MoveDirectAbsolute", group, executing + ", Position @, " + dynamics + ", " + manner, moved},
	{"MC_MoveCircularAbsolute", group, executing + ", CircMode MC_CIRC_MODE, AuxPoint @, EndPoint @, PathChoice MC_CIRC_PATHCHOICE, " + dynamics + ", " + manner, moved},
	{"MC_GroupStop", group, executing + ", Deceleration *, Jerk *", stopped},
	{"MC_GroupHalt", group, executing + ", Deceleration *, Jerk *, BufferMode MC_BUFFER_MODE", moved},
	{"MC_SetCartesianTransform", group, executing + ", TransX *, TransY *, TransZ *, RotAngle1 *, RotAngle2 *, RotAngle3 *, ExecutionMode MC_EXECUTION_MODE", moved},
	{"MC_GroupSetOverride", group, "Enable BOOL, VelFactor *, AccFactor *, JerkFactor *", "Enabled BOOL, Busy BOOL, Error BOOL, ErrorID WORD"},
}

// standardBlocks: IEC 61131-3 Ed. 3, Tables 44 and 46.
var standardBlocks = []blockSpec{
	{"TON", "", "IN BOOL, PT TIME", "Q BOOL, ET TIME"},
	{"TOF", "", "IN BOOL, PT TIME", "Q BOOL, ET TIME"},
	{"TP", "", "IN BOOL, PT TIME", "Q BOOL, ET TIME"},
	{"R_TRIG", "", "CLK BOOL", "Q BOOL"},
	{"F_TRIG", "", "CLK BOOL", "Q BOOL"},
}

// laterBlocks are known only to say where they come from.
var laterBlocks = map[string]string{
	"MC_GROUPWAITTIME": "V2.0 (a draft)", "MC_POS_REF": "V2.0 (a draft)",
}

// A library is what a program may use without declaring it.
type library struct {
	types      map[string]*dataType // by upper-case name
	enumValues map[string]*dataType
}

func newLibrary(d Dialect) *library {
	l := &library{types: map[string]*dataType{"AXES_GROUP_REF": groupType}, enumValues: map[string]*dataType{}}
	for name, t := range elementary {
		l.types[name] = t
	}
	for _, e := range enumerations {
		l.types[e.name] = e
		for _, v := range e.values {
			l.enumValues[strings.ToUpper(v)] = e
		}
	}
	for _, s := range standardBlocks {
		l.addBlock(s, d, false)
	}
	for _, s := range motionBlocks {
		l.addBlock(s, d, true)
	}
	return l
}

func (l *library) addBlock(s blockSpec, d Dialect, motion bool) {
	b := &block{s.name, l.parameters(s.shared, d), l.parameters(s.inputs, d), l.parameters(s.outputs, d), motion}
	l.types[strings.ToUpper(s.name)] = &dataType{kind: kindBlock, name: s.name, block: b}
}

func (l *library) parameters(text string, d Dialect) []parameter {
	var list []parameter
	for _, pair := range strings.Split(text, ", ") {
		name, typ, ok := strings.Cut(pair, " ")
		if !ok {
			continue // an empty list
		}
		switch typ {
		case "*":
			list = append(list, parameter{name, d.real()})
		case "@":
			list = append(list, parameter{name, axesType})
		default:
			list = append(list, parameter{name, l.types[typ]})
		}
	}
	return list
}

// A Dialect settles what PLCopen leaves to the maker.
type Dialect struct {
	// LongReals makes the real inputs of the motion blocks LREAL. The PLCopen
	// tables say REAL, which an LREAL does not fit without LREAL_TO_REAL.
	LongReals bool
}

func (d Dialect) real() *dataType {
	if d.LongReals {
		return lrealType
	}
	return realType
}
