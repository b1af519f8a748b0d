package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

// The forms of the files that people write, by their tables of keys. What they read
// is kept nowhere.

// PlanForm is a plan, its cell in place or in a file of its own.
func PlanForm() decode.Form {
	return planForm(new(Plan), decode.OrMapping(decode.Text(nil), cellForm(true)), variants(new([]Variant)))
}

// CellForm is a cell in a file of its own.
func CellForm() decode.Form { return cellForm(false) }

func cellForm(inPlace bool) decode.Form {
	return new(reader).cellForm(new(Cell), new(measurements), inPlace)
}

// MeasuredForm is a file of measured values.
func MeasuredForm() decode.Form { return new(measurements).form() }

// SlotsForm is a file that says what stands where.
func SlotsForm() decode.Form { return new(Found).form() }

// VariantsForm is a file of variants.
func VariantsForm() decode.Form { return variantsFile(new([]Variant)) }

// PointsForm is a file of touched points by itself: of a frame, a tool or a grid.
func PointsForm(kind string) decode.Form { return new(Points).form(kind) }

// FormOf is how a file is written that begins with a format; false for one of another kind.
func FormOf(format string) (decode.Form, bool) {
	switch format {
	case Format:
		return PlanForm(), true
	case CellFormat:
		return CellForm(), true
	case MeasuredFormat:
		return MeasuredForm(), true
	case SlotsFormat:
		return SlotsForm(), true
	case VariantsFormat:
		return VariantsForm(), true
	}
	return nil, false
}

// What keys ask of each other, for the schemas; the readers say it in their own words.
var (
	oneOrientation = schema.NeverBoth(orientations)
	turned         = schema.OneOf(orientations...)
	tcpRules       = []schema.Rule{oneOrientation, schema.OneOf("at", "pivot"), schema.Wanting([2]string{"tolerance", "pivot"})}
	toolRules      = []schema.Rule{
		schema.Wanting([2]string{"inertia", "centre_of_gravity"}),
		schema.SomeWay([]string{"grip", "release"}, []string{"zones"}),
		schema.NeverBoth([]string{"radius", "body"}, []string{"zones", "grip"}, []string{"zones", "release"}, []string{"zones", "number"}),
	}
	frameRules = []schema.Rule{
		schema.SomeOf("at", "three_points", "best_fit"),
		schema.NeverBoth(orientations, []string{"at", "three_points"}, []string{"at", "best_fit"}, []string{"three_points", "best_fit"}),
		schema.Wanting([2]string{"rpy", "at"}, [2]string{"quaternion", "at"}),
	}
	namedPoseRules = []schema.Rule{
		schema.OneOf("at", "joints"),
		schema.NeverBoth(orientations, []string{"joints", "rpy"}, []string{"joints", "quaternion"}, []string{"joints", "frame"}),
	}
	oneOrSeveral = []schema.Rule{schema.OneWay([]string{"output", "level"}, []string{"set"}), schema.NeverBoth([]string{"set", "output"}, []string{"set", "level"})}
	oneRoute     = []schema.Rule{
		schema.OneWay([]string{"from", "to"}, []string{"chain"}, []string{"list"}),
		schema.Wanting([2]string{"from", "to"}, [2]string{"to", "from"}, [2]string{"then", "list"}),
		schema.NeverBoth([]string{"list", "order"}, []string{"list", "at_once"}, []string{"list", "advance"}, []string{"list", "from"}, []string{"list", "to"}),
	}
)

// ifKey is one schema where a key is written, and another where it is not.
func ifKey(key string, then, otherwise schema.Schema) schema.Schema {
	return schema.Schema{}.When(schema.Required(key), then).With("else", otherwise)
}

// partly is a tool or a frame of which a part may stand elsewhere: in a cell below
// measured values, or in those.
var partly = schema.Without("required", "anyOf")

// orNothing is such a thing in the cell, of which nothing at all may be left there:
// "bath:" alone will do.
var orNothing = schema.With("type", []string{"object", "null"})

// wholeUnlessMeasured asks for all that tools and frames need, but in a cell with
// measured values, since those may hold it.
func wholeUnlessMeasured(cell schema.Schema) schema.Schema {
	whole := func(of decode.Form) schema.Schema {
		return schema.Schema{}.With("additionalProperties", of.Schema().Only("type", "required", "anyOf", "dependentRequired"))
	}
	demands := schema.Schema{
		{Name: "tools", Value: whole(new(Tool).form(nil))},
		{Name: "frames", Value: whole(new(Frame).form(nil))},
	}
	return cell.When(schema.Required("measured"), schema.Schema{}).With("else", schema.Schema{}.With("properties", demands))
}

// oneLayoutRules go by the same table as the reader: a way of saying where the slots
// are asks for some keys, leaves no room for others, and its options say nothing
// without it.
func oneLayoutRules(grid schema.Schema) schema.Schema {
	var idle [][2]string
	var rest schema.Schema
	for i := len(layouts) - 1; i >= 0; i-- {
		way := layouts[i]
		for _, key := range way.options {
			idle = append(idle, [2]string{key, way.key})
		}
		demand := schema.Required(way.needs...)
		if rest == nil { // the way that holds when no other is written
			severalSlots := schema.Schema{}.With("anyOf", []schema.Schema{schema.Above(1, "rows"), schema.Above(1, "columns")})
			rest = demand.When(severalSlots, schema.Required("pitch"))
			continue
		}
		rest = ifKey(way.key, demand.With("properties", refused(way.excludes)), rest)
	}
	layered := schema.Schema{}.When(schema.Above(1, "layers"), schema.Required("layer_pitch"))
	return append(grid.Under(schema.Wanting(idle...)).With("allOf", []schema.Schema{layered}), rest...)
}

// refused is keys that there is no room for.
func refused(keys []string) schema.Schema {
	var none schema.Schema
	for _, key := range keys {
		none = none.With(key, false)
	}
	return none
}
