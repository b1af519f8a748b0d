package order

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// writeTransfers writes entries as YAML, every slot by itself in the order in
// which it is visited. A chain that advances by legs becomes an entry a leg,
// since each leg has an order of its own.
func writeTransfers(w io.Writer, entries []*layout.Entry) {
	fmt.Fprintln(w, "transfers:")
	for _, e := range entries {
		switch {
		case e.Parts == 0:
		case e.Listed != nil:
			writeList(w, e)
		case e.ByPart && len(e.Legs) > 1:
			writeChain(w, e)
		default:
			for i := range e.Legs {
				writeLeg(w, e, i)
			}
		}
	}
}

func writeList(w io.Writer, e *layout.Entry) {
	fmt.Fprintf(w, "  - list: %s\n", text(e.Listed.Name))
	if e.Listed.Take > 0 {
		fmt.Fprintf(w, "    take: %d\n", e.Listed.Take)
	}
	if then := e.Legs[0].Put; len(then) > 0 {
		fmt.Fprintf(w, "    then: [%s]\n", strings.Join(stepsOf(then), ", "))
	}
	writeMotion(w, e)
}

func writeLeg(w io.Writer, e *layout.Entry, leg int) {
	l := &e.Legs[leg]
	fmt.Fprintf(w, "  - from: %s\n", stop(&l.From, "      ", l.OverFrom, l.Taken))
	fmt.Fprintf(w, "    to: %s\n", stop(&l.To, "      ", l.OverTo, l.Put))
	writeMotion(w, e)
}

func writeChain(w io.Writer, e *layout.Entry) {
	fmt.Fprintf(w, "  - chain:\n")
	fmt.Fprintf(w, "      - %s\n", stop(&e.Legs[0].From, "        ", e.Legs[0].OverFrom, e.Legs[0].Taken))
	for i := range e.Legs {
		fmt.Fprintf(w, "      - %s\n", stop(&e.Legs[i].To, "        ", e.Legs[i].OverTo, e.Legs[i].Put))
	}
	fmt.Fprintf(w, "    advance: part\n")
	writeMotion(w, e)
}

// stop is a stop's value; lines after its first one begin with indent.
func stop(s *layout.Sequence, indent string, before, then []layout.Step) string {
	slots := quoted(s, indent)
	if len(before) == 0 && len(then) == 0 {
		return slots
	}
	text := "{grid: " + slots
	for _, at := range []struct {
		key   string
		steps []layout.Step
	}{{"before", before}, {"then", then}} {
		if len(at.steps) > 0 {
			text += ", " + at.key + ": [" + strings.Join(stepsOf(at.steps), ", ") + "]"
		}
	}
	return text + "}"
}

// stepsOf is steps as a plan has them.
func stepsOf(steps []layout.Step) []string {
	var texts []string
	for i := range steps {
		texts = append(texts, step(&steps[i]))
	}
	return texts
}

// widest is where lines of slots are broken; YAML reads the break as a blank.
const widest = 100

func quoted(s *layout.Sequence, indent string) string {
	var b strings.Builder
	b.WriteString("\"" + s.Grid.Name)
	width := len(indent) + b.Len()
	for i, label := range labels(s) {
		if i > 0 {
			b.WriteByte(',')
			width++
		}
		if width+1+len(label) > widest {
			b.WriteString("\n" + indent + label)
			width = len(indent) + len(label)
		} else {
			b.WriteString(" " + label)
			width += 1 + len(label)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// labels names a stop's slots in order; those that begin anew behind the last one
// are named once.
func labels(s *layout.Sequence) []string {
	var names []string
	for at := range s.All() {
		label := s.Grid.Label(at)
		if s.Walk().Again && len(names) > 0 && label == names[0] {
			break
		}
		names = append(names, label)
	}
	return names
}

// step is a step of "then" in flow style.
func step(s *layout.Step) string {
	switch s.Kind {
	case move.Set:
		return fmt.Sprintf("set: {output: %d, level: %s}", s.Signal, wording.Level(s.Level))
	case move.Await:
		return fmt.Sprintf("await: {input: %d, level: %s%s}", s.Signal, wording.Level(s.Level), await(s))
	case move.Dwell:
		return "dwell: " + number(s.Seconds)
	case move.Travel:
		return "go: " + s.Pose.Name
	case move.Straight:
		return "line: " + s.Pose.Name
	case move.Note, move.Select, move.Grip, move.Release: // a plan's steps are no others
	}
	return "note: " + text(s.Text)
}

// text is a text in JSON's quotes, which YAML reads; it always has one.
func text(s string) string {
	quoted, _ := json.Marshal(s)
	return string(quoted)
}

func await(s *layout.Step) string {
	if s.Seconds == 0 {
		return ""
	}
	text := ", within: " + number(s.Seconds)
	if s.GoOn {
		text += ", else: go-on"
	}
	return text
}
