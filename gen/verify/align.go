package verify

import "gridferry/gen/align"

// span is how many lines of either side are laid beside each other at once where
// they part: enough to find again what goes on some hundred lines later.
const span = 512

// What it is worth to lay two lines beside each other. Where many lines changed,
// the motions that are still the same must show where a line is missing, not the
// dwells that stand everywhere.
const (
	worthMotion  = 40 // the same motion, or the same entry of a table
	worthOther   = 5  // the same line of another kind
	worthChanged = 3  // two lines of the same kind that differ
)

// sideBySide lays the lines of two programs beside each other and hands on pairs; of
// a line that only one side has, the other is nil. It looks ahead no further
// than span.
func sideBySide(given, wanted func() (*node, bool), pair func(given, wanted *node)) {
	a, b := &side{next: given}, &side{next: wanted}
	for {
		x, y := a.peek(1), b.peek(1)
		switch {
		case len(x) == 0 && len(y) == 0:
			return
		case len(x) > 0 && len(y) > 0 && x[0].key == y[0].key:
			pair(a.take(), b.take())
		default:
			window(a, b, pair)
		}
	}
}

// side is one program's lines with those that were looked at ahead.
type side struct {
	next  func() (*node, bool)
	ahead []*node
	over  bool
}

// peek is the next n lines, fewer at the end.
func (s *side) peek(n int) []*node {
	for len(s.ahead) < n && !s.over {
		line, ok := s.next()
		if s.over = !ok; ok {
			s.ahead = append(s.ahead, line)
		}
	}
	return s.ahead[:min(n, len(s.ahead))]
}

// takeIf is take, or nil.
func (s *side) takeIf(there bool) *node {
	if !there {
		return nil
	}
	return s.take()
}

func (s *side) take() *node {
	line := s.ahead[0]
	s.ahead[0] = nil
	s.ahead = s.ahead[1:]
	return line
}

// window aligns the next lines for the greatest worth and hands on the first
// three quarters of them, or all where nothing follows.
func window(a, b *side, pair func(given, wanted *node)) {
	x, y := a.peek(span), b.peek(span)
	most := span * 3 / 4
	if a.over && b.over && len(a.ahead) <= span && len(b.ahead) <= span {
		most = span
	}
	// What is only wanted comes first: the line that is missing before the one that stands there.
	for j, i := range align.Pairs(len(y), len(x), func(j, i int) float32 { return value(x[i], y[j]) }) {
		pair(a.takeIf(i >= 0), b.takeIf(j >= 0))
		if max(i, j) == most-1 {
			return
		}
	}
}

// value is what it is worth to lay two lines beside each other; 0 for lines that
// have nothing in common.
func value(x, y *node) float32 {
	if x.key == y.key {
		if x.item.Kind.IsMotion() || x.item.IsEntry() {
			return worthMotion
		}
		return worthOther
	}
	if x.item.Kind == y.item.Kind && x.item.IsMove() == y.item.IsMove() && x.item.IsEntry() == y.item.IsEntry() {
		return worthChanged
	}
	return 0
}
