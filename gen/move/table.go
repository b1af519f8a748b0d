package move

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"gridferry/plan/wording"
)

// WriteTable writes the list for people and under it how many moves of each
// kind there are. Lines are cut to width characters; 0 leaves them whole.
func WriteTable(w io.Writer, moves Batches, width int) error {
	t := measure(moves)
	out := bufio.NewWriterSize(w, 1<<16)
	t.row(out, width, "n", "transfer", "action", "target", "what")
	for piece := range moves {
		for i := range piece {
			if err := t.move(out, width, &piece[i]); err != nil {
				return err
			}
		}
	}
	fmt.Fprintf(out, "\n%s\n", t.counts)
	return out.Flush()
}

// table holds the widths of the columns before the last one.
type table struct {
	n, transfer, target int
	counts              Counts
}

// widestTarget keeps one long name from pushing the numbers off the screen.
const widestTarget = 28

// measure passes over the list once for the widths: the list itself is too
// long to be kept.
func measure(moves Batches) table {
	t := table{transfer: len("transfer"), target: len("target")}
	var b []byte
	for piece := range moves {
		for i := range piece {
			t.counts.See(&piece[i])
			b = piece[i].Target.Append(b[:0])
			t.target = max(t.target, min(widestTarget, utf8.RuneCount(b)))
		}
	}
	t.n = len(fmt.Sprint(t.counts.Moves))
	return t
}

func (t *table) move(w io.Writer, width int, m *Move) error {
	transfer := ""
	if m.Transfer > 0 {
		transfer = fmt.Sprint(m.Transfer)
	}
	return t.row(w, width, fmt.Sprint(m.N), transfer, m.Kind.String(), wording.Shorten(m.Target.String(), t.target), m.Describe())
}

func (t *table) row(w io.Writer, width int, n, transfer, action, target, what string) error {
	line := fmt.Sprintf("%*s %*s  %-8s  %-*s  %s", t.n, n, t.transfer, transfer, action, t.target, target, what)
	if width > 0 {
		line = wording.ShortenWords(line, width)
	}
	_, err := fmt.Fprintln(w, strings.TrimRight(line, " "))
	return err
}

// Describe says in a few words and numbers what a move does.
func (m *Move) Describe() string {
	switch m.Kind {
	case Select:
		return fmt.Sprintf("frame %s, tool %s, load %.3f kg%s", m.Frame, m.Tool, m.Load, m.stop())
	case Travel, Straight:
		return m.describeMotion()
	case Grip, Release, Set:
		return fmt.Sprintf("output %d %s", m.Signal, wording.Level(m.Level))
	case Await:
		return fmt.Sprintf("input %d %s%s", m.Signal, wording.Level(m.Level), m.timeOut())
	case Dwell:
		return string(append(appendNumber(nil, m.Seconds), " s"...))
	case Note:
	}
	return strings.Join(strings.Fields(m.Text), " ")
}

// stop is what a person does at a select where the program stops.
func (m *Move) stop() string {
	if !m.ByHand {
		return ""
	}
	return "; stop: " + m.Text
}

func (m *Move) timeOut() string {
	if m.Seconds == 0 {
		return ", without a time-out"
	}
	then := "stop"
	if m.GoOn {
		then = "go on"
	}
	return fmt.Sprintf(" within %s s, else %s", appendNumber(nil, m.Seconds), then)
}

// describeMotion gives the numbers in the order in which people look for
// them: where, in which frame, how fast, how it ends, how the tool is turned.
func (m *Move) describeMotion() string {
	end := "stop"
	if m.FlyBy > 0 {
		end = fmt.Sprintf("fly-by %s", appendNumber(nil, m.FlyBy))
	}
	p := m.At
	return fmt.Sprintf("%8.3f %8.3f %8.3f %s  %s mm/s, %s, rpy %s %s %s", tidy(p.X), tidy(p.Y), tidy(p.Z), m.Frame,
		appendNumber(nil, m.Speed), end, shortAngle(p.Roll), shortAngle(p.Pitch), shortAngle(p.Yaw))
}

// tidy rounds to what the table shows, so that it never shows "-0.000".
func tidy(v float64) float64 {
	if v > -0.0005 && v < 0 {
		return 0
	}
	return v
}

func shortAngle(v float64) string {
	text := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", tidy(v)), "0"), ".")
	return text
}

// String says how many moves of each kind there are.
func (c Counts) String() string {
	var kinds []string
	for _, k := range Kinds {
		if n := c.Kind[k]; n > 0 {
			kinds = append(kinds, fmt.Sprintf("%d %s", n, k))
		}
	}
	return fmt.Sprintf("%s in %s: %s", wording.Count(c.Moves, "move"), wording.Count(c.Transfers, "transfer"), strings.Join(kinds, ", "))
}
