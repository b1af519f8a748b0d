package readback

import (
	"strconv"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/move"
)

// valuer makes values of what stands in a line.
type valuer struct {
	rules         *family.Rules
	machine       float64 // mm/s, what percent of speed is of
	frames, tools map[string]int
}

func newValuer(f *family.Family, job move.Job) *valuer {
	frames, tools := job.FrameNames(), job.ToolNames()
	return &valuer{rules: &f.Rules, machine: job.Speed, frames: numbersOf(f, frames), tools: numbersOf(f, tools)}
}

// numbersOf finds an entry by its identifier and, where that leaves no doubt, by
// what the cell calls it.
func numbersOf(f *family.Family, labels []string) map[string]int {
	numbers := map[string]int{}
	for i, label := range labels {
		numbers[label] = i + 1
	}
	for i, name := range f.Names.Table(labels) {
		numbers[name] = i + 1
	}
	return numbers
}

// put keeps the text of a field as a value. It is false for a text that is
// none, such as a level that is neither on nor off.
func (v *valuer) put(to *Values, f family.Field, text string, means family.Means) bool {
	switch f {
	case family.NoField:
		return true
	case family.ReadFrame:
		to.set(f, float64(v.frames[text]))
	case family.ReadTool:
		to.set(f, float64(v.tools[text]))
	case family.ReadName:
		return v.putName(to, text, means)
	case family.ReadTarget:
		to.set(f, 0)
		to.Target = text
	case family.ReadLevel, family.ReadGoOn:
		return to.putWord(f, text)
	default:
		return v.putNumber(to, f, text)
	}
	return true
}

// putName keeps a table's entry by its name, which must agree with its number.
func (v *valuer) putName(to *Values, text string, means family.Means) bool {
	number := float64(v.frames[text])
	if means == family.MeansTool {
		number = float64(v.tools[text])
	}
	if to.Has.Has(family.ReadNumber) {
		return to.Number[family.ReadNumber] == number
	}
	to.set(family.ReadNumber, number)
	return true
}

// truths are the words for on and off, and for going on and stopping.
var truths = map[string]float64{
	"on": 1, "true": 1, "yes": 1, "high": 1, "go-on": 1, "go": 1,
	"off": 0, "false": 0, "no": 0, "low": 0, "stop": 0,
}

func (to *Values) putWord(f family.Field, text string) bool {
	value, known := truths[strings.ToLower(text)]
	if !known {
		number, err := strconv.ParseFloat(text, 64)
		if err != nil || number != 0 && number != 1 {
			return false
		}
		value = number
	}
	to.set(f, value)
	return true
}

func (v *valuer) putNumber(to *Values, f family.Field, text string) bool {
	number, err := strconv.ParseFloat(text, 64)
	if err != nil || number-number != 0 {
		return false
	}
	switch f {
	case family.ReadFrameNumber:
		f = family.ReadFrame
	case family.ReadToolNumber:
		f = family.ReadTool
	}
	if q, measured := quantityOf(f); measured {
		number = v.rules.Units.At(q, v.machine).Value(number)
	}
	to.set(f, number)
	return true
}

// quantityOf is what a field measures; false for one that counts or names.
func quantityOf(f family.Field) (family.Quantity, bool) {
	switch f {
	case family.ReadX, family.ReadY, family.ReadZ, family.ReadBlend, family.ReadCentreX, family.ReadCentreY, family.ReadCentreZ:
		return family.Length, true
	case family.ReadRoll, family.ReadPitch, family.ReadYaw, family.ReadTurn, family.ReadTurn1, family.ReadTurn2, family.ReadTurn3,
		family.ReadRX, family.ReadRY, family.ReadRZ:
		return family.Angle, true
	case family.ReadQW, family.ReadQX, family.ReadQY, family.ReadQZ:
		return family.Component, true
	case family.ReadSpeed:
		return family.Speed, true
	case family.ReadTime:
		return family.Time, true
	case family.ReadLoad, family.ReadMass:
		return family.Mass, true
	}
	return 0, false
}
