package reads

import (
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// Field is one value that a line of a program can carry.
type Field uint8

// The fields. Their names in family.yaml are in readTable. NoField stands for
// a column or a group that does not matter.
const (
	NoField     Field = iota
	Kind              // of a row only: which kind of move it is
	Frame             // the frame by its name
	FrameNumber       // or by the number that the controller knows it by
	FramePlace        // or by its place in the list
	Tool
	ToolNumber
	ToolPlace
	Load
	X
	Y
	Z
	Roll
	Pitch
	Yaw
	Turn
	Turn1
	Turn2
	Turn3
	QW
	QX
	QY
	QZ
	RX
	RY
	RZ
	Speed
	FlyBy
	Signal
	Level
	Time
	GoOn
	Target
	N     // the move's number in the list
	Point // of a motion: its pose by its name in the table of points
	PointNumber
	Number // of an entry of the tables of frames, tools and points
	Name
	Mass
	ByHand // of a select: the program stops, and a person changes the tool
	CentreX
	CentreY
	CentreZ
	InertiaX
	InertiaY
	InertiaZ
	Joint1 // of a motion: the reading of the arm's first joint, and so on
	Joint2
	Joint3
	Joint4
	Joint5
	Joint6
	Joint7
	Quarter1 // in which quarter turn it lies
	Quarter2
	Quarter3
	Quarter4
	Quarter5
	Quarter6
	Quarter7
	Shoulder // the words of the arm's configuration
	Elbow
	Wrist
	Fields = iota
)

// What stands for a field in a pattern: "{x}" is any way to write a number.
const (
	aNumber = `[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)`
	aWhole  = `[0-9]+`
	aWord   = `[^\s,;]+`
	aName   = `[^\s,;]+(?: [^\s,;]+)?` // a tool's, which is two words for a zone: "twin left"
	aText   = `.+`
)

type fieldRow struct{ name, pattern string }

// readTable is every field's name and the pattern that stands for it.
var readTable [Fields]fieldRow = [...]fieldRow{
	NoField: {},
	Kind:    {"kind", aNumber}, Frame: {"frame", aWord}, FrameNumber: {"frame_number", aWhole}, FramePlace: {"frame_place", aWhole},
	Tool: {"tool", aName}, ToolNumber: {"tool_number", aWhole}, ToolPlace: {"tool_place", aWhole}, Load: {"load", aNumber},
	X: {"x", aNumber}, Y: {"y", aNumber}, Z: {"z", aNumber},
	Roll: {"roll", aNumber}, Pitch: {"pitch", aNumber}, Yaw: {"yaw", aNumber}, Turn: {"turn", aNumber},
	Turn1: {"turn1", aNumber}, Turn2: {"turn2", aNumber}, Turn3: {"turn3", aNumber},
	QW: {"qw", aNumber}, QX: {"qx", aNumber}, QY: {"qy", aNumber}, QZ: {"qz", aNumber},
	RX: {"rx", aNumber}, RY: {"ry", aNumber}, RZ: {"rz", aNumber},
	Speed: {"speed", aNumber}, FlyBy: {"fly_by", aNumber},
	Signal: {"signal", aWhole}, Level: {"level", aWord}, Time: {"time", aNumber}, GoOn: {"go_on", aWord},
	Target: {"target", aText}, N: {"move", aWhole}, Point: {"point", aWord}, PointNumber: {"point_number", aWhole}, Number: {"number", aWhole}, Name: {"name", aName}, Mass: {"mass", aNumber},
	ByHand:  {"by_hand", aWord},
	CentreX: {"centre_x", aNumber}, CentreY: {"centre_y", aNumber}, CentreZ: {"centre_z", aNumber},
	InertiaX: {"inertia_x", aNumber}, InertiaY: {"inertia_y", aNumber}, InertiaZ: {"inertia_z", aNumber},
	Joint1: {"joint1", aNumber}, Joint2: {"joint2", aNumber}, Joint3: {"joint3", aNumber}, Joint4: {"joint4", aNumber},
	Joint5: {"joint5", aNumber}, Joint6: {"joint6", aNumber}, Joint7: {"joint7", aNumber},
	Quarter1: {"quarter1", aNumber}, Quarter2: {"quarter2", aNumber}, Quarter3: {"quarter3", aNumber}, Quarter4: {"quarter4", aNumber},
	Quarter5: {"quarter5", aNumber}, Quarter6: {"quarter6", aNumber}, Quarter7: {"quarter7", aNumber},
	Shoulder: {"shoulder", aWord}, Elbow: {"elbow", aWord}, Wrist: {"wrist", aWord},
}

// String is the field's name in family.yaml.
func (f Field) String() string { return readTable[f].name }

// pattern is what stands for the field where that is the decimal mark.
func (f Field) pattern(mark byte) string {
	if usual := readTable[f].pattern; usual != aNumber || mark == '.' {
		return usual
	}
	return strings.ReplaceAll(aNumber, `\.`, string(mark))
}

// fieldNamed finds a field by its name.
func fieldNamed(name string) (Field, bool) {
	for f := NoField + 1; f < Fields; f++ {
		if readTable[f].name == name {
			return f, true
		}
	}
	return NoField, false
}

// fieldNames is every field's name, for hints.
func fieldNames() []string {
	var names []string
	for f := NoField + 1; f < Fields; f++ {
		names = append(names, f.String())
	}
	return names
}

// withFields puts a named group in the place of every "{field}".
func withFields(pattern string, mark byte) string {
	for f := NoField + 1; f < Fields; f++ {
		pattern = strings.ReplaceAll(pattern, "{"+f.String()+"}", "(?P<"+f.String()+">"+f.pattern(mark)+")")
	}
	return pattern
}

// FieldSet is a set of fields.
type FieldSet uint64

// Has reports whether a field is in the set.
func (s FieldSet) Has(f Field) bool { return s&(1<<f) != 0 }

// With is the set with one field more.
func (s FieldSet) With(f Field) FieldSet {
	if f == NoField {
		return s
	}
	return s | 1<<f
}

// Quantity is what a field measures; false for one that counts or names.
func (f Field) Quantity() (rules.Quantity, bool) {
	switch f {
	case X, Y, Z, CentreX, CentreY, CentreZ:
		return rules.Length, true
	case FlyBy:
		return rules.Limit, true
	case Roll, Pitch, Yaw, Turn, Turn1, Turn2, Turn3,
		RX, RY, RZ, Joint1, Joint2, Joint3, Joint4, Joint5, Joint6, Joint7:
		return rules.Angle, true
	case QW, QX, QY, QZ:
		return rules.Component, true
	case Speed:
		return rules.Speed, true
	case Time:
		return rules.Time, true
	case Load, Mass:
		return rules.Mass, true
	case InertiaX, InertiaY, InertiaZ:
		return rules.Inertia, true
	}
	return 0, false
}

// QuantityIn is Quantity in a job: a joint that slides has readings in mm.
func (f Field) QuantityIn(job *move.Job) (rules.Quantity, bool) {
	if i := int(f) - int(Joint1); f >= Joint1 && i < len(job.Joints) && job.Joints[i].Slides {
		return rules.Length, true
	}
	return f.Quantity()
}

// Kept puts the field that a value is kept under in the place of the one that it
// is written in.
func (s FieldSet) Kept() FieldSet {
	for written, under := range map[Field]Field{
		FrameNumber: Frame, FramePlace: Frame, ToolNumber: Tool, ToolPlace: Tool, Name: Number,
	} {
		if s.Has(written) {
			s = s.With(under)
		}
	}
	return s
}
