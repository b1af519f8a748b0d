package explain

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/outline"
)

// TestBoundOfAliases: of the lines that share a value as many are looked at as are allowed, and the answer says how many are not.
func TestBoundOfAliases(t *testing.T) {
	for more, wanted := range []string{"", " It stands in 1 line more, which"} {
		text := "begin:\n  - &a {note: a}\n" + strings.Repeat("  - *a\n", mostAliases+more)
		c := newCast(&layout.Layout{})
		s := c.withAliases(outline.Of("p.yaml", text), planTopics(), 2, Subject{Rests: func(*move.Move) bool { return false }})
		if n := strings.Count(s.Does, "The same value stands in line "); n != mostAliases || !strings.Contains(s.Does, wanted) || strings.Contains(s.Does, "leaves out") != (more > 0) {
			t.Errorf("with %d more than are allowed, %d lines are named: … %s", more, n, s.Does[len(s.Does)-80:])
		}
	}
}

// TestStepsAreNumberedOnce: however many ask, steps are gone through once; of two that an anchor shares, the first counts.
func TestStepsAreNumberedOnce(t *testing.T) {
	at := func(line int) diag.Place { return diag.Place{File: "p.yaml", Line: line} }
	steps := []layout.Step{{Place: at(1)}, {Place: at(2)}, {Place: at(1)}}
	c := newCast(&layout.Layout{Begin: steps})
	if got := fmt.Sprint(c.numbersOf(steps)[at(1)], c.numbersOf(steps)[at(2)]); got != "1 2" {
		t.Errorf("got %s", got)
	}
	if n := testing.AllocsPerRun(10, func() { c.numbersOf(steps) }); n > 0 {
		t.Errorf("asked again, steps take %v allocations", n)
	}
}
