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
		case e.ByPart && len(e.Legs) > 1:
			writeChain(w, e)
		default:
			for i := range e.Legs {
				writeLeg(w, e, i)
			}
		}
	}
}

func writeLeg(w io.Writer, e *layout.Entry, leg int) {
	l := &e.Legs[leg]
	fmt.Fprintf(w, "  - from: %s\n", stop(&l.From, "      ", l.Taken))
	fmt.Fprintf(w, "    to: %s\n", stop(&l.To, "      ", l.Put))
}

func writeChain(w io.Writer, e *layout.Entry) {
	fmt.Fprintf(w, "  - chain:\n")
	fmt.Fprintf(w, "      - %s\n", stop(&e.Legs[0].From, "        ", e.Legs[0].Taken))
	for i := range e.Legs {
		fmt.Fprintf(w, "      - %s\n", stop(&e.Legs[i].To, "        ", e.Legs[i].Put))
	}
	fmt.Fprintf(w, "    advance: part\n")
}

// stop is a stop's value; lines after its first one begin with indent.
func stop(s *layout.Sequence, indent string, then []layout.Step) string {
	slots := quoted(s, indent)
	if len(then) == 0 {
		return slots
	}
	var b strings.Builder
	fmt.Fprintf(&b, "{grid: %s, then: [", slots)
	for i := range then {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(step(&then[i]))
	}
	b.WriteString("]}")
	return b.String()
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
	case move.Note, move.Select, move.Travel, move.Straight, move.Grip, move.Release: // a plan's steps are no others
	}
	text, _ := json.Marshal(s.Text) // a text always can be; YAML reads JSON's quotes
	return "note: " + string(text)
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
