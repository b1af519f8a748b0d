package family

import "strings"

// Field is one value that a line of a program can carry.
type Field uint8

// The fields. Their names in family.yaml are in readTable. NoField stands for
// a column or a group that does not matter.
const (
	NoField         Field = iota
	ReadKind              // of a row only: which kind of move it is
	ReadFrame             // the frame by its name
	ReadFrameNumber       // or by its number
	ReadTool
	ReadToolNumber
	ReadLoad
	ReadX
	ReadY
	ReadZ
	ReadRoll
	ReadPitch
	ReadYaw
	ReadTurn
	ReadTurn1
	ReadTurn2
	ReadTurn3
	ReadQW
	ReadQX
	ReadQY
	ReadQZ
	ReadRX
	ReadRY
	ReadRZ
	ReadSpeed
	ReadFlyBy
	ReadSignal
	ReadLevel
	ReadTime
	ReadGoOn
	ReadTarget
	ReadNumber // of an entry of the tables of frames and tools
	ReadName
	ReadMass
	ReadCentreX
	ReadCentreY
	ReadCentreZ
	Fields = iota
)

// What stands for a field in a pattern: "{x}" is any way to write a number.
const (
	aNumber = `[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)`
	aWhole  = `[0-9]+`
	aWord   = `[^\s,;]+`
	aText   = `.+`
)

// readTable is every field's name and the pattern that stands for it.
var readTable = [Fields]struct{ name, pattern string }{
	ReadKind: {"kind", aNumber}, ReadFrame: {"frame", aWord}, ReadFrameNumber: {"frame_number", aWhole},
	ReadTool: {"tool", aWord}, ReadToolNumber: {"tool_number", aWhole}, ReadLoad: {"load", aNumber},
	ReadX: {"x", aNumber}, ReadY: {"y", aNumber}, ReadZ: {"z", aNumber},
	ReadRoll: {"roll", aNumber}, ReadPitch: {"pitch", aNumber}, ReadYaw: {"yaw", aNumber}, ReadTurn: {"turn", aNumber},
	ReadTurn1: {"turn1", aNumber}, ReadTurn2: {"turn2", aNumber}, ReadTurn3: {"turn3", aNumber},
	ReadQW: {"qw", aNumber}, ReadQX: {"qx", aNumber}, ReadQY: {"qy", aNumber}, ReadQZ: {"qz", aNumber},
	ReadRX: {"rx", aNumber}, ReadRY: {"ry", aNumber}, ReadRZ: {"rz", aNumber},
	ReadSpeed: {"speed", aNumber}, ReadFlyBy: {"fly_by", aNumber},
	ReadSignal: {"signal", aWhole}, ReadLevel: {"level", aWord}, ReadTime: {"time", aNumber}, ReadGoOn: {"go_on", aWord},
	ReadTarget: {"target", aText}, ReadNumber: {"number", aWhole}, ReadName: {"name", aWord}, ReadMass: {"mass", aNumber},
	ReadCentreX: {"centre_x", aNumber}, ReadCentreY: {"centre_y", aNumber}, ReadCentreZ: {"centre_z", aNumber},
}

// String is the field's name in family.yaml.
func (f Field) String() string { return readTable[f].name }

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
func withFields(pattern string) string {
	for f := NoField + 1; f < Fields; f++ {
		pattern = strings.ReplaceAll(pattern, "{"+f.String()+"}", "(?P<"+f.String()+">"+readTable[f].pattern+")")
	}
	return pattern
}

// FieldSet is a set of fields.
type FieldSet uint64

// Has tells whether a field is in the set.
func (s FieldSet) Has(f Field) bool { return s&(1<<f) != 0 }

// With is the set with one field more.
func (s FieldSet) With(f Field) FieldSet {
	if f == NoField {
		return s
	}
	return s | 1<<f
}
