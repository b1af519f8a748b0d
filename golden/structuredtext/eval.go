package structuredtext

import (
	"math"
	"strings"
	"time"
)

// locate finds the cell of a reference; indexes are held to the bounds.
func (m *Machine) locate(r *Reference) (*cell, error) {
	c := m.cells[upperName(r.Name)]
	for _, part := range r.Parts {
		if part.Field != "" {
			c = c.part(part.Field)
			continue
		}
		at, err := m.index(c.typ, part)
		if err != nil {
			return nil, err
		}
		c = c.elems[at]
	}
	return c, nil
}

func (c *cell) part(name string) *cell {
	if c.instance != nil {
		return c.instance.outputs[upperName(name)]
	}
	return c.fields[upperName(name)]
}

// index gives the place of an element, row by row.
func (m *Machine) index(t *dataType, part Part) (int64, error) {
	at := int64(0)
	for i, x := range part.Index {
		v, err := m.eval(x)
		if err != nil {
			return 0, err
		}
		n, d := v.(int64), t.dims[i]
		if n < d.low || n > d.top {
			return 0, faultAt(x.place(), execution, "index %d is outside %d..%d", n, d.low, d.top)
		}
		at = at*(d.top-d.low+1) + n - d.low
	}
	return at, nil
}

// eval works out a value; whole numbers are held to the range of the
// expression's type, reals rounded to its accuracy.
func (m *Machine) eval(x Expression) (any, error) {
	switch x := x.(type) {
	case *Literal:
		return asType(x.Value, elementary[x.Type]), nil
	case *EnumLiteral:
		return enumValue(m.checker.properName(x.Name)), nil
	case *Reference:
		return m.evalReference(x)
	case *Unary:
		return m.evalUnary(x)
	case *Binary:
		return m.evalBinary(x)
	case *Call:
		return m.evalCall(x)
	}
	return nil, faultAt(x.place(), execution, "a list of values cannot be worked out")
}

func (m *Machine) evalReference(r *Reference) (any, error) {
	if m.cells[upperName(r.Name)] == nil {
		return enumValue(m.checker.properName(r.Name)), nil
	}
	c, err := m.locate(r)
	if err != nil {
		return nil, err
	}
	return c.get(), nil
}

// settle holds a result to its type.
func (m *Machine) settle(x Expression, v any) (any, error) {
	t := m.checker.types[x]
	if t.real() || t.kind == kindInteger || t.kind == kindBits {
		fitted, err := fit(v, t)
		if err != nil {
			return nil, faultAt(x.place(), execution, "%v", err)
		}
		return fitted, nil
	}
	return v, nil
}

func (m *Machine) evalUnary(x *Unary) (any, error) {
	v, err := m.eval(x.X)
	if err != nil {
		return nil, err
	}
	if n, isBits := v.(int64); isBits && x.Op == "NOT" {
		return m.checker.types[x.X].top &^ n, nil
	}
	if x.Op == "+" {
		return v, nil
	}
	result, _ := constantUnary(x.Op, v) // Check has seen that the operator goes with the type
	return m.settle(x, result)
}

func (m *Machine) evalBinary(x *Binary) (any, error) {
	a, err := m.eval(x.X)
	if err != nil {
		return nil, err
	}
	b, err := m.eval(x.Y)
	if err != nil {
		return nil, err
	}
	if operatorGivesBool[x.Op] {
		return holds(x.Op, compareValues(a, b)), nil
	}
	result, problem := operate(x.Op, a, b, m.checker.types[x])
	if problem != "" {
		return nil, faultAt(x.Place, execution, "%s", problem)
	}
	return m.settle(x, result)
}

// compareValues gives -1, 0 or 1; values that are equal or not only give 0 or 1.
func compareValues(a, b any) int {
	if f, ok := asReal(a); ok {
		g, _ := asReal(b)
		x, wholeA := a.(int64)
		y, wholeB := b.(int64)
		if wholeA && wholeB {
			return order(x, y)
		}
		return order(f, g)
	}
	switch a := a.(type) {
	case time.Duration:
		return order(a, b.(time.Duration))
	case string:
		return order(a, b.(string))
	case bool:
		return order(asBit(a), asBit(b.(bool)))
	}
	if a == b {
		return 0
	}
	return 1
}

