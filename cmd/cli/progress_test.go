package cli

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"gridferry/gen/move"
)

// ticking is a clock that goes on by a step every time it is asked.
func ticking(step time.Duration) func() time.Time {
	now := time.Time{}
	return func() time.Time { now = now.Add(step); return now }
}

func listOf(n int) move.Batches {
	return move.Batched(func(yield func(move.Move) bool) {
		for i := range n {
			if !yield(move.Move{N: i + 1}) {
				return
			}
		}
	})
}

func passes(n int, step time.Duration, times int) string {
	var out bytes.Buffer
	p := &progress{w: &out, now: ticking(step), what: "dense.plan.yaml"}
	for range times {
		for range p.around(listOf(n)) {
		}
	}
	return out.String()
}

func TestProgressIsSilentAtFirst(t *testing.T) {
	if text := passes(100*progressLook, time.Millisecond, 2); text != "" {
		t.Errorf("within a second it says %q", text)
	}
	if text := passes(progressLook-1, time.Hour, 2); text != "" {
		t.Errorf("about a short list it says %q", text)
	}
}

// The line says whose moves are gone through, how often already, how far, and how long it
// will take: here two seconds for every 1024 moves, and one look at the clock at the start.
func TestProgressCountsThenTellsTheShare(t *testing.T) {
	lines := strings.Split(passes(4*progressLook, 2*time.Second, 2), "\r")
	for _, want := range []string{
		"dense.plan.yaml, pass 1 over its moves: 1024 so far", "dense.plan.yaml, pass 1 over its moves: 4096 so far",
		"dense.plan.yaml, pass 2 over its moves:  25 % of 4096, about 6.0 s left",
		"dense.plan.yaml, pass 2 over its moves:  75 % of 4096, about 2.0 s left",
	} {
		if !slices.Contains(lines, want) {
			t.Errorf("no line %q in %q", want, lines)
		}
	}
	if end := lines[len(lines)-2]; strings.TrimSpace(end) != "" || lines[len(lines)-1] != "" {
		t.Errorf("the line is not taken away: %q", lines)
	}
}

// A pass within a pass, as reading back makes one, does not disturb the line.
func TestProgressShowsTheOuterPass(t *testing.T) {
	var out bytes.Buffer
	p := &progress{w: &out, now: ticking(2 * time.Second)}
	for piece := range p.around(listOf(2 * progressLook)) {
		if piece[0].N == 1 {
			for range p.around(listOf(50 * progressLook)) {
			}
		}
	}
	if strings.Contains(out.String(), "51200") || !strings.Contains(out.String(), "2048 so far") {
		t.Errorf("shown: %q", out.String())
	}
}

// A list that is left early does not count as a whole one.
func TestProgressKnowsWholePassesOnly(t *testing.T) {
	p := &progress{w: new(bytes.Buffer), now: ticking(0)}
	for range p.around(listOf(2 * move.BatchSize)) {
		break
	}
	if p.total != 0 || p.active {
		t.Errorf("after half a pass: %+v", p)
	}
}

// Only a terminal is shown anything, and not if it asked for quiet.
func TestProgressNeedsATerminal(t *testing.T) {
	if (&streams{err: new(bytes.Buffer)}).watch("a.plan.yaml") != nil {
		t.Error("a buffer is taken for a terminal")
	}
}
