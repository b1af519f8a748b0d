package structuredtext

import "strings"

func (c *checker) statements(list []Statement) {
	for _, s := range list {
		c.statement(s)
	}
}

func (c *checker) statement(s Statement) {
	switch s := s.(type) {
	case *Assign:
		t := c.target(s.Target)
		c.fits(s.Value, t)
	case *Invoke:
		c.invoke(s)
	case *If:
		c.ifStatement(s)
	case *Case:
		c.caseStatement(s)
	case *For:
		c.forStatement(s)
	case *While:
		c.condition(s.Condition)
		c.loop(s.Body)
	case *Repeat:
		c.loop(s.Body)
		c.condition(s.Until)
	case *Exit, *Continue:
		if c.loops == 0 {
			c.fault(s.place(), iecLanguage, "EXIT or CONTINUE outside every loop")
		}
	case *Return:
	}
}

func (c *checker) condition(x Expression) { c.fits(x, boolType) }

func (c *checker) loop(body []Statement) {
	c.loops++
	c.statements(body)
	c.loops--
}

func (c *checker) ifStatement(s *If) {
	for _, b := range s.Branches {
		c.condition(b.Condition)
		c.statements(b.Body)
	}
	c.statements(s.Else)
}

// target is the type of something that is written to; what may not be written
// is refused.
func (c *checker) target(r *Reference) *dataType {
	t := c.reference(r)
	s := c.names[strings.ToUpper(r.Name)]
	if s == nil {
		if c.library.enumValues[strings.ToUpper(r.Name)] != nil {
			c.fault(r.Place, iecLanguage, "%q is a value and cannot be assigned to", r.Name)
		}
		return invalidType
	}
	switch {
	case t.kind == kindInvalid:
	case s.decl.Constant:
		c.fault(r.Place, iecVariables, "%q is a constant and cannot be assigned to", r.Name)
	case s.decl.Section == "VAR_INPUT":
		c.fault(r.Place, iecVariables, "%q is an input and cannot be assigned to", r.Name)
	case strings.HasPrefix(s.decl.Address, "%I"):
		c.fault(r.Place, iecVariables, "%q lies in the inputs (%s) and cannot be assigned to", r.Name, s.decl.Address)
	case s.typ.block != nil || s.typ.kind == kindArray && s.typ.elem.block != nil:
		c.fault(r.Place, iecBlocks, "%q is a function block: its outputs are only read, its inputs are given in its call", r.Name)
	case t.kind == kindGroup:
		c.fault(r.Place, plcopenBlocks, "%q of type AXES_GROUP_REF cannot be assigned to", r.Name)
	default:
		c.notCounted(r, s)
	}
	return t
}

// notCounted: a FOR variable may not be altered inside its loop.
func (c *checker) notCounted(r *Reference, s *symbol) {
	for _, counted := range c.counted {
		if counted == s {
			c.fault(r.Place, iecLanguage, "%q counts the loop around and may not be altered in it", r.Name)
		}
	}
}

// fits checks that a value may be stored in a type.
func (c *checker) fits(x Expression, t *dataType) {
	from := c.expression(x)
	if from.kind == kindInvalid || t.kind == kindInvalid {
		return
	}
	if !widens(from, t) {
		c.fault(x.place(), iecConvert, "%s was wanted, found %s%s", t.describe(), from.describe(), remedy(from, t))
		return
	}
	c.inRange(x, from, t)
}

func remedy(from, to *dataType) string {
	if from.kind != kindBool && isConversion(strings.ToUpper(from.name+"_TO_"+to.name)) {
		return " (" + from.name + "_TO_" + to.name + " converts)"
	}
	return ""
}

// inRange checks a whole constant against its type.
func (c *checker) inRange(x Expression, from, t *dataType) {
	value, ok := c.constant(x)
	number, whole := value.(int64)
	if !ok || !whole || t.kind != kindInteger && t.kind != kindBits || from.kind != kindAnyInteger {
		return
	}
	if number < t.low || number > t.top {
		c.fault(x.place(), iecTypes, "%d does not fit %s (%d..%d)", number, t.name, t.low, t.top)
	}
}

func (c *checker) caseStatement(s *Case) {
	t := c.expression(s.Selector)
	if !t.whole() && t.kind != kindEnum && t.kind != kindInvalid {
		c.fault(s.Selector.place(), iecLanguage, "CASE selects by a whole number or an enumeration, found %s", t.describe())
		t = invalidType
	}
	var seen []labelSpan
	for _, b := range s.Branches {
		for _, l := range b.Labels {
			seen = c.label(l, t, seen)
		}
		c.statements(b.Body)
	}
	c.statements(s.Else)
}

// A labelSpan is the values that one label covers.
type labelSpan struct {
	low, top int64
	name     string // of an enumeration value
}

