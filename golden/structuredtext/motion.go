package structuredtext

import "strings"

func upperName(name string) string { return strings.ToUpper(name) }

// Motion looks whether every motion block of a program can be started, and
// started again: Execute acts on its rising edge, so some call must be able to
// give it TRUE and, but for enabling, disabling and stopping the group, some
// call FALSE. This is what can be told without running;
// whether FALSE comes at the right moment shows in a [Machine], whose log
// keeps starts that had no edge as Ignored.
func Motion(p *Program) []error {
	m := &motionRule{checker: newChecker(p, nil), program: p, calls: map[*symbol][]*Invoke{}, assigned: map[*symbol][]Expression{}}
	m.walk(p.Body)
	var faults []error
	for _, v := range p.Vars {
		if s := m.checker.names[upperName(v.Name)]; s != nil && s.decl == v {
			faults = append(faults, m.instance(s)...)
		}
	}
	return faults
}

type motionRule struct {
	checker  *checker
	program  *Program
	calls    map[*symbol][]*Invoke
	assigned map[*symbol][]Expression // what plain variables are set to; nil for an unknown value
}

// instance checks one variable that is a motion block or an array of them.
func (m *motionRule) instance(s *symbol) []error {
	t := s.typ
	if t.kind == kindArray {
		t = t.elem
	}
	if t.kind != kindBlock || !t.block.motion || find(t.block.inputs, "Execute") == nil {
		return nil
	}
	calls := m.calls[s]
	if len(calls) == 0 {
		return []error{faultAt(s.decl.Place, plcopenRules, "%q (%s) is never called", s.decl.Name, t.name)}
	}
	var all levelSet
	for _, call := range calls {
		for _, a := range call.Args {
			if strings.EqualFold(a.Name, "Execute") && a.Value != nil {
				all = all.and(m.values(a.Value, nil))
			}
		}
	}
	switch {
	case !all.high:
		return []error{faultAt(calls[0].Place, plcopenRules, "Execute of %q is never TRUE: it never starts", s.decl.Name)}
	case !all.low && !startsOnce[upperName(t.name)]:
		return []error{faultAt(calls[0].Place, plcopenRules, "Execute of %q is never FALSE: it starts once and has no rising edge again", s.decl.Name)}
	}
	return nil
}

// startsOnce are the blocks that a program may well start a single time, at
// its begin or its end, and leave.
var startsOnce = wordSet("MC_GROUPENABLE MC_GROUPDISABLE MC_UNGROUPALLAXES MC_GROUPSTOP")

// A levelSet is the values that a BOOL may take.
type levelSet struct{ low, high bool }

func (a levelSet) and(b levelSet) levelSet { return levelSet{a.low || b.low, a.high || b.high} }

func level(v bool) levelSet { return levelSet{low: !v, high: v} }

var either = levelSet{true, true}

// values is what a BOOL expression may be, any order of statements assumed.
func (m *motionRule) values(x Expression, seen []*symbol) levelSet {
	switch x := x.(type) {
	case *Literal:
		v, _ := x.Value.(bool)
		return level(v)
	case *Unary:
		v := m.values(x.X, seen)
		return levelSet{v.high, v.low}
	case *Reference:
		return m.variable(x, seen)
	}
	return either
}

func (m *motionRule) variable(r *Reference, seen []*symbol) levelSet {
	s := m.checker.names[upperName(r.Name)]
	if s == nil || len(r.Parts) > 0 || s.decl.Section != "VAR" || s.decl.Address != "" {
		return either
	}
	for _, earlier := range seen {
		if earlier == s {
			return levelSet{}
		}
	}
	seen = append(seen, s)
	all := level(false) // the default initial value
	if s.decl.Initial != nil {
		all = m.values(s.decl.Initial, seen)
	}
	for _, x := range m.assigned[s] {
		if x == nil {
			return either
		}
		all = all.and(m.values(x, seen))
	}
	return all
}

// walk gathers calls and assignments.
func (m *motionRule) walk(list []Statement) {
	for _, s := range list {
		switch s := s.(type) {
		case *Assign:
			m.assign(s.Target, s.Value)
		case *Invoke:
			m.invoke(s)
		}
		for _, body := range bodies(s) {
			m.walk(body)
		}
	}
}

func (m *motionRule) assign(r *Reference, x Expression) {
	if s := m.checker.names[upperName(r.Name)]; s != nil {
		m.assigned[s] = append(m.assigned[s], x)
	}
}

func (m *motionRule) invoke(s *Invoke) {
	if instance := m.checker.names[upperName(s.Instance.Name)]; instance != nil {
		m.calls[instance] = append(m.calls[instance], s)
	}
	for _, a := range s.Args {
		if a.Target != nil {
			m.assign(a.Target, nil)
		}
	}
}

// bodies lists the statement lists inside a statement.
func bodies(s Statement) [][]Statement {
	switch s := s.(type) {
	case *If:
		list := [][]Statement{s.Else}
		for _, b := range s.Branches {
			list = append(list, b.Body)
		}
		return list
	case *Case:
		list := [][]Statement{s.Else}
		for _, b := range s.Branches {
			list = append(list, b.Body)
		}
		return list
	case *For:
		return [][]Statement{s.Body}
	case *While:
		return [][]Statement{s.Body}
	case *Repeat:
		return [][]Statement{s.Body}
	}
	return nil
}
