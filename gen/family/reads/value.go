package reads

import (
	"hash/fnv"
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// valuer makes values of what stands in a line.
type valuer struct {
	frames, tools names
	figures       [Fields]figure
	plain         FieldSet // whose figures count as they stand, on whatever line
	target        string   // the last one: mostly the next one too
	form          *rules.Form
}

// numbered are fields whose figures stand for what a table has.
var numbered = SetOf(FrameNumber, FramePlace, ToolNumber, ToolPlace, Number)

// figure is how the figures of a field are kept.
type figure struct {
	under  Field
	unit   rules.Unit
	counts bool // as it stands, in no unit or in the internal one
}

func newValuer(r *rules.Rules, job move.Job) *valuer {
	v := &valuer{
		frames: namesOf(r, job.FrameNames(), job.KnownFrames()), tools: namesOf(r, job.ToolNames(), job.KnownTools()),
		form: &r.Form,
	}
	for i := range v.figures {
		field := &v.figures[i]
		field.under, field.counts = Field(i), true
		if q, measured := field.under.QuantityIn(&job); measured {
			field.unit = r.Units.At(q, job.Speed)
			field.counts = field.unit.Times == 1 && field.unit.Over == 1
		}
		if field.counts && !numbered.Has(field.under) {
			v.plain = v.plain.With(field.under)
		}
	}
	v.figures[FramePlace].under = Frame
	v.figures[ToolPlace].under = Tool
	return v
}

// names finds the entries of a table by their names.
type names struct {
	learns  bool // there is no table, and names are learned from the program's own
	learned func()
	numbers map[string]int
	places  map[float64]int // by the numbers that the controller knows; nil where those are the places
	last    string          // the one that was asked for last: mostly the next one too
	number  float64
}

func namesOf(r *rules.Rules, labels []string, known []int) names {
	numbers := numbersOf(r, labels)
	n := names{numbers: numbers, number: float64(numbers[""]), learns: len(labels) == 0}
	for i, number := range known {
		if number != i+1 && n.places == nil {
			n.places = map[float64]int{}
		}
	}
	for i, number := range known {
		if n.places != nil {
			n.places[float64(number)] = i + 1
		}
	}
	return n
}

// place is the place of an entry that the controller knows by a number; 0 for none.
func (n *names) place(known float64) float64 {
	if n.places == nil {
		return known
	}
	return float64(n.places[known])
}

// numberOf is an entry's number, 0 for none.
func (n *names) numberOf(name []byte) float64 {
	if string(name) != n.last {
		n.last, n.number = string(name), float64(n.numbers[string(name)])
		if n.number == 0 && n.learns {
			n.number = nameless(name)
		}
	}
	return n.number
}

// nameless stands for the number of a name that no table has: the same for one name in
// every program, and hardly ever the same for two names. It is a whole number of 31 bits, and
// larger than any that a cell gives.
func nameless(name []byte) float64 {
	h := fnv.New32a()
	h.Write(name)
	return float64(1<<30 + h.Sum32()>>2)
}

// learn keeps the number of a name as an entry of the program's own table has it.
func (n *names) learn(name []byte, number float64) {
	if n.learns && n.numbers[string(name)] == 0 {
		n.numbers[string(name)], n.last = int(number), ""
		n.learned()
	}
}

// numbersOf finds an entry by its identifier and, where that leaves no doubt, by
// what the cell calls it.
func numbersOf(r *rules.Rules, labels []string) map[string]int {
	numbers := map[string]int{}
	for i, label := range labels {
		numbers[label] = i + 1
	}
	for i, name := range r.Names.Table(labels) {
		numbers[name] = i + 1
	}
	return numbers
}

// put keeps the text of a field as a value. It is false for a text that is
// none, such as a level that is neither on nor off.
func (v *valuer) put(to *Values, f Field, text []byte, means Means) bool {
	switch f {
	case NoField:
		return true
	case Frame:
		to.Set(f, v.frames.numberOf(text))
	case Tool:
		to.Set(f, v.tools.numberOf(text))
	case Name:
		return v.putName(to, text, means)
	case Target:
		to.Set(f, 0)
		if string(text) != v.target {
			v.target = string(text)
		}
		to.Target = v.target
	case Point:
		to.Set(f, 0)
		to.Point = string(text)
	case Level, GoOn, ByHand, Shoulder, Elbow, Wrist:
		return v.putWord(to, f, text)
	default:
		return v.putNumber(to, f, text, means)
	}
	return true
}

// putName keeps a table's entry by its name, which must agree with its number.
func (v *valuer) putName(to *Values, text []byte, means Means) bool {
	if means == MeansPoint {
		return v.put(to, Point, text, means)
	}
	table := &v.frames
	if means == MeansTool {
		table = &v.tools
	}
	if to.Has.Has(Number) {
		table.learn(text, to.Number[Number])
	}
	number := table.numberOf(text)
	if to.Has.Has(Number) {
		return to.Number[Number] == number
	}
	to.Set(Number, number)
	return true
}

// truthOf knows the words for on and off, for going on and stopping, and for the sides of an arm's
// singular places: the first of each two is 1.
func truthOf(word string) (value float64, known bool) {
	switch word {
	case "on", "true", "yes", "high", "go-on", "go", "front", "up":
		return 1, true
	case "off", "false", "no", "low", "stop", "back", "down":
		return 0, true
	}
	if lower := strings.ToLower(word); lower != word {
		return truthOf(lower)
	}
	return 0, false
}

func (v *valuer) putWord(to *Values, f Field, text []byte) bool {
	value, known := truthOf(string(text))
	if !known {
		if value, known = v.number(text); !known || value != 0 && value != 1 {
			return false
		}
	}
	to.Set(f, value)
	return true
}

// number is the number that a text is; false where it is none.
func (v *valuer) number(text []byte) (float64, bool) {
	if value, n := Decimal(text, v.form.Mark()); n == len(text) && n > 0 {
		return value, true
	}
	return v.form.Number(string(text))
}

// putFound keeps a field that a pattern found in a text.
func (v *valuer) putFound(to *Values, text []byte, found *Found, means Means) bool {
	if found.Figure {
		return v.putFigure(to, found.Field, found.Number, means)
	}
	return v.put(to, found.Field, text[found.From:found.To], means)
}

func (v *valuer) putNumber(to *Values, f Field, text []byte, means Means) bool {
	number, known := v.number(text)
	return known && v.putFigure(to, f, number, means)
}

// putFigure keeps a figure in the internal unit. It is false for
// one that is out of range.
func (v *valuer) putFigure(to *Values, f Field, number float64, means Means) bool {
	if number-number != 0 {
		return false
	}
	switch {
	case v.plain.Has(f):
		to.Set(f, number)
		return true
	case f == FrameNumber:
		to.Set(Frame, v.frames.place(number))
		return true
	case f == ToolNumber:
		to.Set(Tool, v.tools.place(number))
		return true
	case f == Number && means == MeansFrame:
		number = v.frames.place(number)
	case f == Number && means == MeansTool:
		number = v.tools.place(number)
	}
	figure := &v.figures[f]
	if !figure.counts {
		number = figure.unit.Value(number)
	}
	to.Set(figure.under, number)
	return true
}
