package structuredtext

import "strings"

// statements reads up to, not including, one of the closing keywords.
func (p *parser) statements(closing ...string) []Statement {
	p.enter(p.now().Place)
	defer p.leave()
	var list []Statement
	for !p.closes(closing) {
		if p.accept(";") {
			continue // an empty statement
		}
		list = append(list, p.statement(closing))
		p.expect(";")
	}
	return list
}

func (p *parser) closes(closing []string) bool {
	for _, word := range closing {
		if p.now().is(word) {
			return true
		}
	}
	return false
}

func (p *parser) statement(closing []string) Statement {
	t := p.now()
	if t.kind == tokName {
		return p.assignOrInvoke()
	}
	read, ok := map[string]func(Place) Statement{
		"IF": p.ifStatement, "CASE": p.caseStatement, "FOR": p.forStatement, "WHILE": p.whileStatement, "REPEAT": p.repeatStatement,
		"EXIT": func(at Place) Statement { return &Exit{at} }, "CONTINUE": func(at Place) Statement { return &Continue{at} },
		"RETURN": func(at Place) Statement { return &Return{at} },
	}[t.text]
	if t.kind != tokKeyword || !ok {
		p.fail(t.Place, iecSyntax, "a statement or %s was wanted, %s found", strings.Join(closing, " or "), t)
	}
	p.at++
	return read(t.Place)
}

func (p *parser) assignOrInvoke() Statement {
	target := p.reference()
	t := p.now()
	switch {
	case p.accept(":="):
		return &Assign{target.Place, target, p.expression()}
	case p.accept("("):
		return &Invoke{target.Place, target, p.arguments()}
	}
	p.fail(t.Place, iecSyntax, `":=" or "(" was wanted after %q, %s found`, target.Name, t)
	return nil
}

// arguments reads a formal list; the form without names is not for function
// blocks whose inputs are many.
func (p *parser) arguments() []Argument {
	var list []Argument
	if p.accept(")") {
		return nil
	}
	for {
		list = append(list, p.argument())
		if !p.accept(",") {
			break
		}
	}
	p.expect(")")
	return list
}

func (p *parser) argument() Argument {
	var a Argument
	t := p.now()
	if t.kind != tokName {
		p.fail(t.Place, iecBlocks, "an input's or output's name was wanted, %s found: function blocks are called with names", t)
	}
	a.Name, a.Place = p.name("an input's or output's name")
	t = p.now()
	switch {
	case p.accept(":="):
		a.Value = p.expression()
	case p.accept("=>"):
		a.Target = p.reference()
	default:
		p.fail(t.Place, iecBlocks, `":=" or "=>" was wanted after %q, %s found: function blocks are called with names`, a.Name, t)
	}
	return a
}

func (p *parser) ifStatement(at Place) Statement {
	s := &If{Place: at}
	for {
		condition := p.expression()
		p.expect("THEN")
		s.Branches = append(s.Branches, Branch{condition, p.statements("ELSIF", "ELSE", "END_IF")})
		if !p.accept("ELSIF") {
			break
		}
	}
	if p.accept("ELSE") {
		s.Else = p.statements("END_IF")
	}
	p.expect("END_IF")
	return s
}

func (p *parser) caseStatement(at Place) Statement {
	s := &Case{Place: at, Selector: p.expression()}
	p.expect("OF")
	for !p.now().is("ELSE") && !p.now().is("END_CASE") {
		s.Branches = append(s.Branches, p.caseBranch())
	}
	if p.accept("ELSE") {
		s.Else = p.statements("END_CASE")
	}
	if len(s.Branches) == 0 {
		p.fail(at, iecSyntax, "this CASE has no branch")
	}
	p.expect("END_CASE")
	return s
}

func (p *parser) caseBranch() CaseBranch {
	var b CaseBranch
	for {
		label := Range{Low: p.expression()}
		if p.accept("..") {
			label.High = p.expression()
		}
		b.Labels = append(b.Labels, label)
		if !p.accept(",") {
			break
		}
	}
	p.expect(":")
	b.Body = p.caseBody()
	return b
}

// caseBody ends where the next label begins: at a number, a typed literal, or
// a name that a colon, a comma or a range follows.
func (p *parser) caseBody() []Statement {
	p.enter(p.now().Place)
	defer p.leave()
	var list []Statement
	for !p.closes([]string{"ELSE", "END_CASE"}) && !p.labelAhead() {
		if p.accept(";") {
			continue
		}
		list = append(list, p.statement([]string{"a label", "ELSE", "END_CASE"}))
		p.expect(";")
	}
	return list
}

func (p *parser) labelAhead() bool {
	t := p.now()
	switch t.kind {
	case tokInt, tokPrefix:
		return true
	case tokName:
		after := p.tokens[p.at+1]
		return after.is(":") || after.is(",") || after.is("..")
	}
	return t.is("-") || t.is("+")
}

func (p *parser) forStatement(at Place) Statement {
	s := &For{Place: at, Variable: p.reference()}
	p.expect(":=")
	s.From = p.expression()
	p.expect("TO")
	s.To = p.expression()
	if p.accept("BY") {
		s.By = p.expression()
	}
	p.expect("DO")
	s.Body = p.statements("END_FOR")
	p.expect("END_FOR")
	return s
}

func (p *parser) whileStatement(at Place) Statement {
	s := &While{Place: at, Condition: p.expression()}
	p.expect("DO")
	s.Body = p.statements("END_WHILE")
	p.expect("END_WHILE")
	return s
}

func (p *parser) repeatStatement(at Place) Statement {
	s := &Repeat{Place: at, Body: p.statements("UNTIL")}
	p.expect("UNTIL")
	s.Until = p.expression()
	p.expect("END_REPEAT")
	return s
}
