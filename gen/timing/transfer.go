package timing

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// TransferTime is one part making one leg, or several that are carried at once: then the
// transfer and the slots are those of the first.
type TransferTime struct {
	Carried             int // parts
	Transfer, Leg, Line int
	From, To            string // grids
	FromSlot, ToSlot    Label
	Seconds             float64
	Moving, Dwelling    float64 // s
	Waits               int
	Distance            float64 // mm

	limited limited
}

// Label is a slot's name, made when it is asked for; without a slot there is none.
type Label struct {
	slot           slot.Slot
	layered, known bool
}

func (l Label) append(b []byte) []byte {
	if !l.known {
		return b
	}
	return l.slot.AppendLabel(b, l.layered)
}

// begun is a transfer at its first move, which carries the line of its entry.
func begun(t *Timed) TransferTime {
	return TransferTime{Carried: 1, Transfer: t.Move.Unit(), Leg: t.Move.Leg, Line: t.Move.Line()}
}

func (t *TransferTime) add(m *Timed) {
	t.Seconds += m.Seconds
	t.Distance += m.Length
	t.Carried = max(t.Carried, m.Move.Carries()-t.Transfer+max(1, m.Move.Zones))
	switch m.Move.Kind {
	case move.Travel, move.Straight:
		t.Moving += m.Seconds
		t.limited[m.Limit] += m.Seconds
	case move.Dwell:
		t.Dwelling += m.Seconds
	case move.Await:
		t.Waits++
	case move.Grip:
		if m.Move.Carries() == t.Transfer {
			t.From, t.FromSlot = where(&m.Move.Target)
		}
	case move.Release:
		if m.Move.Target.Grid != "" && m.Move.Carries() == t.Transfer {
			t.To, t.ToSlot = where(&m.Move.Target)
		}
	case move.Select, move.Set, move.Note:
	}
}

func where(t *move.Target) (grid string, name Label) { return t.Grid, Label{t.Slot, t.Layered, true} }

var transferHeader = []string{"transfer", "leg", "line", "from", "from_slot", "to", "to_slot", "seconds", "moving", "dwelling", "waits", "distance", "parts", "joint"}

// WriteCSV writes a line for every transfer, or for as many parts as are carried at once with that
// of the first (RFC 4180, with LF line ends): seconds, and mm. The waits are counted, not timed. The joint is the
// number of the one that slows its motions down for the longest time; nothing where none does.
func WriteCSV(w io.Writer, moves move.Batches, m Machine) error {
	out := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintln(out, strings.Join(transferHeader, ","))
	var now TransferTime
	var line []byte
	for t := range Times(moves, m) {
		if t.Move.Unit() != now.Transfer {
			line = now.append(line[:0])
			if _, err := out.Write(line); err != nil {
				return err
			}
			now = begun(&t)
		}
		now.add(&t)
	}
	if _, err := out.Write(now.append(line[:0])); err != nil {
		return err
	}
	return out.Flush()
}

// append writes one line; names of grids hold nothing that needs quotes, and begin with a letter or a digit. What is
// outside any transfer has none.
func (t *TransferTime) append(b []byte) []byte {
	if t.Transfer == 0 {
		return b
	}
	for _, v := range []int{t.Transfer, t.Leg, t.Line} {
		b = append(strconv.AppendInt(b, int64(v), 10), ',')
	}
	b = append(t.FromSlot.append(append(append(b, t.From...), ',')), ',')
	b = append(t.ToSlot.append(append(append(b, t.To...), ',')), ',')
	for _, v := range []float64{t.Seconds, t.Moving, t.Dwelling} {
		b = append(appendFigure(b, v), ',')
	}
	b = append(strconv.AppendInt(b, int64(t.Waits), 10), ',')
	b = append(appendFigure(b, t.Distance), ',')
	b = append(strconv.AppendInt(b, int64(t.Carried), 10), ',')
	if joint := t.limited.most(); joint > 0 {
		b = strconv.AppendInt(b, int64(joint), 10)
	}
	return append(b, '\n')
}

// figure writes seconds or mm to a thousandth, which is far finer than the
// estimate.
func figure(v float64) string { return string(appendFigure(nil, v)) }

func appendFigure(b []byte, v float64) []byte {
	from := len(b)
	b = strconv.AppendFloat(b, v, 'f', 3, 64)
	b = bytes.TrimRight(bytes.TrimRight(b, "0"), ".")
	if string(b[from:]) == "-0" {
		return append(b[:from], '0')
	}
	return b
}
