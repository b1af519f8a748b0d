package explain

import (
	"fmt"
	"slices"
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/outline"
	"gridferry/plan/wording"
)

// Subject is a thing in the plan or cell and the moves that depend on it.
type Subject struct {
	What  string // "the pitch of the grid \"tray\""; "" where a line is about nothing
	Does  string // a sentence about what it is for
	Rests func(*move.Move) bool
	Past  string // why a resumed job may leave it out: it was done before; "" where that is no reason

	path []string // to it in its file
}

// topic is one row of the table of things that a line can be about. A "*" in
// the path takes any name or number, which the row's own words may hold as %s.
type topic struct {
	path  []string
	what  string
	does  string
	rests func(c *cast, names []string) func(*move.Move) bool
}

// subjectAt is what a line of a file is about; false where it is about nothing.
func (c *cast) subjectAt(o *outline.Outline, topics []topic, line int) (Subject, bool) {
	item, ok := o.At(line)
	if !ok {
		return Subject{}, false
	}
	path := item.Path
	if len(path) > 0 && path[0] == "cell" && len(path) > 1 {
		topics, path = cellTopics(), path[1:]
	}
	return c.subject(topics, path)
}

// mostAliases is how many lines are looked at that share a value: every move is held to each of them.
const mostAliases = 100

// withAliases adds to a subject what shares its value: an alias further down
// stands for what is written here.
func (c *cast) withAliases(o *outline.Outline, topics []topic, line int, s Subject) Subject {
	own := s.Rests
	var others []func(*move.Move) bool
	lines := o.Aliases(line)
	more := len(lines) - mostAliases
	for _, n := range lines[:min(len(lines), mostAliases)] {
		other, ok := c.subjectAt(o, topics, n)
		if !ok {
			continue
		}
		s.Does += fmt.Sprintf(" The same value stands in line %d for %s: changed here, it changes there.", n, other.What)
		others = append(others, other.Rests)
	}
	if more > 0 {
		s.Does += fmt.Sprintf(" It stands in %s more, which this answer leaves out.", wording.Count(more, "line"))
	}
	if len(others) == 0 {
		return s
	}
	s.Rests = func(m *move.Move) bool {
		return own(m) || slices.ContainsFunc(others, func(rests func(*move.Move) bool) bool { return rests(m) })
	}
	return s
}

// subject is the topic that follows a path the furthest.
func (c *cast) subject(topics []topic, path []string) (Subject, bool) {
	best, names, found := topic{}, []string(nil), false
	for _, t := range topics {
		taken, ok := t.match(path)
		if ok && (!found || len(t.path) > len(best.path)) {
			best, names, found = t, taken, true
		}
	}
	if !found {
		return Subject{}, false
	}
	words := make([]any, len(names))
	for i, name := range names {
		words[i] = name
	}
	s := Subject{What: best.what, Does: best.does, Rests: best.rests(c, names), path: path}
	if len(names) > 0 {
		s.What = fmt.Sprintf(best.what, words...)
	}
	return s, true
}

// match reports whether the topic is what a path leads to or into, and the names
// that stand where it has a "*".
func (t topic) match(path []string) (names []string, ok bool) {
	if len(path) < len(t.path) {
		return nil, false
	}
	for i, key := range t.path {
		switch {
		case key == "*":
			names = append(names, path[i])
		case key != path[i]:
			return nil, false
		}
	}
	return names, true
}

type rests = func(c *cast, names []string) func(*move.Move) bool

// What moves can depend on, by what they are.

func none(*cast, []string) func(*move.Move) bool { return func(*move.Move) bool { return false } }
func all(*cast, []string) func(*move.Move) bool  { return func(*move.Move) bool { return true } }

func any1(test func(m *move.Move) bool) rests {
	return func(*cast, []string) func(*move.Move) bool { return test }
}

func roles(want ...move.Role) rests {
	return any1(func(m *move.Move) bool { return slices.Contains(want, m.Role) })
}

func atGrid(_ *cast, names []string) func(*move.Move) bool {
	return func(m *move.Move) bool { return m.Target.Grid == names[0] }
}

func withPart(c *cast, names []string) func(*move.Move) bool {
	return func(m *move.Move) bool { p := c.carried(m); return p != nil && p.Name == names[0] }
}

// loadOf is the selects whose load has a centre of gravity, and holds the part.
func loadOf(c *cast, names []string) func(*move.Move) bool {
	with := withPart(c, names)
	return func(m *move.Move) bool { return m.Kind == move.Select && m.Centre() != geom.Vec{} && with(m) }
}

