package decode

import (
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// figures reads a list with one figure for each name, all of one form; the names say
// in messages what the figures are. take gets them all, or is not called.
func figures(names []string, each func(*Value[float64]) Form, take func([]float64, diag.Place)) Form {
	list := func() schema.Schema { return schema.Times(len(names), each(nil).Schema()) }
	var all []Figure
	for _, name := range names {
		figure := Figures(each(nil))[0]
		figure.Name = name
		all = append(all, figure)
	}
	return bounded(Own(list, func(r *Reader, n Node) {
		wanted := "[" + strings.Join(names, ", ") + "]"
		if !IsList(n) {
			r.wrongType(n, wanted)
			return
		}
		items := n.Items()
		if len(items) != len(names) {
			r.List.Errorf("wrong-length", n.Place(), "the list has length %d, wanted %d: %s", len(items), len(names), wanted).
				WithHint("%s", lengthHint(items, names))
			return
		}
		values := make([]float64, len(items))
		for i, item := range items {
			var value Value[float64]
			each(&value).Read(r, item)
			if !value.IsSet() {
				return
			}
			values[i] = value.V
		}
		take(values, n.Place())
	}), all...)
}

// Vector reads [x, y, z], each a length.
func Vector(dst *Value[[3]float64]) Form {
	return Shared("vector", three(dst, []string{"x", "y", "z"}, unit.Length, Any))
}

// Direction reads [x, y, z] of any length.
func Direction(dst *Value[[3]float64]) Form {
	return Shared("direction", figures([]string{"x", "y", "z"}, Number, func(v []float64, at diag.Place) {
		*dst = Value[[3]float64]{[3]float64(v), at}
	}))
}

// Angles reads [roll, pitch, yaw].
func Angles(dst *Value[[3]float64]) Form {
	return Shared("angles", three(dst, []string{"roll", "pitch", "yaw"}, unit.Angle, Any))
}

// Size reads [x, y, z] of something solid.
func Size(dst *Value[[3]float64]) Form {
	return three(dst, []string{"x", "y", "z"}, unit.Length, Positive)
}

// Inertia reads [x, y, z], each a moment of inertia.
func Inertia(dst *Value[[3]float64]) Form {
	return three(dst, []string{"x", "y", "z"}, unit.Inertia, Positive)
}

func three(dst *Value[[3]float64], names []string, d unit.Dimension, bound Bound) Form {
	return figures(names, quantities(d, bound), func(v []float64, at diag.Place) {
		*dst = Value[[3]float64]{[3]float64(v), at}
	})
}

// Quaternion reads [w, x, y, z] as it is written; its length is checked later.
func Quaternion(dst *Value[[4]float64]) Form {
	return Shared("quaternion", figures([]string{"w", "x", "y", "z"}, Number, func(v []float64, at diag.Place) {
		*dst = Value[[4]float64]{[4]float64(v), at}
	}))
}

// Pair reads a list of two lengths, both inside bound.
func Pair(dst *Value[[2]float64], first, second string, bound Bound) Form {
	return PairIn(dst, first, second, unit.Length, bound)
}

// PairIn is Pair in any dimension.
func PairIn(dst *Value[[2]float64], first, second string, d unit.Dimension, bound Bound) Form {
	return figures([]string{first, second}, quantities(d, bound), func(v []float64, at diag.Place) {
		*dst = Value[[2]float64]{[2]float64(v), at}
	})
}

func quantities(d unit.Dimension, bound Bound) func(*Value[float64]) Form {
	return func(v *Value[float64]) Form { return Quantity(v, d, bound) }
}
