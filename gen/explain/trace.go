package explain

import (
	"bytes"
	"io"

	"gridferry/gen/move"
)

// Tracer writes a program to w and reports which of its lines, from 1, each move
// made; last is first-1 where it made none. A move without a number stands for
// lines that its place alone made: the plan's for head and end, an entry's for a
// heading, which has its transfer as well.
type Tracer func(w io.Writer, trace func(m move.Move, first, last int)) error

// Line is one line of the program.
type Line struct {
	N    int    `json:"line"` // from 1
	Text string `json:"text"`
}

// joiner brings a move and its lines together: the tracer reports moves as it
// makes them, while lines come in whole buffers.
type joiner struct {
	take    func(m move.Move, own []Line)
	waiting []traced
	end     move.Move // what was reported last
	lines   []Line    // that nobody has taken yet
	count   int
	open    []byte // a line that has not ended
	cr      bool   // the last byte was a carriage return
}

type traced struct {
	move        move.Move
	first, last int
}

// Join runs a tracer and gives each move with its lines to take. Lines that were not
// reported (a seal is added at the end) go to what was reported last.
func Join(program Tracer, take func(m move.Move, own []Line)) error {
	j := &joiner{take: take}
	err := program(j, func(m move.Move, first, last int) {
		j.end = m
		j.waiting = append(j.waiting, traced{m, first, last})
		j.settle()
	})
	j.settle()
	if rest := j.upTo(j.count); len(rest) > 0 {
		take(j.end, rest)
	}
	return err
}

// Write takes program text; lines end in LF, CR LF or CR.
func (j *joiner) Write(b []byte) (int, error) {
	size := len(b)
	for len(b) > 0 {
		if j.cr && b[0] == '\n' {
			b = b[1:]
		}
		j.cr = false
		end := bytes.IndexAny(b, "\r\n")
		if end < 0 {
			j.open = append(j.open, b...)
			break
		}
		j.open = append(j.open, b[:end]...)
		j.count++
		j.lines = append(j.lines, Line{j.count, string(j.open)})
		j.open, j.cr, b = j.open[:0], b[end] == '\r', b[end+1:]
	}
	j.settle()
	return size, nil
}

// settle hands on the moves whose lines have all come.
func (j *joiner) settle() {
	done := 0
	for _, t := range j.waiting {
		if t.last > j.count {
			break
		}
		j.take(t.move, j.upTo(t.last))
		done++
	}
	j.waiting = append(j.waiting[:0], j.waiting[done:]...)
}

// upTo takes the waiting lines up to number n.
func (j *joiner) upTo(n int) []Line {
	end := 0
	for end < len(j.lines) && j.lines[end].N <= n {
		end++
	}
	taken := j.lines[:end:end]
	j.lines = j.lines[end:]
	return taken
}
