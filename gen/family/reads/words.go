package reads

import (
	"strconv"

	"gridferry/gen/arm"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// Words is a field's name for people.
func (f Field) Words() string {
	switch f {
	case ByHand:
		return "stop for a change of tool by hand"
	case GoOn:
		return "going on after the time-out"
	case Time:
		return "time"
	case N:
		return "number"
	}
	return f.String()
}

// Figure is a value with its unit, which UnitIn tells.
func (f Field) Figure(v float64, unit string) string {
	switch f {
	case Level, GoOn, ByHand:
		return wording.Level(v != 0)
	case Shoulder, Elbow, Wrist:
		return arm.Side(int(f-Shoulder), v == 0)
	}
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if b, err := rules.AppendFixed(nil, v, f.Decimals()); err == nil && f.Decimals() > 0 {
		text = string(b)
	}
	if unit != "" {
		return text + " " + unit
	}
	return text
}

// UnitIn is what a field is counted in, in a job; "" for numbers of things.
func (f Field) UnitIn(job *move.Job) string {
	q, measured := f.QuantityIn(job)
	if !measured {
		return ""
	}
	return map[rules.Quantity]string{
		rules.Length: "mm", rules.Limit: "mm", rules.Angle: "degrees", rules.Time: "s", rules.Speed: "mm/s", rules.Mass: "kg", rules.Inertia: "kg·m²",
	}[q]
}

// Decimals is how finely differences are written.
func (f Field) Decimals() int {
	q, measured := f.Quantity()
	switch {
	case !measured:
		return 0
	case q == rules.Component:
		return 6
	case q == rules.Inertia:
		return 7
	}
	return 4
}