func (c *checker) label(l Range, t *dataType, seen []labelSpan) []labelSpan {
	span, ok := c.labelSpan(l, t)
	if !ok {
		return seen
	}
	for _, other := range seen {
		if other.name == span.name && span.low <= other.top && other.low <= span.top {
			c.fault(l.Low.place(), iecLanguage, "this CASE label has been used before")
			return seen
		}
	}
	return append(seen, span)
}

func (c *checker) labelSpan(l Range, t *dataType) (labelSpan, bool) {
	c.fits(l.Low, t)
	low, ok := c.constant(l.Low)
	if !ok {
		if c.types[l.Low].kind != kindInvalid {
			c.fault(l.Low.place(), iecLanguage, "a CASE label must be constant")
		}
		return labelSpan{}, false
	}
	if name, isEnum := low.(enumValue); isEnum {
		return labelSpan{name: strings.ToUpper(string(name))}, l.High == nil
	}
	span := labelSpan{}
	span.low, ok = low.(int64)
	span.top = span.low
	if l.High != nil {
		c.fits(l.High, t)
		high, _ := c.constant(l.High)
		top, whole := high.(int64)
		if !whole || top < span.low {
			c.fault(l.High.place(), iecLanguage, "a CASE range wants a constant end that is not before its begin")
			return span, false
		}
		span.top = top
	}
	return span, ok
}

func (c *checker) forStatement(s *For) {
	t := c.target(s.Variable)
	symbol := c.names[strings.ToUpper(s.Variable.Name)]
	switch {
	case t.kind == kindInvalid:
	case t.kind != kindInteger:
		c.fault(s.Variable.Place, iecLanguage, "FOR counts with a variable of an integer type, %q is %s", s.Variable.Name, t.describe())
		t = invalidType
	case len(s.Variable.Parts) > 0:
		c.fault(s.Variable.Place, iecLanguage, "FOR counts with a plain variable")
	}
	c.fits(s.From, t)
	c.fits(s.To, t)
	if s.By != nil {
		c.fits(s.By, t)
		if step, _ := c.constant(s.By); step == int64(0) {
			c.fault(s.By.place(), iecLanguage, "FOR counts by 0: the loop never ends")
		}
	}
	c.counted = append(c.counted, symbol)
	c.loop(s.Body)
	c.counted = c.counted[:len(c.counted)-1]
}

// invoke checks a block's call: inputs and outputs by name, once each, of the
// right type; every in/out given.
func (c *checker) invoke(s *Invoke) {
	t := c.reference(s.Instance)
	if t.kind == kindInvalid {
		return
	}
	if t.kind != kindBlock {
		c.fault(s.Place, iecBlocks, "%q is %s and cannot be called", s.Instance.Name, t.describe())
		return
	}
	given := map[string]bool{}
	for _, a := range s.Args {
		if given[strings.ToUpper(a.Name)] {
			c.fault(a.Place, iecBlocks, "%q is given twice", a.Name)
			continue
		}
		given[strings.ToUpper(a.Name)] = true
		c.argument(a, t.block)
	}
	for _, p := range t.block.shared {
		if !given[strings.ToUpper(p.name)] {
			c.fault(s.Place, iecBlocks, "the call of %s gives no %q, which is in/out and always wanted", t.name, p.name)
		}
	}
}

func (c *checker) argument(a Argument, b *block) {
	input, output, shared := find(b.inputs, a.Name), find(b.outputs, a.Name), find(b.shared, a.Name)
	switch {
	case shared != nil && a.Target == nil:
		c.sharedArgument(a, shared)
	case input != nil && a.Target == nil:
		c.fits(a.Value, input)
	case output != nil && a.Target != nil:
		c.outputArgument(a, output)
	case input != nil || shared != nil:
		c.fault(a.Place, iecBlocks, `%q is an input of %s: it is given with ":="`, a.Name, b.name)
	case output != nil:
		c.fault(a.Place, iecBlocks, `%q is an output of %s: it is taken with "=>"`, a.Name, b.name)
	default:
		c.fault(a.Place, iecBlocks, "%s has no input or output %q", b.name, a.Name)
	}
}

// sharedArgument: an in/out is given a variable, never a value.
func (c *checker) sharedArgument(a Argument, want *dataType) {
	r, ok := a.Value.(*Reference)
	if !ok {
		c.fault(a.Value.place(), iecBlocks, "%q is in/out and wants a variable", a.Name)
		return
	}
	if t := c.expression(r); t.kind != kindInvalid && !sameType(t, want) {
		c.fault(r.Place, iecBlocks, "%q wants a variable of type %s, %q is %s", a.Name, want.describe(), r.Name, t.describe())
	}
}

func (c *checker) outputArgument(a Argument, from *dataType) {
	t := c.target(a.Target)
	if !widens(from, t) {
		c.fault(a.Target.Place, iecConvert, "%q gives %s, %q is %s", a.Name, from.describe(), a.Target.Name, t.describe())
	}
}
