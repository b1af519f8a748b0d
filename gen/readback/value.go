package readback

import (
	"strconv"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/move"
)

// valuer makes values of what stands in a line.
type valuer struct {
	frames, tools names
	figures       [family.Fields]figure
	target        string // the last one: mostly the next one too
}

// figure is how the figures of a field are kept.
type figure struct {
	under  family.Field
	unit   family.Unit
	counts bool // as it stands, in no unit or in the one that Gridferry reckons in
}

func newValuer(f *family.Family, job move.Job) *valuer {
	v := &valuer{frames: namesOf(f, job.FrameNames()), tools: namesOf(f, job.ToolNames())}
	for i := range v.figures {
		field := &v.figures[i]
		field.under, field.counts = family.Field(i), true
		if q, measured := quantityOf(field.under); measured {
			field.unit = f.Units.At(q, job.Speed)
			field.counts = field.unit.Times == 1 && field.unit.Over == 1
		}
	}
	v.figures[family.ReadFrameNumber].under = family.ReadFrame
	v.figures[family.ReadToolNumber].under = family.ReadTool
	return v
}

// names finds the entries of a table by their names.
type names struct {
	numbers map[string]int
	last    string // the one that was asked for last: mostly the next one too
	number  float64
}

func namesOf(f *family.Family, labels []string) names {
	numbers := numbersOf(f, labels)
	return names{numbers: numbers, number: float64(numbers[""])}
}

// numberOf is an entry's number, 0 for none.
func (n *names) numberOf(name []byte) float64 {
	if string(name) != n.last {
		n.last, n.number = string(name), float64(n.numbers[string(name)])
	}
	return n.number
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
func (v *valuer) put(to *Values, f family.Field, text []byte, means family.Means) bool {
	switch f {
	case family.NoField:
		return true
	case family.ReadFrame:
		to.set(f, v.frames.numberOf(text))
	case family.ReadTool:
		to.set(f, v.tools.numberOf(text))
	case family.ReadName:
		return v.putName(to, text, means)
	case family.ReadTarget:
		to.set(f, 0)
		if string(text) != v.target {
			v.target = string(text)
		}
		to.Target = v.target
	case family.ReadLevel, family.ReadGoOn:
		return to.putWord(f, text)
	default:
		return v.putNumber(to, f, text)
	}
	return true
}

// putName keeps a table's entry by its name, which must agree with its number.
func (v *valuer) putName(to *Values, text []byte, means family.Means) bool {
	number := v.frames.numberOf(text)
	if means == family.MeansTool {
		number = v.tools.numberOf(text)
	}
	if to.Has.Has(family.ReadNumber) {
		return to.Number[family.ReadNumber] == number
	}
	to.set(family.ReadNumber, number)
	return true
}

// truthOf knows the words for on and off, and for going on and stopping.
func truthOf(word string) (value float64, known bool) {
	switch word {
	case "on", "true", "yes", "high", "go-on", "go":
		return 1, true
	case "off", "false", "no", "low", "stop":
		return 0, true
	}
	if lower := strings.ToLower(word); lower != word {
		return truthOf(lower)
	}
	return 0, false
}

func (to *Values) putWord(f family.Field, text []byte) bool {
	value, known := truthOf(string(text))
	if !known {
		if value, known = numberOf(text); !known || value != 0 && value != 1 {
			return false
		}
	}
	to.set(f, value)
	return true
}

// numberOf is the number that a text is; false where it is none.
func numberOf(text []byte) (float64, bool) {
	if value, n := family.Decimal(text); n == len(text) && n > 0 {
		return value, true
	}
	value, err := strconv.ParseFloat(string(text), 64)
	return value, err == nil
}

// putFound keeps a field that a pattern found in a text.
func (v *valuer) putFound(to *Values, text []byte, found *family.Found, means family.Means) bool {
	if found.Figure {
		return v.putFigure(to, found.Field, found.Number)
	}
	return v.put(to, found.Field, text[found.From:found.To], means)
}

func (v *valuer) putNumber(to *Values, f family.Field, text []byte) bool {
	number, known := numberOf(text)
	return known && v.putFigure(to, f, number)
}

// putFigure keeps a figure in the unit that Gridferry reckons in. It is false for
// one that is out of range.
func (v *valuer) putFigure(to *Values, f family.Field, number float64) bool {
	if number-number != 0 {
		return false
	}
	figure := &v.figures[f]
	if !figure.counts {
		number = figure.unit.Value(number)
	}
	to.set(figure.under, number)
	return true
}

// quantityOf is what a field measures; false for one that counts or names.
func quantityOf(f family.Field) (family.Quantity, bool) {
	switch f {
	case family.ReadX, family.ReadY, family.ReadZ, family.ReadCentreX, family.ReadCentreY, family.ReadCentreZ:
		return family.Length, true
	case family.ReadFlyBy:
		return family.Limit, true
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
