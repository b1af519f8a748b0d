package render

import (
	"io"

	"gridferry/gen/family/blocks"
)

// lines puts the lines of a program into its file.
type lines struct {
	finisher
	below  io.Writer
	budget *budget

	count int // lines written
	out   []byte
	err   error // the first that writing met
}

// held is how many bytes of lines wait for being written.
const held = 64 << 10

func newLines(w io.Writer, f *blocks.Blocks, b *budget) *lines {
	return &lines{finisher: newFinisher(f), below: w, out: make([]byte, 0, held), budget: b}
}

// flush writes what waits and gives the first error that writing met.
func (l *lines) flush() error {
	if len(l.out) > 0 && l.err == nil {
		_, l.err = l.below.Write(l.out)
	}
	l.out = l.out[:0]
	return l.err
}

// ends lets whoever writes the file below know that the lines from here on are its
// end: a seal stands before them.
func (l *lines) ends() {
	_ = l.flush() // the error is kept
	if below, ok := l.below.(interface{ BeforeEnd() }); ok {
		below.BeforeEnd()
	}
}

// add writes what a block wrote as lines and reports what is wrong with them.
func (l *lines) add(text []byte) []fault {
	at := len(l.out)
	out, count, faults := l.finish(l.out, text)
	if l.out = out; !l.takes(len(out)-at, count) {
		l.out = l.out[:at]
	}
	if len(l.out) >= held {
		_ = l.flush() // the error is kept
	}
	return faults
}

// pass writes lines that are finished; many of them are not copied first.
func (l *lines) pass(text []byte, count int) {
	if !l.takes(len(text), count) {
		return
	}
	const many = held / 8
	if len(text) < many {
		l.out = append(l.out, text...)
	}
	if len(l.out) >= held || len(text) >= many {
		_ = l.flush() // the error is kept
	}
	if len(text) >= many && l.err == nil {
		_, l.err = l.below.Write(text)
	}
}

// takes counts lines; false when they are more than the program may hold.
func (l *lines) takes(bytes, count int) bool {
	l.count += count
	l.budget.spend(bytes, count)
	return l.budget.bytes <= l.budget.most
}
