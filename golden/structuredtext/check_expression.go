package structuredtext

import (
	"strings"
	"time"
)

// expression gives the type of a value and remembers it.
func (c *checker) expression(x Expression) *dataType {
	t := c.typeOf(x)
	c.types[x] = t
	return t
}

func (c *checker) typeOf(x Expression) *dataType {
	switch x := x.(type) {
	case *Literal:
		return c.literal(x)
	case *EnumLiteral:
		return c.enumLiteral(x)
	case *Reference:
		return c.reference(x)
	case *Unary:
		return c.unary(x)
	case *Binary:
		return c.binary(x)
	case *Call:
		return c.call(x)
	}
	c.fault(x.place(), iecSyntax, "a list of values stands outside a declaration")
	return invalidType
}

func (c *checker) literal(l *Literal) *dataType {
	var natural *dataType
	switch l.Value.(type) {
	case bool:
		natural = boolType
	case int64:
		natural = anyInteger
	case float64:
		natural = anyReal
	case time.Duration:
		natural = timeType
	default:
		natural = stringType
	}
	if l.Type == "" {
		return natural
	}
	t := elementary[l.Type]
	if !widens(natural, t) {
		c.fault(l.Place, iecNumbers, "%s# in front of a value that is %s", l.Type, natural.describe())
		return invalidType
	}
	if n, whole := l.Value.(int64); whole && !t.real() && (n < t.low || n > t.top) {
		c.fault(l.Place, iecNumbers, "%d does not fit %s (%d..%d)", n, t.name, t.low, t.top)
	}
	return t
}

func (c *checker) enumLiteral(x *EnumLiteral) *dataType {
	t := c.library.types[strings.ToUpper(x.Type)]
	if t == nil || t.kind != kindEnum {
		c.fault(x.Place, iecTypes, "%q is no enumeration", x.Type)
		return invalidType
	}
	if c.library.enumValues[strings.ToUpper(x.Name)] != t {
		c.fault(x.Place, iecTypes, "%s has no value %q", t.name, x.Name)
		return invalidType
	}
	return t
}

// reference gives the type of a variable's part, or of an enumeration value.
func (c *checker) reference(r *Reference) *dataType {
	upper := strings.ToUpper(r.Name)
	s := c.names[upper]
	if s == nil {
		if t := c.library.enumValues[upper]; t != nil && len(r.Parts) == 0 {
			return t
		}
		c.fault(r.Place, iecVariables, "%q is not declared", r.Name)
		return invalidType
	}
	t := s.typ
	for _, part := range r.Parts {
		if part.Field == "" {
			t = c.element(t, part, r)
		} else {
			t = c.fieldOf(t, part, r)
		}
	}
	return t
}

func (c *checker) element(t *dataType, part Part, r *Reference) *dataType {
	for _, x := range part.Index {
		if it := c.expression(x); !it.whole() && it.kind != kindInvalid {
			c.fault(x.place(), iecTypes, "an index must be a whole number, found %s", it.describe())
		}
	}
	switch {
	case t.kind == kindInvalid:
		return t
	case t.kind != kindArray:
		c.fault(part.Place, iecTypes, "%q is %s and has no elements", r.Name, t.describe())
		return invalidType
	case len(part.Index) != len(t.dims):
		c.fault(part.Place, iecTypes, "%q wants %d indexes, found %d", r.Name, len(t.dims), len(part.Index))
		return invalidType
	}
	for i, x := range part.Index {
		value, _ := c.constant(x)
		if n, ok := value.(int64); ok && (n < t.dims[i].low || n > t.dims[i].top) {
			c.fault(x.place(), iecTypes, "index %d is outside %d..%d", n, t.dims[i].low, t.dims[i].top)
		}
	}
	return t.elem
}

func (c *checker) fieldOf(t *dataType, part Part, r *Reference) *dataType {
	switch t.kind {
	case kindInvalid:
		return t
	case kindStruct:
		if f := t.field(part.Field); f != nil {
			return f.typ
		}
	case kindBlock:
		if out := find(t.block.outputs, part.Field); out != nil {
			return out
		}
		if find(t.block.inputs, part.Field) != nil {
			c.fault(part.Place, iecBlocks, "%q is an input of %s: it is given in the call and not read or written elsewhere", part.Field, t.name)
			return invalidType
		}
	}
	c.fault(part.Place, iecVariables, "%q, which is %s, has no part %q", r.Name, t.describe(), part.Field)
	return invalidType
}

func (c *checker) unary(x *Unary) *dataType {
	t := c.expression(x.X)
	if t.kind == kindInvalid {
		return t
	}
	if x.Op == "NOT" {
		if t.kind == kindBool || t.kind == kindBits {
			return t
		}
		c.fault(x.Place, iecLanguage, "NOT wants BOOL or a bit string, found %s", t.describe())
		return invalidType
	}
	if t.real() || t.kind == kindAnyInteger || t.kind == kindInteger && t.signed || t.kind == kindTime {
		return t
	}
	c.fault(x.Place, iecLanguage, "%q wants a signed number, found %s", x.Op, t.describe())
	return invalidType
}

