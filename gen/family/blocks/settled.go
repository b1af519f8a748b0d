package blocks

import "slices"

// Settled is a block with everything in it as it was printed last but for what is a move's own: its number, its target, where it
// goes, in the views the fields with the tag "own". For a move that is otherwise like that one it prints the same as the block does.
type Settled struct {
	cost  int
	steps []step
}

// Settle settles a block for moves like the one that it printed last; nil where it has no short way, or where a condition asks for
// a move's own and for more.
func (p *Printer) Settle(block string) *Settled {
	r, ok := p.blocks[block]
	if !ok || r.at == nil || r.long {
		return nil
	}
	steps, ok := settle(nil, r.steps)
	if !ok {
		return nil
	}
	return &Settled{r.cost, steps}
}

// PrintSettled is Print of what was settled, on the view that the block was given, in which only what is the move's own is looked
// at. False when Print has to do it, and then nothing has happened.
func (p *Printer) PrintSettled(s *Settled) ([]byte, bool) {
	return p.text, p.directly(s.cost, s.steps)
}

// Constant is the text of a block that prints the same for all such moves; false for one that does not.
func (s *Settled) Constant() (text string, ok bool) {
	switch len(s.steps) {
	case 0:
		return "", true
	case 1:
		return s.steps[0].words, s.steps[0].isBare()
	}
	return "", false
}

// Spend counts what such a block takes when it prints its constant text. False when Print has to do it, and then nothing has happened.
func (p *Printer) Spend(s *Settled) bool {
	text, _ := s.Constant()
	left := p.left
	if err := p.begin(s.cost); err != nil || len(text) > p.longest {
		p.left = left
		return false
	}
	p.left.bytes -= len(text)
	return true
}

// settle puts steps behind others as they are for all moves that are alike.
func settle(to, steps []step) (_ []step, ok bool) {
	for _, s := range steps {
		if s.more != nil {
			if to, ok = s.more.settle(behind(to, step{words: s.words})); !ok {
				return nil, false
			}
			continue
		}
		if !s.own && !s.isBare() {
			x := value{word: s.word, whole: s.whole}
			s = step{words: s.words + string(x.append(nil))}
		}
		to = behind(to, s)
	}
	return to, true
}

func (s *branch) settle(steps []step) ([]step, bool) {
	switch {
	case s.own && s.shared:
		return nil, false
	case !s.own:
		return settle(steps, s.taken())
	}
	yes, okYes := settle(nil, s.yes)
	no, okNo := settle(nil, s.no)
	return behind(steps, step{more: &branch{s.condition, yes, no}}), okYes && okNo
}

func (s *column) settle(steps []step) ([]step, bool) {
	if s.own {
		return behind(steps, step{more: s}), true
	}
	text, _ := s.print(new(Printer), nil)
	return behind(steps, step{words: string(text)}), true
}

// settle keeps the step, since what becomes of a comment depends on the line before it.
func (s *remark) settle(steps []step) ([]step, bool) {
	return behind(steps, step{more: &remark{settledValues(s.values), s.bounded}}), true
}

func (s *quotedText) settle(steps []step) ([]step, bool) {
	return behind(steps, step{more: &quotedText{settledValues(s.values)}}), true
}

// settledValues are values of their own, but for those that are a move's.
func settledValues(values []value) []value {
	values = slices.Clone(values)
	for i := range values {
		if x := &values[i]; !x.own {
			word := string(x.append(nil))
			x.word, x.whole = &word, nil
		}
	}
	return values
}
