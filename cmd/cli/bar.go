package cli

import (
	"fmt"
	"io"
	"strings"
)

// bar shows on a terminal how many of several things are done; nothing in a log.
type bar struct {
	w     io.Writer // nil shows nothing
	all   int
	shown int // in steps of the bar
}

const barSteps = 40

func (s *streams) newBar(all int) *bar {
	b := &bar{all: all, shown: -1}
	if !s.quiet && isTerminal(s.err) {
		b.w = s.err
	}
	return b
}

// step shows how many are done.
func (b *bar) step(done int) {
	if b.w == nil || b.all == 0 {
		return
	}
	steps := done * barSteps / b.all
	if steps == b.shown && done < b.all {
		return
	}
	b.shown = steps
	fmt.Fprintf(b.w, "\r[%s%s] %d of %d", strings.Repeat("#", steps), strings.Repeat(".", barSteps-steps), done, b.all)
	if done == b.all {
		fmt.Fprintf(b.w, "\r%s\r", strings.Repeat(" ", barSteps+2+len(fmt.Sprintf(" %d of %d", done, b.all))))
	}
}