func (c *checker) binary(x *Binary) *dataType {
	a, b := c.expression(x.X), c.expression(x.Y)
	if a.kind == kindInvalid || b.kind == kindInvalid {
		if operatorGivesBool[x.Op] {
			return boolType
		}
		return invalidType
	}
	if t := operatorResult(x.Op, a, b); t != nil {
		c.zeroDivisor(x)
		return t
	}
	c.fault(x.Place, iecLanguage, "%q does not go with %s and %s", x.Op, a.describe(), b.describe())
	return invalidType
}

var operatorGivesBool = map[string]bool{"=": true, "<>": true, "<": true, ">": true, "<=": true, ">=": true}

// operatorResult is the type that an operator gives, or nil.
func operatorResult(op string, a, b *dataType) *dataType {
	both := common(a, b)
	switch op {
	case "AND", "OR", "XOR":
		if both != nil && (both.kind == kindBool || both.kind == kindBits) {
			return both
		}
	case "=", "<>":
		if both != nil && (both.number() || comparable(both.kind) || both.kind == kindEnum) {
			return boolType
		}
	case "<", ">", "<=", ">=":
		if both != nil && (both.number() || comparable(both.kind)) {
			return boolType
		}
	case "MOD":
		if both != nil && both.whole() {
			return both
		}
	case "**":
		if a.real() && b.number() {
			return a
		}
	default:
		return arithmetic(op, a, b, both)
	}
	return nil
}

func comparable(k typeKind) bool {
	return k == kindBool || k == kindBits || k == kindTime || k == kindString
}

// arithmetic: numbers among themselves, and TIME as Table 30 has it.
func arithmetic(op string, a, b, both *dataType) *dataType {
	switch {
	case both != nil && both.number():
		return both
	case a.kind == kindTime && b.kind == kindTime && (op == "+" || op == "-"):
		return timeType
	case a.kind == kindTime && b.number() && (op == "*" || op == "/"):
		return timeType
	}
	return nil
}

func (c *checker) zeroDivisor(x *Binary) {
	if x.Op != "/" && x.Op != "MOD" {
		return
	}
	if v, _ := c.constant(x.Y); v == int64(0) || v == 0.0 {
		c.fault(x.Y.place(), iecLanguage, "division by zero")
	}
}

// constant works out a value that is known before the program runs: literals,
// named constants and what operators make of whole ones.
func (c *checker) constant(x Expression) (any, bool) {
	switch x := x.(type) {
	case *Literal:
		return asType(x.Value, elementary[x.Type]), true
	case *EnumLiteral:
		return enumValue(c.properName(x.Name)), true
	case *Reference:
		return c.constantReference(x)
	case *Unary:
		v, ok := c.constant(x.X)
		if !ok {
			return nil, false
		}
		return constantUnary(x.Op, v)
	case *Binary:
		a, okA := c.constant(x.X)
		b, okB := c.constant(x.Y)
		if okA && okB {
			return constantBinary(x.Op, a, b)
		}
	}
	return nil, false
}

func (c *checker) constantReference(r *Reference) (any, bool) {
	upper := strings.ToUpper(r.Name)
	if len(r.Parts) > 0 {
		return nil, false
	}
	if s := c.names[upper]; s != nil {
		return s.fixed, s.fixed != nil
	}
	if c.library.enumValues[upper] != nil {
		return enumValue(c.properName(r.Name)), true
	}
	return nil, false
}

// asType gives a whole constant of a real type as a real one.
func asType(value any, t *dataType) any {
	if n, whole := value.(int64); whole && t != nil && t.kind == kindReal {
		return float64(n)
	}
	return value
}

// properName spells an enumeration value as PLCopen does.
func (c *checker) properName(name string) string {
	t := c.library.enumValues[strings.ToUpper(name)]
	if t == nil {
		return name
	}
	for _, v := range t.values {
		if strings.EqualFold(v, name) {
			return v
		}
	}
	return name
}

func constantUnary(op string, v any) (any, bool) {
	switch v := v.(type) {
	case int64:
		if op == "-" {
			return -v, true
		}
		return v, op == "+"
	case float64:
		if op == "-" {
			return -v, true
		}
		return v, op == "+"
	case time.Duration:
		return -v, op == "-"
	case bool:
		return !v, op == "NOT"
	}
	return nil, false
}

func constantBinary(op string, a, b any) (any, bool) {
	x, okX := a.(int64)
	y, okY := b.(int64)
	if okX && okY {
		return constantWhole(op, x, y)
	}
	f, okF := asReal(a)
	g, okG := asReal(b)
	if !okF || !okG {
		return nil, false
	}
	switch op {
	case "+":
		return f + g, true
	case "-":
		return f - g, true
	case "*":
		return f * g, true
	case "/":
		return f / g, g != 0
	}
	return nil, false
}

func constantWhole(op string, x, y int64) (any, bool) {
	switch {
	case op == "+":
		return x + y, true
	case op == "-":
		return x - y, true
	case op == "*":
		return x * y, true
	case op == "/" && y != 0:
		return x / y, true
	case op == "MOD" && y != 0:
		return x % y, true
	}
	return nil, false
}

func asReal(v any) (float64, bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}
