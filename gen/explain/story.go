package explain

import (
	"fmt"
	"path"
	"strings"

	"gridferry/gen/move"
)

// focusStory is how the line in focus came to be there, paragraph by paragraph.
func (r *Report) focusStory() []string {
	f := r.Focus
	switch f.Part {
	case "head":
		return []string{"It stands at the head of the program, before the first move: title, cautions, and what the moves refer to. No single line of the plan made it."}
	case "end":
		return []string{"It stands behind the last move: the seal, which shows whether the program was changed after it was written, and the end. No single line of the plan made it."}
	case "loops":
		return []string{"This family writes loops, not single moves. The line was made for a thing in the plan as a whole: " + f.Thing + "."}
	case "heading":
		return []string{fmt.Sprintf("It is the heading of transfer %d%s: for people, it moves nothing.", f.transfer(), carried(f.Move))}
	}
	return []string{r.whoMadeIt(), f.Why}
}

func (f *Focus) transfer() int {
	if f.Move == nil {
		return 0
	}
	return f.Move.Transfer
}

// whoMadeIt is the move, its place in the transfer and in the entry.
func (r *Report) whoMadeIt() string {
	f, m := r.Focus, r.Focus.Move
	made := ""
	if f.Line.N > 0 {
		made = " made it"
	}
	text := fmt.Sprintf("Move %d of %d%s: %s.", m.N, r.Counts.Moves, made, say(m))
	if f.Line.N > 0 && len(f.Own) > 1 {
		text += fmt.Sprintf(" The same move made %s.", spans("line", f.Own[0].N, f.Own[len(f.Own)-1].N))
	}
	if f.Entry == nil {
		return text + outside(m)
	}
	text += fmt.Sprintf(" It belongs to transfer %d of %d%s", m.Transfer, r.Of, carried(m))
	if legs := f.Entry.PerPart(); legs > 1 {
		text += fmt.Sprintf(", which is leg %d of %d", m.Leg, legs)
	}
	text += fmt.Sprintf(", in entry %d of the plan", f.Number)
	if n := step[m.Role]; n > 0 {
		text += fmt.Sprintf("; of the 13 steps that carry a part it is step %d", n)
	}
	return text + "."
}

// carried says which part a transfer carries; "" where the plan does not name it.
func carried(m *move.Move) string {
	if m == nil || m.ID == nil {
		return ""
	}
	return ", of the part " + visible(*m.ID)
}

func outside(m *move.Move) string {
	if endsJob(m) {
		return " It belongs to no transfer: it comes when all are done."
	}
	return " It belongs to no transfer."
}

// endsJob reports whether a move outside of all transfers leads away when they are done.
func endsJob(m *move.Move) bool {
	return m.Role == move.ClearLast || m.Role == move.LeaveDestination && m.Transfer == 0
}

// location names a line of a file.
func location(file string, line int) string { return fmt.Sprintf("%s, line %d", path.Base(file), line) }

// subjectSentence says what stands on the line that was asked about.
func (r *Report) subjectSentence(remark bool) string {
	s := r.Subject
	what := "This line is about " + s.What + "."
	switch {
	case s.What == "" && remark:
		what = "This line is blank or a remark, and nothing is around it."
	case s.What == "":
		what = "No key stands here."
	case remark:
		what = "This line is blank or a remark. It stands within " + s.What + "."
	}
	return strings.TrimSpace(what + " " + s.Does)
}
