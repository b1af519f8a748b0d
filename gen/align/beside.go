package align

// span is how many elements of either side are laid beside each other at once where
// they part: enough to find again what goes on some hundred elements later.
const span = 512

// SideBySide lays two long sequences beside each other and hands on pairs; of an element
// that only one side has, the other is the zero value. Where the next ones are not the
// same it looks ahead, no further than span, and aligns for the greatest worth.
func SideBySide[T any](first, second func() (T, bool), same func(a, b T) bool, worth func(a, b T) float32, pair func(a, b T)) {
	a, b := &side[T]{next: first}, &side[T]{next: second}
	for {
		x, y := a.peek(1), b.peek(1)
		switch {
		case len(x) == 0 && len(y) == 0:
			return
		case len(x) > 0 && len(y) > 0 && same(x[0], y[0]):
			pair(a.take(), b.take())
		default:
			window(a, b, worth, pair)
		}
	}
}

// side is one sequence with the elements that were looked at ahead.
type side[T any] struct {
	next  func() (T, bool)
	ahead []T
	over  bool
}

// peek is the next n elements, fewer at the end.
func (s *side[T]) peek(n int) []T {
	for len(s.ahead) < n && !s.over {
		element, ok := s.next()
		if s.over = !ok; ok {
			s.ahead = append(s.ahead, element)
		}
	}
	return s.ahead[:min(n, len(s.ahead))]
}

// takeIf is take, or the zero value.
func (s *side[T]) takeIf(there bool) (none T) {
	if !there {
		return none
	}
	return s.take()
}

func (s *side[T]) take() T {
	var none T
	element := s.ahead[0]
	s.ahead[0] = none
	s.ahead = s.ahead[1:]
	return element
}

// window aligns the next elements and hands on the first three quarters of them, or all
// where nothing follows.
func window[T any](a, b *side[T], worth func(a, b T) float32, pair func(a, b T)) {
	x, y := a.peek(span), b.peek(span)
	most := span * 3 / 4
	if a.over && b.over && len(a.ahead) <= span && len(b.ahead) <= span {
		most = span
	}
	// What only the second has comes first: the line that is missing before the one that stands there.
	for j, i := range Pairs(len(y), len(x), func(j, i int) float32 { return worth(x[i], y[j]) }) {
		pair(a.takeIf(i >= 0), b.takeIf(j >= 0))
		if max(i, j) == most-1 {
			return
		}
	}
}
