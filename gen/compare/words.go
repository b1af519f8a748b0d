package compare

import (
	"fmt"
	"strconv"
	"strings"

	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// name is what a delta is about: points of a grid belong together, whatever the arm
// does there; other things are named by the step.
func (d *delta) name() string {
	s := d.a
	if s == nil || s.Target.IsZero() && d.b != nil && !d.b.Target.IsZero() {
		s = d.b
	}
	switch d.what {
	case Positions, Turns, Frames, IDs:
		if s.Target.Grid != "" {
			return s.Target.Grid
		}
		if s.Target.Pose != "" {
			return s.Target.Pose
		}
	case Speeds, FlyBys, Tools, Loads, Centres, Inertias, Signals, Levels, Times, GoesOn, Texts, Kinds, Rests, OnlyA, OnlyB:
	}
	return stepName(s)
}

// stepName is a step without its slot: "travel to clear", "grip at tray", "set output 3".
func stepName(s *Step) string {
	at := s.Target.Grid
	if s.Target.Approach {
		at = "above " + at
	}
	switch s.Kind {
	case 0:
		return "a line that the family does not know"
	case move.Set:
		return "set output " + strconv.Itoa(s.Signal)
	case move.Await:
		return "await input " + strconv.Itoa(s.Signal)
	case move.Travel, move.Straight:
		if where := s.Target.Pose + at; where != "" {
			return s.Kind.String() + " to " + where
		}
	case move.Grip, move.Release:
		if at != "" {
			return s.Kind.String() + " at " + at
		}
	case move.Dwell:
		if name := dwellNames[s.Role]; name != "" {
			return name
		}
	case move.Note:
		if s.Pause {
			return "optional stop"
		}
	case move.Select:
		if s.ByHand {
			return "stop for a change of tool"
		}
	}
	return s.Kind.String()
}

var dwellNames = map[move.Role]string{
	move.OpenSettle: "settling of the open gripper", move.HoldSettle: "settling of the grip", move.FreeSettle: "settling of the release",
	move.OpenMore: "pulse of the opening gripper", move.HoldMore: "pulse of the grip", move.FreeMore: "pulse of the release",
}

// sides is what either side says, for people.
func (d *delta) sides() (a, b string) {
	switch d.what {
	case Kinds:
		return d.a.Kind.String(), d.b.Kind.String()
	case Texts:
		return strconv.Quote(d.a.Text), strconv.Quote(d.b.Text)
	case Rests:
		return strconv.Quote(strings.TrimSpace(d.a.Rest.Words)), strconv.Quote(strings.TrimSpace(d.b.Rest.Words))
	case IDs:
		return idName(d.a.ID), idName(d.b.ID)
	case Frames:
		return called(d.a.Frame, d.a.FrameNumber), called(d.b.Frame, d.b.FrameNumber)
	case Tools:
		return called(d.a.Tool, d.a.ToolNumber), called(d.b.Tool, d.b.ToolNumber)
	case Levels:
		return wording.Level(d.a.Level), wording.Level(d.b.Level)
	case GoesOn:
		return goesOn(d.a.GoOn), goesOn(d.b.GoOn)
	case Positions, OnlyA, OnlyB:
		return "", ""
	case Turns:
		return "", figure(d.to, 3)
	case Speeds, FlyBys, Loads, Centres, Inertias, Signals, Times:
	}
	return figure(d.from, d.what.decimals()), figure(d.to, d.what.decimals())
}

// decimals is how many are shown of amounts.
func (w What) decimals() int {
	if w == Inertias {
		return 7
	}
	return 4
}

func called(name string, number int) string {
	if name != "" {
		return name
	}
	return "number " + strconv.Itoa(number)
}

// idName is the id of a part in quotes.
func idName(id *string) string {
	if id == nil {
		return "none"
	}
	return strconv.Quote(*id)
}

func goesOn(on bool) string {
	if on {
		return "goes on after its time"
	}
	return "stops after its time"
}

// figure is a value with at most so many decimals.
func figure(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	for text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	if text[len(text)-1] == '.' {
		text = text[:len(text)-1]
	}
	if text == "-0" {
		return "0"
	}
	return text
}

var units = map[What]string{Speeds: " mm/s", FlyBys: " mm", Loads: " kg", Centres: " mm", Inertias: " kg·m²", Times: " s"}

// Text gives a difference in one line. Positions are in the base.
func (f *Difference) Text() string { return f.text("") }

// hasAxes reports whether the text names axes.
func (f *Difference) hasAxes() bool { return f.What == Positions && f.Same }

// text is Text with the axes named, where it names any.
func (f *Difference) text(axes string) string {
	switch f.What {
	case OnlyA, OnlyB:
		side := map[What]string{OnlyA: "first", OnlyB: "second"}[f.What]
		return fmt.Sprintf("%s: only in the %s%s", f.Name, side, f.when())
	case Positions:
		return fmt.Sprintf("%s: moved by %s%s", f.Name, f.moved(axes), f.when())
	case IDs:
		more := ""
		if !f.Same {
			more = " and others"
		}
		return fmt.Sprintf("%s: id %s becomes %s at %s%s%s", f.Name, f.A, f.B, f.MostAt, more, f.when())
	case Turns:
		return fmt.Sprintf("%s: turned by %s%s", f.Name, f.turned(), f.when())
	case Speeds, FlyBys, Frames, Tools, Loads, Centres, Inertias, Signals, Levels, Times, GoesOn, Texts, Kinds, Rests: // from a value to another
	}
	word := map[What]string{
		Speeds: "speed ", FlyBys: "fly-by ", Loads: "load ", Centres: "a coordinate of the load's centre of gravity, ", Inertias: "a moment of inertia of the load, ", Signals: "output or input ", Levels: "level ", Times: "time ",
		Frames: "frame ", Tools: "tool ", Kinds: "", GoesOn: "", Texts: "", Rests: "what nobody reads, ",
	}[f.What]
	a, b, unit := f.A, f.B, units[f.What]
	if !f.Same && unit != "" {
		n := f.What.decimals()
		a, b = span(figure(f.minA, n), figure(f.maxA, n)), span(figure(f.Min, n), figure(f.Max, n))
	}
	more := ""
	if !f.Same && unit == "" {
		more = " and others"
	}
	return fmt.Sprintf("%s: %s%s%s becomes %s%s%s%s", f.Name, word, a, unit, b, unit, more, f.when())
}

func (f *Difference) moved(axes string) string {
	if f.hasAxes() {
		return fmt.Sprintf("X %+.3f, Y %+.3f, Z %+.3f mm%s", f.Way.X+0, f.Way.Y+0, f.Way.Z+0, axes)
	}
	return f.amounts("mm")
}

func (f *Difference) turned() string {
	if f.Same {
		return f.B + " degrees"
	}
	return f.amounts("degrees")
}

// amounts is from the least to the most and where that is, or one figure where they read alike.
func (f *Difference) amounts(unit string) string {
	least, most := fmt.Sprintf("%.3f", f.Min), fmt.Sprintf("%.3f", f.Max)
	text := span(least, most) + " " + unit
	if least == most {
		return text
	}
	return text + f.most()
}

func (f *Difference) most() string {
	if f.MostAt == "" {
		return fmt.Sprintf(", most in %s %d", f.word, f.MostIn)
	}
	return fmt.Sprintf(", most at %s in %s %d", f.MostAt, f.word, f.MostIn)
}

// span is from one figure to another, or one where they read alike.
func span(lo, hi string) string {
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}

// when is how often, in which transfers and at which lines.
func (f *Difference) when() string {
	times := ""
	if f.Count > 1 {
		times = fmt.Sprintf(", %d times", f.Count)
	}
	side := 0
	if f.What == OnlyB {
		side = 1
	}
	first, last := f.First[side], f.Last[side]
	switch {
	case first == 0 && last == 0:
	case first == last:
		times += fmt.Sprintf(", in %s %d", f.word, first)
	default:
		times += fmt.Sprintf(", in %ss %d to %d", f.word, first, last)
	}
	return times + f.lines()
}

func (f *Difference) lines() string {
	switch {
	case f.Lines[0] > 0 && f.Lines[1] > 0:
		return fmt.Sprintf(" (lines %d and %d)", f.Lines[0], f.Lines[1])
	case f.Lines[0]+f.Lines[1] > 0:
		return fmt.Sprintf(" (line %d)", f.Lines[0]+f.Lines[1])
	}
	return ""
}
