package readback

// span is how many lines of either side are laid beside each other at once where
// they part: enough to find again what goes on some hundred lines later.
const span = 512

// What it is worth to lay two lines beside each other. Where many lines changed,
// the motions that are still the same must tell where a line is missing, not the
// dwells that stand everywhere.
const (
	worthMotion  = 40 // the same motion, or the same entry of a table
	worthOther   = 5  // the same line of another kind
	worthChanged = 3  // two lines of the same kind that differ
)

// align lays the lines of two programs beside each other and hands on pairs; of
// a line that only one side has, the other is nil. It looks ahead no further
// than span.
func align(given, wanted func() (*node, bool), pair func(given, wanted *node)) {
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
	worth := table(x, y)
	most := span * 3 / 4
	if a.over && b.over && len(a.ahead) <= span && len(b.ahead) <= span {
		most = span
	}
	for i, j := 0, 0; (i < len(x) || j < len(y)) && i < most && j < most; {
		switch {
		case i < len(x) && j < len(y) && worth[i][j] == worth[i+1][j+1]+value(x[i], y[j]) && value(x[i], y[j]) > 0:
			pair(a.take(), b.take())
			i, j = i+1, j+1
		case j < len(y) && (i == len(x) || worth[i][j] == worth[i][j+1]):
			pair(nil, b.take())
			j++
		default:
			pair(a.take(), nil)
			i++
		}
	}
}

// table is the greatest worth of what is left from lines i and j on.
func table(x, y []*node) [][]int32 {
	rows := make([][]int32, len(x)+1)
	cells := make([]int32, (len(x)+1)*(len(y)+1))
	for i := range rows {
		rows[i] = cells[i*(len(y)+1) : (i+1)*(len(y)+1)]
	}
	for i := len(x) - 1; i >= 0; i-- {
		for j := len(y) - 1; j >= 0; j-- {
			best := max(rows[i+1][j], rows[i][j+1])
			if v := value(x[i], y[j]); v > 0 {
				best = max(best, rows[i+1][j+1]+v)
			}
			rows[i][j] = best
		}
	}
	return rows
}

// value is what it is worth to lay two lines beside each other; 0 for lines that
// have nothing in common.
func value(x, y *node) int32 {
	if x.key == y.key {
		if x.item.Kind.IsMotion() || x.item.isEntry() {
			return worthMotion
		}
		return worthOther
	}
	if x.item.Kind == y.item.Kind && x.item.IsMove() == y.item.IsMove() && x.item.isEntry() == y.item.isEntry() {
		return worthChanged
	}
	return 0
}
