package structuredtext

import (
	"strings"
)

// A flow says how a statement list ended.
type flow int

const (
	goesOn flow = iota
	leavesLoop
	nextTurn
	returns
)

func (m *Machine) run(list []Statement) (flow, error) {
	for _, s := range list {
		if m.left--; m.left < 0 {
			return goesOn, faultAt(s.place(), execution, "one scan executes more than %d statements", m.options.Statements)
		}
		if f, err := m.statement(s); err != nil || f != goesOn {
			return f, err
		}
	}
	return goesOn, nil
}

func (m *Machine) statement(s Statement) (flow, error) {
	switch s := s.(type) {
	case *Assign:
		return goesOn, m.assign(s.Target, s.Value)
	case *Invoke:
		return goesOn, m.invoke(s)
	case *If:
		return m.ifStatement(s)
	case *Case:
		return m.caseStatement(s)
	case *For:
		return m.forStatement(s)
	case *While:
		return m.whileStatement(s)
	case *Repeat:
		return m.repeatStatement(s)
	case *Exit:
		return leavesLoop, nil
	case *Continue:
		return nextTurn, nil
	}
	return returns, nil
}

func (m *Machine) assign(target *Reference, x Expression) error {
	value, err := m.eval(x)
	if err != nil {
		return err
	}
	return m.storeAt(target, value)
}

func (m *Machine) storeAt(target *Reference, value any) error {
	c, err := m.locate(target)
	if err != nil {
		return err
	}
	if err := c.store(value); err != nil {
		return faultAt(target.Place, execution, "%q: %v", target.Name, err)
	}
	return nil
}

func (m *Machine) truth(x Expression) (bool, error) {
	v, err := m.eval(x)
	b, _ := v.(bool)
	return b, err
}

func (m *Machine) ifStatement(s *If) (flow, error) {
	for _, b := range s.Branches {
		yes, err := m.truth(b.Condition)
		if err != nil {
			return goesOn, err
		}
		if yes {
			return m.run(b.Body)
		}
	}
	return m.run(s.Else)
}

func (m *Machine) caseStatement(s *Case) (flow, error) {
	value, err := m.eval(s.Selector)
	if err != nil {
		return goesOn, err
	}
	for _, b := range s.Branches {
		for _, l := range b.Labels {
			if m.selects(l, value) {
				return m.run(b.Body)
			}
		}
	}
	return m.run(s.Else)
}

func (m *Machine) selects(l Range, value any) bool {
	low, _ := m.checker.constant(l.Low)
	if l.High == nil {
		return low == value
	}
	high, _ := m.checker.constant(l.High)
	n := value.(int64) // Check has seen that ranges select whole numbers
	return low.(int64) <= n && n <= high.(int64)
}

func (m *Machine) forStatement(s *For) (flow, error) {
	to, by, err := m.forBounds(s)
	if err != nil {
		return goesOn, err
	}
	if err := m.assign(s.Variable, s.From); err != nil {
		return goesOn, err
	}
	c, err := m.locate(s.Variable)
	if err != nil {
		return goesOn, err
	}
	for n := c.value.(int64); by > 0 && n <= to || by < 0 && n >= to; {
		f, err := m.run(s.Body)
		if err != nil || f == returns {
			return f, err
		}
		if f == leavesLoop {
			break
		}
		if m.left--; m.left < 0 {
			return goesOn, faultAt(s.Place, execution, "this loop does not end within the scan")
		}
		n += by
		if err := m.storeAt(s.Variable, n); err != nil {
			return goesOn, err
		}
	}
	return goesOn, nil
}

func (m *Machine) forBounds(s *For) (to, by int64, err error) {
	last, err := m.eval(s.To)
	if err != nil {
		return 0, 0, err
	}
	step := any(int64(1))
	if s.By != nil {
		if step, err = m.eval(s.By); err != nil {
			return 0, 0, err
		}
	}
	if step == int64(0) {
		return 0, 0, faultAt(s.Place, execution, "FOR counts by 0")
	}
	return last.(int64), step.(int64), nil
}

func (m *Machine) whileStatement(s *While) (flow, error) {
	for {
		yes, err := m.truth(s.Condition)
		if err != nil || !yes {
			return goesOn, err
		}
		if f, err := m.turn(s.Place, s.Body); err != nil || f == returns || f == leavesLoop {
			return afterLoop(f), err
		}
	}
}

func (m *Machine) repeatStatement(s *Repeat) (flow, error) {
	for {
		if f, err := m.turn(s.Place, s.Body); err != nil || f == returns || f == leavesLoop {
			return afterLoop(f), err
		}
		yes, err := m.truth(s.Until)
		if err != nil || yes {
			return goesOn, err
		}
	}
}

func (m *Machine) turn(at Place, body []Statement) (flow, error) {
	if m.left--; m.left < 0 {
		return goesOn, faultAt(at, execution, "this loop does not end within the scan")
	}
	return m.run(body)
}

func afterLoop(f flow) flow {
	if f == returns {
		return returns
	}
	return goesOn
}

// invoke gives a block its inputs, runs it once and takes its outputs.
func (m *Machine) invoke(s *Invoke) error {
	c, err := m.locate(s.Instance)
	if err != nil {
		return err
	}
	b := c.instance
	for _, a := range s.Args {
		if a.Target != nil {
			continue
		}
		if err := m.give(b, a); err != nil {
			return err
		}
	}
	m.callBlock(b, s.Line)
	for _, a := range s.Args {
		if a.Target == nil {
			continue
		}
		if err := m.storeAt(a.Target, b.outputs[upperName(a.Name)].value); err != nil {
			return err
		}
	}
	return nil
}

func (m *Machine) give(b *instance, a Argument) error {
	value, err := m.eval(a.Value)
	if err != nil {
		return err
	}
	if find(b.block.shared, a.Name) != nil {
		b.group = strings.ToUpper(value.(string))
		b.groupName = value.(string)
		return nil
	}
	name := upperName(a.Name)
	b.given[name] = true
	t := find(b.block.inputs, a.Name)
	if t.kind == kindPosition {
		b.inputs[name] = snapshot(value)
		return nil
	}
	fitted, err := fit(value, t)
	if err != nil {
		return faultAt(a.Place, execution, "%q: %v", a.Name, err)
	}
	b.inputs[name] = fitted
	return nil
}
