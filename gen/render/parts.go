package render

import (
	"bytes"
	"fmt"
	"io"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// parts puts whole transfers into files of so many lines. What is written waits
// until its transfer is complete; then it is clear whether it still fits.
type parts struct {
	program *program
	create  Create
	plan    string
	name    string // the whole program's identifier
	title   blocks.Text
	err     error // of a file

	waiting []piece // of the transfer that is being written
	size    int     // its bytes
	over    bool    // it is too long, and that was said

	file   io.WriteCloser // the part that is open, or nil
	part   blocks.Part
	ending int // lines that its end takes
	filled bool
	done   []blocks.Part

	selected move.Move // the last select that was put into a file
}

// piece is what one block wrote, or which move the pieces behind it belong to;
// the first one that waits is always such a mark.
type piece struct {
	move  *move.Move
	text  []byte
	block string
	place diag.Place
}

// mostWaiting bounds, in bytes, what one transfer may hold back.
const mostWaiting = 64 << 20

// begins notes that the pieces from here on are a move's.
func (s *parts) begins(m move.Move) { s.waiting = append(s.waiting, piece{move: &m}) }

// hold keeps the text of one block until the transfer is complete.
func (s *parts) hold(text []byte, block string, at diag.Place) {
	if s.size += len(text); s.size > mostWaiting {
		s.tooLong(at, "more than %d bytes", mostWaiting)
		return
	}
	s.waiting = append(s.waiting, piece{text: bytes.Clone(text), block: block, place: at})
}

func (s *parts) tooLong(at diag.Place, format string, args ...any) {
	if s.over {
		return
	}
	s.over = true
	s.program.found.errorf(ruleTransfer, at, "", "transfer %d takes %s, at most %d lines fit in a file", s.program.transfer, fmt.Sprintf(format, args...), s.program.family.MostLines).
		WithHint("a program is split between transfers only; write fewer notes and steps into one")
}

// settle puts the transfer that is complete into a part, a new one if need be.
func (s *parts) settle() {
	if len(s.waiting) == 0 || s.err != nil {
		return
	}
	need := 0
	for _, p := range s.waiting {
		need += linesOf(p.text)
	}
	most := s.program.family.MostLines
	if s.file != nil && s.filled && s.program.lines.count+need+s.ending > most {
		s.close()
	}
	if s.file == nil {
		s.open()
	}
	if s.err == nil && s.program.lines.count+need+s.ending > most {
		s.tooLong(s.waiting[len(s.waiting)-1].place, "%d lines", need)
	}
	if s.err == nil {
		s.place()
	}
	s.waiting, s.size, s.over = s.waiting[:0], 0, false
}

// linesOf counts lines, also a last one without an end.
func linesOf(text []byte) int {
	n := bytes.Count(text, []byte("\n"))
	if len(text) > 0 && text[len(text)-1] != '\n' {
		n++
	}
	return n
}

// place lays the pieces into the open part and reports their lines.
func (s *parts) place() {
	p := s.program
	for i := 0; i < len(s.waiting); {
		m, first := *s.waiting[i].move, p.lines.count+1
		for i++; i < len(s.waiting) && s.waiting[i].move == nil; i++ {
			p.enter(s.waiting[i].text, s.waiting[i].block, s.waiting[i].place)
		}
		s.see(m)
		p.traced(m, first)
	}
	s.filled = true
}

// see keeps what the next part has to say anew.
func (s *parts) see(m move.Move) {
	if m.Kind == move.Select {
		s.selected = m
	}
	if m.N > 0 {
		s.part.Last = m.N
	}
}

// open begins the next part: its head, and frame, tool and load anew, so that it
// does not depend on what the part before it left behind.
func (s *parts) open() {
	f, k := s.program.family, len(s.done)+1
	if k == rules.MostParts+1 {
		s.program.found.errorf(ruleParts, s.program.place, "", "the program comes in more than %d parts", rules.MostParts).
			WithHint("split the plan into several")
	}
	stem := f.PartStem(s.plan, k)
	s.part = blocks.Part{
		Number: k, Name: f.Names.OfPart(s.name, k), File: stem + f.Extension, Stem: stem,
		Program: s.name, Title: s.title, First: s.firstWaiting(),
	}
	if s.file, s.err = s.create(s.part.File); s.err != nil {
		return
	}
	s.program.file, s.filled = s.part.File, false
	s.program.lines = newLines(s.file, f, s.program.budget)
	s.ending = linesOf(s.block(blocks.PartEnd))
	s.program.enter(s.block(blocks.PartHead), blocks.PartHead, s.program.place)
	if s.selected.Kind == move.Select {
		s.again()
	}
}

func (s *parts) firstWaiting() int {
	for _, p := range s.waiting {
		if p.move != nil && p.move.N > 0 {
			return p.move.N
		}
	}
	return 0
}

// again says the last selection once more.
func (s *parts) again() {
	view, err := s.program.views.again(s.selected)
	if err != nil {
		return // it was said where the select stood first
	}
	text, err := s.program.printer.Print(s.selected.Kind.String(), view)
	if err != nil {
		s.program.templateFailed(err)
		return
	}
	s.program.enter(text, s.selected.Kind.String(), s.selected.Place)
}

// block runs a block about the part; what is wrong with it is a finding.
func (s *parts) block(name string) []byte {
	text, err := s.program.printer.Print(name, s.part)
	if err != nil {
		s.program.templateFailed(err)
		return nil
	}
	return bytes.Clone(text)
}

// close ends the open part.
func (s *parts) close() {
	if s.file == nil || s.err != nil {
		return
	}
	s.program.lines.ends()
	s.program.enter(s.block(blocks.PartEnd), blocks.PartEnd, s.program.place)
	s.err = s.program.lines.flush()
	if err := s.file.Close(); s.err == nil {
		s.err = err
	}
	s.file, s.done = nil, append(s.done, s.part)
}