func inFrame(c *cast, names []string) func(*move.Move) bool {
	return func(m *move.Move) bool { return c.inFrame(m, names[0]) }
}

func atPose(_ *cast, names []string) func(*move.Move) bool {
	return func(m *move.Move) bool { return m.Target.Grid == "" && m.Target.Pose == names[0] }
}

// withTool is those of a kind, or of any, that one tool makes.
func withTool(kinds ...move.Kind) rests {
	return func(_ *cast, names []string) func(*move.Move) bool {
		return func(m *move.Move) bool {
			return m.Tool == names[0] && (len(kinds) == 0 || slices.Contains(kinds, m.Kind))
		}
	}
}

// toolRoles is the roles that one tool's signal plays; a wait carries no tool.
func toolRoles(want ...move.Role) rests {
	return func(c *cast, names []string) func(*move.Move) bool {
		return func(m *move.Move) bool {
			return slices.Contains(want, m.Role) && c.l.FiguresOf(m).Tool.Name == names[0]
		}
	}
}

// ofEntry is the moves of an entry; names holds its number, from 1.
func ofEntry(c *cast, names []string) func(*move.Move) bool {
	want, _ := strconv.Atoi(names[0]) // the outline counts them
	return func(m *move.Move) bool { _, i := c.entry(m); return i == want-1 }
}

// atStop is the moves of an entry that work at one stop: the first or last one, or
// the one whose number is the second name.
func atStop(which func(stops int, names []string) int) rests {
	return func(c *cast, names []string) func(*move.Move) bool {
		of := ofEntry(c, names)
		return func(m *move.Move) bool {
			e, _ := c.entry(m)
			return of(m) && e.Listed == nil && m.Stop() == which(len(e.Stops), names)
		}
	}
}

func firstStop(int, []string) int        { return 0 }
func lastStop(stops int, _ []string) int { return stops - 1 }

func namedStop(_ int, names []string) int {
	n, _ := strconv.Atoi(names[1]) // the outline counts them
	return n - 1
}

// stepsOf is the steps that the plan writes out: all of begin or end, or the
// one whose number is the first name.
func stepsOf(end bool) rests {
	return func(c *cast, names []string) func(*move.Move) bool {
		steps := c.l.Begin
		if end {
			steps = c.l.End
		}
		var numbers map[diag.Place]int // once there is a move
		return func(m *move.Move) bool {
			if numbers == nil {
				numbers = c.numbersOf(steps)
			}
			n, found := numbers[m.Place]
			return found && m.Role == move.Asked && (len(names) == 0 || names[0] == strconv.Itoa(n))
		}
	}
}

// numbersOf is the numbers of steps, from 1, by where they are written; of those that an anchor
// shares, the first. There may be a hundred thousand. A step may be several moves.
func (c *cast) numbersOf(steps []layout.Step) map[diag.Place]int {
	if len(steps) == 0 {
		return map[diag.Place]int{}
	}
	if known, ok := c.numbers[&steps[0]]; ok {
		return known
	}
	numbers, n := make(map[diag.Place]int, len(steps)), 0
	for i, s := range steps {
		if i == 0 || s.Place != steps[i-1].Place {
			n++
		}
		if _, shared := numbers[s.Place]; !shared {
			numbers[s.Place] = n
		}
	}
	c.numbers[&steps[0]] = numbers
	return numbers
}

// listSteps is the steps behind each part of a worklist: all of them, or the one that the second name numbers.
func listSteps(c *cast, names []string) func(*move.Move) bool {
	of := ofEntry(c, names)
	return func(m *move.Move) bool {
		e, _ := c.entry(m)
		if m.Role != move.Asked || !of(m) || e.Listed == nil {
			return false
		}
		n, found := c.numbersOf(e.Leg(m).Put)[m.Place]
		return found && (len(names) < 2 || names[1] == strconv.Itoa(n))
	}
}

// stepsAt is the steps at a stop, before or behind what the arm does there, or of both: all
// of them, or the one that the third name numbers.
func stepsAt(which ...move.Role) rests {
	return func(c *cast, names []string) func(*move.Move) bool {
		of, stop := ofEntry(c, names), namedStop(0, names)
		return func(m *move.Move) bool {
			e, _ := c.entry(m)
			if !slices.Contains(which, m.Role) || !of(m) || e.Listed != nil || stop >= len(e.Stops) {
				return false
			}
			steps := e.Stops[stop].Then
			if m.Role == move.AskedBefore {
				steps = e.Stops[stop].Before
			}
			n, found := c.numbersOf(steps)[m.Place]
			return found && (len(names) < 3 || names[2] == strconv.Itoa(n))
		}
	}
}
