package explain

import (
	"bufio"
	"encoding/json"
	"io"

	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// JSON writes one object with every move that a query is about, in order, and
// does not hold them: {"plan", "family", "moves": [{"n", "transfer", "leg", "role",
// "does", "why", "plan", "program", "rests_on"}], "why_none", "other_lines": [...]}.
// "why_none" is there where a line of the plan or cell was asked about and no move
// depends on it: the sentence that the text has for that.
func JSON(w io.Writer, j Job, q Query) error {
	c := newCast(j.Layout)
	r := newReport(j)
	if err := r.ask(c, q); err != nil {
		return err
	}
	r.past(c, &j)
	s := &stream{w: bufio.NewWriter(w), c: c, q: q, r: r}
	s.begin()
	if err := Join(j.Program, s.take); err != nil {
		return err
	}
	if q.ProgramLine > s.lines {
		return &OutsideError{"program", q.ProgramLine, s.lines}
	}
	s.end()
	if s.err != nil {
		return s.err
	}
	return s.w.Flush()
}

// stream writes the object piece by piece. The lines that no move made are few (a
// head, headings) and come last.
type stream struct {
	w       *bufio.Writer
	c       *cast
	q       Query
	r       *Report
	lines   int
	some    bool
	other   []otherLines
	reasons reasons
	err     error
}

// placed is a line of a file.
type placed struct {
	What string `json:"what,omitempty"`
	File string `json:"file"`
	Line int    `json:"line"`
}

func place(at diag.Place) placed { return placed{File: at.File, Line: at.Line} }

type oneMove struct {
	N        int      `json:"n"`
	Transfer int      `json:"transfer,omitempty"`
	Leg      int      `json:"leg,omitempty"`
	ID       string   `json:"id,omitempty"`
	Role     string   `json:"role"`
	Does     string   `json:"does"`
	Why      string   `json:"why"`
	Plan     placed   `json:"plan"`
	Program  []Line   `json:"program"`
	RestsOn  []placed `json:"rests_on"`
}

// otherLines is what no single move made.
type otherLines struct {
	Of       string `json:"of"` // head, heading, loops or end
	Transfer int    `json:"transfer,omitempty"`
	Plan     placed `json:"plan"`
	Program  []Line `json:"program"`
}

func (s *stream) begin() {
	s.print(`{"plan": `)
	s.value(s.c.l.File)
	s.print(`, "family": `)
	s.value(s.r.Family)
	if s.r.Subject != nil {
		s.print(`, "about": `)
		s.value(s.r.Subject.What)
	}
	s.print(`, "moves": [`)
}

func (s *stream) end() {
	s.print("\n]")
	if s.r.Subject != nil && !s.some {
		s.print(`, "why_none": `)
		s.value(s.r.restSentence())
	}
	s.print(`, "other_lines": [`)
	for i, o := range s.other {
		if i > 0 {
			s.print(",")
		}
		s.print("\n")
		s.value(o)
	}
	s.print("\n]}\n")
}

func (s *stream) take(m move.Move, own []Line) {
	if n := len(own); n > 0 {
		s.lines = own[n-1].N
	}
	why := s.reasons.of(&m)
	switch {
	case !s.wanted(&m, own):
	case m.N == 0:
		s.other = append(s.other, otherLines{s.part(&m), m.Transfer, place(m.Place), own})
	default:
		s.move(&m, why, own)
	}
}

// wanted reports whether the query is about a move or its lines.
func (s *stream) wanted(m *move.Move, own []Line) bool {
	switch {
	case s.q.ProgramLine > 0:
		return len(own) > 0 && own[0].N <= s.q.ProgramLine && s.q.ProgramLine <= own[len(own)-1].N
	case s.r.Subject != nil:
		return m.N > 0 && s.r.Subject.Rests(m)
	case m.N == 0:
		return len(own) > 0
	}
	return true
}

func (s *stream) part(m *move.Move) string {
	switch {
	case m.Transfer > 0:
		return "heading"
	case m.Place != s.c.l.Place:
		return "loops"
	case s.some:
		return "end"
	}
	return "head"
}

func (s *stream) move(m *move.Move, why string, own []Line) {
	if s.some {
		s.print(",")
	}
	s.some = true
	s.print("\n")
	rests := []placed{}
	for _, shaper := range s.c.shapers(m) {
		rests = append(rests, placed{shaper.What, shaper.Place.File, shaper.Place.Line})
	}
	s.value(oneMove{
		m.N, m.Transfer, m.Leg, idOf(m), m.Role.String(), say(m), why, place(m.Place), append([]Line{}, own...), rests,
	})
}

func (s *stream) print(text string) {
	if _, err := s.w.WriteString(text); err != nil {
		s.err = err
	}
}

func (s *stream) value(v any) {
	data, err := json.Marshal(v)
	if err != nil {
		s.err = err
		return
	}
	s.print(string(data))
}
