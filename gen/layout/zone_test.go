package layout

import "testing"

// TestNumbersOfGroups: transfers count on in the order in which groups are carried, leg by leg
// or with each group through all legs, and every one knows the first and the last of its group.
func TestNumbersOfGroups(t *testing.T) {
	for _, byPart := range []bool{false, true} {
		for legs := 1; legs <= 3; legs++ {
			for parts := 1; parts <= 7; parts++ {
				for atOnce := 1; atOnce <= 4; atOnce++ {
					e := &Entry{Parts: parts, AtOnce: atOnce, ByPart: byPart, Legs: make([]Leg, legs)}
					e.last = 10 + e.Transfers()
					n := 10
					carried := func(leg, first int) {
						last := min(first+atOnce, parts)
						for part := first; part < last; part++ {
							number := n + 1 + part - first
							a, b := e.Group(number)
							if got := e.transfer(leg, part); got != number || a != n+1 || b != n+last-first {
								t.Fatalf("%d parts, %d at once, %d legs, by part %v: part %d makes leg %d by transfer %d in %d to %d, wanted %d in %d to %d",
									parts, atOnce, legs, byPart, part, leg, got, a, b, number, n+1, n+last-first)
							}
						}
						n += last - first
					}
					for outer := range map[bool]int{false: legs, true: (parts + atOnce - 1) / atOnce}[byPart] {
						for inner := range map[bool]int{true: legs, false: (parts + atOnce - 1) / atOnce}[byPart] {
							if byPart {
								carried(inner, outer*atOnce)
							} else {
								carried(outer, inner*atOnce)
							}
						}
					}
				}
			}
		}
	}
}
