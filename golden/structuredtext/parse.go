package structuredtext

// Parse reads one PROGRAM, with TYPE declarations of structures and arrays before it.
// All lexical faults are given, or else the first fault of syntax; the program
// is nil when there is any.
func Parse(text string) (*Program, []error) {
	l := lex(text)
	if len(l.faults) > 0 {
		return nil, l.faults
	}
	return parseTokens(l.tokens)
}

// A parser walks the tokens; the first fault ends the walk by a panic that
// parseTokens turns into an error.
type parser struct {
	tokens  []token
	at      int
	depth   int // of expressions and statements, against endless nesting
	program *Program
}

const deepest = 200

func parseTokens(tokens []token) (program *Program, faults []error) {
	p := &parser{tokens: tokens, program: &Program{}}
	defer func() {
		if r := recover(); r != nil {
			fault, ours := r.(*Error)
			if !ours {
				panic(r)
			}
			program, faults = nil, []error{fault}
		}
	}()
	p.file()
	return p.program, nil
}

func (p *parser) now() token { return p.tokens[p.at] }

func (p *parser) fail(at Place, source, format string, args ...any) {
	panic(faultAt(at, source, format, args...))
}

func (p *parser) next() token {
	t := p.tokens[p.at]
	if t.kind != tokEnd {
		p.at++
	}
	return t
}

// accept takes the token if it is that keyword or symbol.
func (p *parser) accept(text string) bool {
	if p.now().is(text) {
		p.at++
		return true
	}
	return false
}

func (p *parser) expect(text string) Place {
	t := p.now()
	if !p.accept(text) {
		p.fail(t.Place, iecSyntax, "%q was wanted, %s found", text, t)
	}
	return t.Place
}

// name takes an identifier; a keyword in its place is said to be one.
func (p *parser) name(what string) (string, Place) {
	t := p.now()
	switch t.kind {
	case tokName:
		p.at++
	case tokKeyword:
		p.fail(t.Place, iecNames, "%s was wanted, but %q is a keyword", what, t.text)
	default:
		p.fail(t.Place, iecSyntax, "%s was wanted, %s found", what, t)
	}
	return t.text, t.Place
}

func (p *parser) enter(at Place) {
	if p.depth++; p.depth > deepest {
		p.fail(at, iecSyntax, "nested deeper than %d levels", deepest)
	}
}

func (p *parser) leave() { p.depth-- }

func (p *parser) file() {
	for p.accept("TYPE") {
		p.typeBlock()
	}
	p.program.Place = p.expect("PROGRAM")
	p.program.Name, _ = p.name("the program's name")
	for p.section() {
	}
	p.program.Body = p.statements("END_PROGRAM")
	p.expect("END_PROGRAM")
	p.accept(";")
	if t := p.now(); t.kind != tokEnd {
		p.fail(t.Place, iecSyntax, "%s after END_PROGRAM", t)
	}
}

func (p *parser) typeBlock() {
	for !p.accept("END_TYPE") {
		d := &TypeDeclaration{}
		d.Name, d.Place = p.name("a type's name")
		p.expect(":")
		if p.now().is("ARRAY") {
			array := p.typeName()
			d.Array = &array
		} else {
			p.structure(d)
		}
		p.expect(";")
		p.program.Types = append(p.program.Types, d)
	}
}

func (p *parser) structure(d *TypeDeclaration) {
	p.expect("STRUCT")
	for !p.accept("END_STRUCT") {
		d.Fields = append(d.Fields, p.declaration("STRUCT", false)...)
	}
}

var sections = wordSet("VAR VAR_INPUT VAR_OUTPUT VAR_IN_OUT VAR_EXTERNAL VAR_TEMP")

// section reads one VAR … END_VAR, or reports that there is none.
func (p *parser) section() bool {
	t := p.now()
	if t.kind != tokKeyword || !sections[t.text] {
		return false
	}
	p.at++
	constant := p.accept("CONSTANT")
	if constant && t.text != "VAR" && t.text != "VAR_EXTERNAL" {
		p.fail(t.Place, iecVariables, "%s may not be CONSTANT", t.text)
	}
	if !constant && !p.accept("RETAIN") {
		p.accept("NON_RETAIN")
	}
	for !p.accept("END_VAR") {
		p.program.Vars = append(p.program.Vars, p.declaration(t.text, constant)...)
	}
	return true
}

// declaration reads "a, b AT %Q0 : TYPE := initial;".
func (p *parser) declaration(section string, constant bool) []*Variable {
	var list []*Variable
	for {
		v := &Variable{Section: section, Constant: constant}
		v.Name, v.Place = p.name("a variable's name")
		list = append(list, v)
		if !p.accept(",") {
			break
		}
	}
	address := p.location(list)
	p.expect(":")
	typ := p.typeName()
	var initial Expression
	if p.accept(":=") {
		initial = p.initial()
	}
	p.expect(";")
	for _, v := range list {
		v.Address, v.Type, v.Initial, v.shared = address, typ, initial, len(list) > 1
	}
	return list
}

func (p *parser) location(list []*Variable) string {
	if !p.accept("AT") {
		return ""
	}
	t := p.next()
	if t.kind != tokDirect {
		p.fail(t.Place, iecVariables, "AT wants a direct address such as %%QX0.1, %s found", t)
	}
	if len(list) > 1 {
		p.fail(t.Place, iecVariables, "one address for %d names", len(list))
	}
	return t.text
}

func (p *parser) typeName() TypeName {
	t := p.next()
	p.enter(t.Place)
	defer p.leave()
	switch {
	case t.is("ARRAY"):
		return p.arrayType(t.Place)
	case t.is("STRING") && p.accept("["):
		length := p.expression()
		p.expect("]")
		return TypeName{Place: t.Place, Name: "STRING", Length: length}
	case t.kind == tokName, t.kind == tokKeyword && elementary[t.text] != nil:
		return TypeName{Place: t.Place, Name: t.text}
	}
	p.fail(t.Place, iecTypes, "a type was wanted, %s found", t)
	return TypeName{}
}

func (p *parser) arrayType(at Place) TypeName {
	typ := TypeName{Place: at, Name: "ARRAY"}
	p.expect("[")
	for {
		low := p.expression()
		p.expect("..")
		typ.Ranges = append(typ.Ranges, Range{low, p.expression()})
		if !p.accept(",") {
			break
		}
	}
	p.expect("]")
	p.expect("OF")
	elem := p.typeName()
	typ.Elem = &elem
	return typ
}

// initial reads a value, an array's list or a structure's.
func (p *parser) initial() Expression {
	t := p.now()
	p.enter(t.Place)
	defer p.leave()
	switch {
	case p.accept("["):
		return p.arrayValue(t.Place)
	case t.is("(") && p.tokens[p.at+1].kind == tokName && p.tokens[p.at+2].is(":="):
		return p.structValue()
	}
	return p.expression()
}

func (p *parser) arrayValue(at Place) Expression {
	a := &ArrayValue{Place: at}
	for {
		e := ArrayElement{Value: p.initial()}
		if p.accept("(") {
			e.Count, e.Value = e.Value, p.initial()
			p.expect(")")
		}
		a.Elems = append(a.Elems, e)
		if !p.accept(",") {
			break
		}
	}
	p.expect("]")
	return a
}

func (p *parser) structValue() Expression {
	s := &StructValue{Place: p.expect("(")}
	for {
		name, _ := p.name("a field's name")
		p.expect(":=")
		s.Names = append(s.Names, name)
		s.Values = append(s.Values, p.initial())
		if !p.accept(",") {
			break
		}
	}
	p.expect(")")
	return s
}