func order[T int | int64 | float64 | time.Duration | string](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func asBit(b bool) int64 {
	if b {
		return 1
	}
	return 0
}

func holds(op string, order int) bool {
	switch op {
	case "=":
		return order == 0
	case "<>":
		return order != 0
	case "<":
		return order < 0
	case ">":
		return order > 0
	case "<=":
		return order <= 0
	}
	return order >= 0
}

// operate applies an operator whose result has the type t.
func operate(op string, a, b any, t *dataType) (any, string) {
	switch {
	case t.kind == kindBool:
		return logic(op, a.(bool), b.(bool)), ""
	case t.kind == kindBits || t.whole() && (op == "AND" || op == "OR" || op == "XOR"):
		return bitwise(op, a.(int64), b.(int64)), ""
	case t.kind == kindTime:
		return duration(op, a, b)
	case t.real():
		return operateReal(op, a, b)
	}
	x, y := a.(int64), b.(int64)
	if (op == "/" || op == "MOD") && y == 0 {
		return nil, "division by zero"
	}
	result, _ := constantWhole(op, x, y)
	return result, ""
}

func logic(op string, a, b bool) bool {
	switch op {
	case "AND":
		return a && b
	case "OR":
		return a || b
	}
	return a != b
}

func bitwise(op string, a, b int64) int64 {
	switch op {
	case "AND":
		return a & b
	case "OR":
		return a | b
	}
	return a ^ b
}

func operateReal(op string, a, b any) (any, string) {
	x, _ := asReal(a)
	y, _ := asReal(b)
	switch op {
	case "+":
		return x + y, ""
	case "-":
		return x - y, ""
	case "*":
		return x * y, ""
	case "**":
		return math.Pow(x, y), ""
	}
	if y == 0 {
		return nil, "division by zero"
	}
	return x / y, ""
}

func duration(op string, a, b any) (any, string) {
	x := a.(time.Duration)
	if y, ok := b.(time.Duration); ok {
		if op == "+" {
			return x + y, ""
		}
		return x - y, ""
	}
	factor, _ := asReal(b)
	if op == "*" {
		return time.Duration(math.Round(float64(x) * factor)), ""
	}
	if factor == 0 {
		return nil, "division by zero"
	}
	return time.Duration(math.Round(float64(x) / factor)), ""
}

func (m *Machine) evalCall(x *Call) (any, error) {
	args := make([]any, len(x.Args))
	for i, a := range x.Args {
		v, err := m.eval(a)
		if err != nil {
			return nil, err
		}
		args[i] = v
	}
	upper := strings.ToUpper(x.Name)
	var result any
	if _, to, ok := conversion(upper); ok {
		result = convertTo(to, args[0])
	} else {
		result = applyFunction(upper, args)
	}
	if result == nil {
		return nil, faultAt(x.Place, execution, "%s has no value for this input", upper)
	}
	return m.settle(x, result)
}

// convertTo rounds reals to the nearest whole number, half to even
// (IEC 61131-3 Ed. 3, Table 22); a duration counts milliseconds.
func convertTo(to *dataType, v any) any {
	f, number := asReal(v)
	switch v := v.(type) {
	case bool:
		f, number = float64(asBit(v)), true
	case time.Duration:
		f, number = float64(v)/float64(time.Millisecond), true
	}
	if !number {
		return nil
	}
	switch to.kind {
	case kindBool:
		return f != 0
	case kindTime:
		return time.Duration(math.Round(f * float64(time.Millisecond)))
	case kindReal:
		return f
	}
	if n, whole := v.(int64); whole {
		return n
	}
	if math.Abs(f) >= 1<<62 {
		return nil
	}
	return int64(math.RoundToEven(f))
}

var realFunctions = map[string]func(float64) float64{
	"SQRT": math.Sqrt, "LN": math.Log, "LOG": math.Log10, "EXP": math.Exp, "SIN": math.Sin, "COS": math.Cos, "TAN": math.Tan,
	"ASIN": math.Asin, "ACOS": math.Acos, "ATAN": math.Atan,
}

func applyFunction(name string, args []any) any {
	switch name {
	case "ABS":
		return absolute(args[0])
	case "TRUNC":
		f, _ := asReal(args[0])
		return convertTo(elementary["LINT"], math.Trunc(f))
	case "MIN", "MAX":
		return extreme(name, args)
	case "LIMIT":
		return extreme("MIN", []any{extreme("MAX", []any{args[0], args[1]}), args[2]})
	case "SEL":
		if args[0].(bool) {
			return args[2]
		}
		return args[1]
	}
	f, _ := asReal(args[0])
	return realFunctions[name](f)
}

func absolute(v any) any {
	if n, whole := v.(int64); whole {
		return max(n, -n)
	}
	f, _ := asReal(v)
	return math.Abs(f)
}

func extreme(name string, args []any) any {
	best := args[0]
	for _, v := range args[1:] {
		if c := compareValues(v, best); name == "MIN" && c < 0 || name == "MAX" && c > 0 {
			best = v
		}
	}
	return best
}
