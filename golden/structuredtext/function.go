package structuredtext

import "strings"

// A function's signature: how many inputs, and the type that follows from
// them, nil where they do not go.
type signature struct {
	least, most int
	result      func(args []*dataType) *dataType
}

// functions: IEC 61131-3 Ed. 3, Tables 28, 29, 32 and 33, as far as read here.
var functions = map[string]signature{
	"ABS":  {1, 1, numeric},
	"SQRT": {1, 1, realOnly}, "LN": {1, 1, realOnly}, "LOG": {1, 1, realOnly}, "EXP": {1, 1, realOnly},
	"SIN": {1, 1, realOnly}, "COS": {1, 1, realOnly}, "TAN": {1, 1, realOnly},
	"ASIN": {1, 1, realOnly}, "ACOS": {1, 1, realOnly}, "ATAN": {1, 1, realOnly},
	"TRUNC": {1, 1, func(a []*dataType) *dataType {
		if a[0].real() {
			return elementary["DINT"]
		}
		return nil
	}},
	"MIN": {2, 16, alike}, "MAX": {2, 16, alike}, "LIMIT": {3, 3, alike},
	"SEL": {3, 3, func(a []*dataType) *dataType {
		if a[0].kind != kindBool {
			return nil
		}
		return common(a[1], a[2])
	}},
}

func numeric(a []*dataType) *dataType {
	if a[0].number() {
		return a[0]
	}
	return nil
}

func realOnly(a []*dataType) *dataType {
	if a[0].real() {
		return a[0]
	}
	return nil
}

// alike: all of one ordered type, after widening.
func alike(a []*dataType) *dataType {
	t := a[0]
	for _, other := range a[1:] {
		if t = common(t, other); t == nil {
			return nil
		}
	}
	if t.number() || comparable(t.kind) {
		return t
	}
	return nil
}

func isFunction(upper string) bool {
	_, known := functions[upper]
	return known || isConversion(upper)
}

func isConversion(upper string) bool {
	_, _, ok := conversion(upper)
	return ok
}

// conversion takes A_TO_B apart. Numbers, bit strings and BOOL convert to each
// other (Table 22). To and from TIME the standard has none, though they are
// common; they are read here, in milliseconds (common practice, no source).
func conversion(upper string) (from, to *dataType, ok bool) {
	a, b, cut := strings.Cut(upper, "_TO_")
	from, to = elementary[a], elementary[b]
	if !cut || from == nil || to == nil || from == to || from == stringType || to == stringType {
		return nil, nil, false
	}
	return from, to, true
}

func (c *checker) call(x *Call) *dataType {
	args := make([]*dataType, len(x.Args))
	for i, a := range x.Args {
		args[i] = c.expression(a)
	}
	upper := strings.ToUpper(x.Name)
	if from, to, ok := conversion(upper); ok {
		return c.convert(x, from, to)
	}
	f, known := functions[upper]
	switch {
	case !known && c.names[upper] != nil:
		c.fault(x.Place, iecFunctions, "%q is no function and gives no value", x.Name)
		return invalidType
	case !known:
		c.fault(x.Place, iecFunctions, "function %q is not declared", x.Name)
		return invalidType
	case len(args) < f.least || len(args) > f.most:
		c.fault(x.Place, iecFunctions, "%s with %d inputs, %d to %d were wanted", upper, len(args), f.least, f.most)
		return invalidType
	}
	return c.apply(x, upper, f, args)
}

func (c *checker) apply(x *Call, upper string, f signature, args []*dataType) *dataType {
	var names []string
	for _, a := range args {
		if a.kind == kindInvalid {
			return invalidType
		}
		names = append(names, a.describe())
	}
	if t := f.result(args); t != nil {
		return t
	}
	c.fault(x.Place, iecFunctions, "%s does not go with %s", upper, strings.Join(names, ", "))
	return invalidType
}

func (c *checker) convert(x *Call, from, to *dataType) *dataType {
	if len(x.Args) != 1 {
		c.fault(x.Place, iecFunctions, "%s wants one input, found %d", strings.ToUpper(x.Name), len(x.Args))
		return to
	}
	c.fits(x.Args[0], from)
	return to
}
