package structuredtext

import (
	"math"
	"sort"
	"strings"
)

// Check holds a program's meaning to the standards: names, types, ranges,
// constants, and the inputs and outputs of the blocks. Implicit conversion is
// allowed where nothing can be lost (INT to DINT to LREAL, REAL to LREAL). A
// whole-number literal may stand for a REAL; 0 and 1 do not stand for BOOL.
// The faults come sorted by place.
func Check(p *Program, dialect ...Dialect) []error {
	return newChecker(p, dialect).faults
}

// A checker walks the program once and keeps what it learned, which the
// machine uses too.
type checker struct {
	library *library
	names   map[string]*symbol   // upper case
	structs map[string]*dataType // the program's own types, upper case
	types   map[Expression]*dataType
	loops   int
	counted []*symbol // FOR variables of the loops around
	faults  []error
}

// A symbol is a declared variable.
type symbol struct {
	decl  *Variable
	typ   *dataType
	fixed any // the value of a constant scalar, or nil
}

func newChecker(p *Program, dialect []Dialect) *checker {
	var d Dialect
	if len(dialect) > 0 {
		d = dialect[0]
	}
	c := &checker{library: newLibrary(d), names: map[string]*symbol{}, structs: map[string]*dataType{}, types: map[Expression]*dataType{}}
	for _, t := range p.Types {
		c.declareType(t)
	}
	for _, v := range p.Vars {
		c.declare(p, v)
	}
	c.statements(p.Body)
	sort.SliceStable(c.faults, func(i, j int) bool { return before(c.faults[i], c.faults[j]) })
	return c
}

func before(a, b error) bool {
	p, q := a.(*Error).Place, b.(*Error).Place
	return p.Line < q.Line || p.Line == q.Line && p.Column < q.Column
}

func (c *checker) fault(at Place, source, format string, args ...any) {
	c.faults = append(c.faults, faultAt(at, source, format, args...))
}

func (c *checker) declareType(d *TypeDeclaration) {
	upper := strings.ToUpper(d.Name)
	if c.library.types[upper] != nil || c.structs[upper] != nil {
		c.fault(d.Place, iecTypes, "type %q is declared already", d.Name)
		return
	}
	if d.Array != nil {
		t := c.resolveArray(*d.Array)
		if t.kind == kindArray {
			t.name = d.Name
		}
		c.structs[upper] = t
		return
	}
	t := &dataType{kind: kindStruct, name: d.Name}
	seen := map[string]bool{}
	for _, f := range d.Fields {
		if seen[strings.ToUpper(f.Name)] {
			c.fault(f.Place, iecNames, "field %q is declared twice", f.Name)
			continue
		}
		seen[strings.ToUpper(f.Name)] = true
		ft := c.resolve(f.Type)
		if f.Initial != nil {
			c.initial(f.Initial, ft)
		}
		t.fields = append(t.fields, field{f.Name, ft, f})
	}
	c.structs[upper] = t
}

// declare enters a variable; the names of the library are taken.
func (c *checker) declare(p *Program, v *Variable) {
	upper := strings.ToUpper(v.Name)
	s := &symbol{decl: v, typ: c.resolve(v.Type)}
	earlier := c.names[upper]
	switch {
	case earlier != nil:
		c.fault(v.Place, iecNames, "%q is declared already, as %q at %d:%d (case does not tell names apart)",
			v.Name, earlier.decl.Name, earlier.decl.Line, earlier.decl.Column)
		return
	case c.library.types[upper] != nil || c.structs[upper] != nil:
		c.fault(v.Place, iecNames, "%q is the name of a type or function block", v.Name)
	case c.library.enumValues[upper] != nil:
		c.fault(v.Place, iecNames, "%q is a value of %s", v.Name, c.library.enumValues[upper].name)
	case isFunction(upper):
		c.fault(v.Place, iecNames, "%q is the name of a standard function", v.Name)
	case strings.EqualFold(v.Name, p.Name):
		c.fault(v.Place, iecNames, "%q is the program's own name", v.Name)
	}
	c.names[upper] = s
	c.checkDeclaration(v, s)
}

