package structuredtext

import "strings"

// levels of the binary operators, loosest first (IEC 61131-3 Ed. 3, Table 71).
var levels = [][]string{
	{"OR"}, {"XOR"}, {"AND", "&"}, {"=", "<>"}, {"<", ">", "<=", ">="}, {"+", "-"}, {"*", "/", "MOD"}, {"**"},
}

func (p *parser) expression() Expression {
	p.enter(p.now().Place)
	defer p.leave()
	return p.level(0)
}

// level reads operators of one level; they bind from the left.
func (p *parser) level(n int) Expression {
	if n == len(levels) {
		return p.unary()
	}
	first := p.at
	x := p.level(n + 1)
	for {
		t := p.now()
		if !p.acceptAny(levels[n]) {
			return x
		}
		if t.is("**") && p.tokens[first].is("-") {
			p.program.ambiguous = append(p.program.ambiguous, p.tokens[first].Place)
		}
		op := t.text
		if op == "&" {
			op = "AND"
		}
		x = &Binary{t.Place, op, x, p.level(n + 1)}
	}
}

func (p *parser) acceptAny(texts []string) bool {
	for _, text := range texts {
		if p.accept(text) {
			return true
		}
	}
	return false
}

func (p *parser) unary() Expression {
	t := p.now()
	if p.acceptAny([]string{"-", "+", "NOT"}) {
		return &Unary{t.Place, t.text, p.primary()}
	}
	return p.primary()
}

func (p *parser) primary() Expression {
	t := p.now()
	switch {
	case t.kind == tokInt, t.kind == tokReal, t.kind == tokTime, t.kind == tokString:
		p.at++
		return &Literal{Place: t.Place, Value: t.value}
	case t.is("TRUE"), t.is("FALSE"):
		p.at++
		return &Literal{Place: t.Place, Value: t.text == "TRUE"}
	case t.kind == tokPrefix:
		return p.typed()
	case p.accept("("):
		x := p.expression()
		p.expect(")")
		return x
	case t.kind == tokName && p.tokens[p.at+1].is("("):
		return p.call()
	case t.kind == tokName:
		return p.reference()
	}
	p.fail(t.Place, iecSyntax, "a value was wanted, %s found", t)
	return nil
}

// typed reads INT#5, INT#-5, BOOL#TRUE, TYPE#name.
func (p *parser) typed() Expression {
	prefix := p.next()
	negative := p.accept("-")
	t := p.next()
	switch {
	case t.kind == tokName && !negative:
		return &EnumLiteral{prefix.Place, prefix.text, t.text}
	case elementary[strings.ToUpper(prefix.text)] == nil:
		p.fail(prefix.Place, iecTypes, "%q is no type that a literal may have in front", prefix.text)
	case t.kind == tokInt || t.kind == tokReal:
		return &Literal{prefix.Place, strings.ToUpper(prefix.text), signed(t.value, negative)}
	case (t.is("TRUE") || t.is("FALSE")) && !negative:
		return &Literal{prefix.Place, strings.ToUpper(prefix.text), t.text == "TRUE"}
	}
	p.fail(t.Place, iecSyntax, "a value was wanted after %q, %s found", prefix.text+"#", t)
	return nil
}

func signed(value any, negative bool) any {
	if !negative {
		return value
	}
	if i, ok := value.(int64); ok {
		return -i
	}
	return -value.(float64)
}

func (p *parser) call() Expression {
	name, at := p.name("a function's name")
	c := &Call{Place: at, Name: name}
	p.expect("(")
	for {
		if p.now().kind == tokName && p.tokens[p.at+1].is(":=") {
			p.fail(p.now().Place, iecFunctions, "functions are read here without the names of their inputs")
		}
		c.Args = append(c.Args, p.expression())
		if !p.accept(",") {
			break
		}
	}
	p.expect(")")
	return c
}

// reference reads name, name[i, j], name.field and any row of such parts.
func (p *parser) reference() *Reference {
	r := &Reference{}
	r.Name, r.Place = p.name("a variable's name")
	for {
		at := p.now().Place
		switch {
		case p.accept("["):
			r.Parts = append(r.Parts, Part{Place: at, Index: p.indexes()})
		case p.accept("."):
			field, _ := p.name("a field's or output's name")
			r.Parts = append(r.Parts, Part{Place: at, Field: field})
		default:
			return r
		}
	}
}

func (p *parser) indexes() []Expression {
	list := []Expression{p.expression()}
	for p.accept(",") {
		list = append(list, p.expression())
	}
	p.expect("]")
	return list
}
