package structuredtext

import "sort"

// Portable holds a text to the subset that differing tools read alike: no
// STRING[n], no structure initialisers, no arrays of structures with
// initialisers, no repetition n(..), no pragmas, no "/* */", no underscores in
// durations, one name to a structure field, no base 8, no sign before "**". Reals have
// digits on both sides of the point and are written 1.0E-5, never 1E-5. A text
// that does not parse gives the faults of Parse.
func Portable(text string) []error {
	l := lex(text)
	if len(l.faults) > 0 {
		return l.faults
	}
	p, faults := parseTokens(l.tokens)
	if len(faults) > 0 {
		return faults
	}
	n := &narrow{faults: l.marks, structs: map[string]bool{}}
	n.program(p)
	sort.SliceStable(n.faults, func(i, j int) bool { return before(n.faults[i], n.faults[j]) })
	return n.faults
}

// narrow gathers what lies outside the portable subset.
type narrow struct {
	faults  []error
	structs map[string]bool // names of the program's structures, upper case
}

func (n *narrow) fault(at Place, format string, args ...any) {
	n.faults = append(n.faults, faultAt(at, portable, format, args...))
}

func (n *narrow) program(p *Program) {
	for _, at := range p.ambiguous {
		n.fault(at, `a sign before "**" binds differently in editions 2 and 3: use brackets`)
	}
	for _, t := range p.Types {
		n.structs[upperName(t.Name)] = true
		for _, f := range t.Fields {
			if f.shared {
				n.fault(f.Place, "field %q shares its declaration: one name to a field", f.Name)
			}
			n.variable(f)
		}
	}
	for _, v := range p.Vars {
		n.variable(v)
	}
}

func (n *narrow) variable(v *Variable) {
	n.typeName(v.Type)
	if v.Initial == nil {
		return
	}
	if e := v.Type.Elem; e != nil && n.structs[upperName(e.Name)] {
		n.fault(v.Place, "%q is an array of structures with an initial value", v.Name)
		return
	}
	n.initial(v.Initial)
}

func (n *narrow) typeName(t TypeName) {
	if t.Length != nil {
		n.fault(t.Place, "STRING[n]: write STRING")
	}
	if t.Elem != nil {
		n.typeName(*t.Elem)
	}
}

func (n *narrow) initial(x Expression) {
	switch v := x.(type) {
	case *StructValue:
		n.fault(v.Place, "a structure's initial value: assign the fields instead")
	case *ArrayValue:
		for _, e := range v.Elems {
			if e.Count != nil {
				n.fault(e.Count.place(), "repetition n(..) in an initial value: write the values out")
			}
			n.initial(e.Value)
		}
	}
}