func (c *checker) checkDeclaration(v *Variable, s *symbol) {
	special := s.typ.kind == kindBlock || s.typ.kind == kindGroup
	switch {
	case v.Initial != nil && (v.Section == "VAR_EXTERNAL" || v.Section == "VAR_IN_OUT"):
		c.fault(v.Place, iecVariables, "%q of %s may not have an initial value", v.Name, v.Section)
		return
	case special && v.Constant:
		c.fault(v.Place, iecVariables, "%q of type %s may not be CONSTANT", v.Name, s.typ.name)
	case special && v.Initial != nil:
		c.fault(v.Place, iecVariables, "%q of type %s may not have an initial value", v.Name, s.typ.name)
		return
	case v.Constant && v.Section == "VAR" && v.Initial == nil:
		c.fault(v.Place, iecVariables, "constant %q has no value", v.Name)
		return
	}
	if v.Initial == nil {
		return
	}
	c.initial(v.Initial, s.typ)
	if v.Constant {
		value, _ := c.constant(v.Initial)
		s.fixed = asType(value, s.typ)
	}
}

// resolve finds the type that was written.
func (c *checker) resolve(t TypeName) *dataType {
	if t.Elem != nil {
		return c.resolveArray(t)
	}
	upper := strings.ToUpper(t.Name)
	if found := c.library.types[upper]; found != nil {
		return found
	}
	if found := c.structs[upper]; found != nil {
		return found
	}
	if later := laterBlocks[upper]; later != "" {
		c.fault(t.Place, plcopenBlocks, "%q is of %s, not of V1.0", t.Name, later)
		return invalidType
	}
	c.fault(t.Place, iecTypes, "type %q is not declared", t.Name)
	return invalidType
}

// mostElements is what an array may hold here, arrays and structures inside
// it counted through.
const mostElements = 1 << 18

func (c *checker) resolveArray(t TypeName) *dataType {
	a := &dataType{kind: kindArray, elem: c.resolve(*t.Elem)}
	total := a.elem.scalars()
	for _, r := range t.Ranges {
		low, okLow := c.bound(r.Low)
		top, okTop := c.bound(r.High)
		if !okLow || !okTop {
			return invalidType
		}
		if top < low || low < math.MinInt32 || top > math.MaxInt32 || top-low >= mostElements || total*(top-low+1) > mostElements {
			c.fault(r.Low.place(), iecTypes, "array range %d..%d is empty or too long", low, top)
			return invalidType
		}
		total *= top - low + 1
		a.dims = append(a.dims, dimension{low, top})
	}
	return a
}

// bound is a constant whole number.
func (c *checker) bound(x Expression) (int64, bool) {
	before := len(c.faults)
	t := c.expression(x)
	value, ok := c.constant(x)
	number, whole := value.(int64)
	if (!ok || !whole) && len(c.faults) == before {
		c.fault(x.place(), iecTypes, "a constant whole number was wanted, found %s", t.describe())
	}
	return number, ok && whole
}

// initial checks an initial value against its type.
func (c *checker) initial(x Expression, t *dataType) {
	switch v := x.(type) {
	case *ArrayValue:
		c.initialArray(v, t)
	case *StructValue:
		c.initialStruct(v, t)
	default:
		c.fits(x, t)
		if _, ok := c.constant(x); !ok && t.kind != kindInvalid && c.types[x].kind != kindInvalid {
			c.fault(x.place(), iecVariables, "an initial value must be constant")
		}
	}
}

func (c *checker) initialArray(v *ArrayValue, t *dataType) {
	if t.kind == kindInvalid {
		return
	}
	if t.kind != kindArray {
		c.fault(v.Place, iecVariables, "a list of values for %s", t.describe())
		return
	}
	count := int64(0)
	for _, e := range v.Elems {
		n := int64(1)
		if e.Count != nil {
			n = c.repetition(e.Count)
		}
		count += n
		c.initial(e.Value, t.elem)
	}
	if count > t.count() {
		c.fault(v.Place, iecVariables, "%d initial values for %d elements", count, t.count())
	}
}

// repetition is the n of n(value), from 1.
func (c *checker) repetition(x Expression) int64 {
	n, ok := c.bound(x)
	if ok && (n < 1 || n > mostElements) {
		c.fault(x.place(), iecVariables, "a value repeated %d times", n)
		return 1
	}
	return n
}

func (c *checker) initialStruct(v *StructValue, t *dataType) {
	if t.kind == kindInvalid {
		return
	}
	if t.kind != kindStruct {
		c.fault(v.Place, iecVariables, "values of fields for %s", t.describe())
		return
	}
	for i, name := range v.Names {
		if f := t.field(name); f != nil {
			c.initial(v.Values[i], f.typ)
			continue
		}
		c.fault(v.Values[i].place(), iecVariables, "%s has no field %q", t.name, name)
	}
}

func (t *dataType) field(name string) *field {
	for i := range t.fields {
		if strings.EqualFold(t.fields[i].name, name) {
			return &t.fields[i]
		}
	}
	return nil
}
