package layout

import "iter"

// Steps is every step beside carrying, in the order of the plan.
func (l *Layout) Steps() iter.Seq[*Step] {
	return func(yield func(*Step) bool) {
		all := [][]Step{l.Begin}
		for _, e := range l.Entries {
			for i := range e.Stops {
				all = append(all, e.Stops[i].Then)
			}
		}
		for _, steps := range append(all, l.End) {
			for i := range steps {
				if !yield(&steps[i]) {
					return
				}
			}
		}
	}
}
