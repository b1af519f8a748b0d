package timing

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"gridferry/gen/move"
)

// TransferTime is one part making one leg.
type TransferTime struct {
	Transfer, Leg, Line int
	From, To            string // grids
	FromSlot, ToSlot    string
	Seconds             float64
	Moving, Dwelling    float64 // s
	Waits               int
	Distance            float64 // mm
}

// begun is a transfer at its first move, which carries the line of its entry.
func begun(t *Timed) TransferTime {
	return TransferTime{Transfer: t.Move.Transfer, Leg: t.Move.Leg, Line: t.Move.Place.Line}
}

func (t *TransferTime) add(m *Timed) {
	t.Seconds += m.Seconds
	t.Distance += m.Length
	switch m.Move.Kind {
	case move.Travel, move.Straight:
		t.Moving += m.Seconds
	case move.Dwell:
		t.Dwelling += m.Seconds
	case move.Await:
		t.Waits++
	case move.Grip:
		t.From, t.FromSlot = where(&m.Move.Target)
	case move.Release:
		if m.Move.Target.Grid != "" {
			t.To, t.ToSlot = where(&m.Move.Target)
		}
	}
}

func where(t *move.Target) (grid, slot string) { return t.Grid, t.Slot.Label(t.Layered) }

var transferHeader = []string{"transfer", "leg", "line", "from", "from_slot", "to", "to_slot", "seconds", "moving", "dwelling", "waits", "distance"}

// WriteCSV writes a line for every transfer (RFC 4180, with LF line ends):
// seconds, and mm. The waits are counted, not timed.
func WriteCSV(w io.Writer, moves move.Seq, m Machine) error {
	out := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintln(out, strings.Join(transferHeader, ","))
	var now TransferTime
	for t := range Times(moves, m) {
		if t.Move.Transfer != now.Transfer {
			if err := now.write(out); err != nil {
				return err
			}
			now = begun(&t)
		}
		now.add(&t)
	}
	if err := now.write(out); err != nil {
		return err
	}
	return out.Flush()
}

// write writes one line; names of grids hold nothing that needs quotes.
func (t *TransferTime) write(w io.Writer) error {
	if t.Transfer == 0 {
		return nil
	}
	_, err := fmt.Fprintf(w, "%d,%d,%d,%s,%s,%s,%s,%s,%s,%s,%d,%s\n", t.Transfer, t.Leg, t.Line, t.From, t.FromSlot, t.To, t.ToSlot,
		figure(t.Seconds), figure(t.Moving), figure(t.Dwelling), t.Waits, figure(t.Distance))
	return err
}

// figure writes seconds or mm to a thousandth, which is far finer than the
// estimate.
func figure(v float64) string {
	text := strconv.FormatFloat(v, 'f', 3, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" || text == "" {
		return "0"
	}
	return text
}
