package resume

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
	"gridferry/plan/wording"
)

// Request is the resumed job that somebody asks for.
type Request struct {
	Transfer int         // the first one of the rest
	Holding  bool        // its part is in the gripper
	Begin    bool        // do the steps of "begin" again
	Found    *plan.Found // what stands where; nil for what the plan leaves there
}

// Prepare changes the layout of a whole job to the state at its transfer
// q.Transfer: what the grids and the gripper hold. Errors (the resumed job is not
// possible) and warnings are added to list. Without an error the result is the state
// that the resumed job begins with, and where its list of moves begins.
func Prepare(l *layout.Layout, q Request, list *diag.List) (*State, expand.Start) {
	start := expand.Start{Transfer: q.Transfer, Begin: q.Begin}
	if n := l.Transfers(); q.Transfer < 1 || q.Transfer > n {
		list.Errorf("no-such-transfer", l.Place, "the job has %d transfers, and none with the number %d", n, q.Transfer).
			WithHint("\"gridferry moves\" lists them with their numbers")
		return nil, start
	}
	if !startsGroup(l, &q, list) {
		return nil, start
	}
	s := Before(l, q.Transfer, q.Holding)
	if q.Found != nil {
		var found diag.List
		s.hold(l, q.Found, &found)
		if list.AddAll(&found); found.HasErrors() {
			return s, start // which says what has to be otherwise
		}
	}
	s.report(&q, l, list)
	s.settle(l)
	return s, start
}

// startsGroup holds a request to the first transfer of those that are carried at once.
func startsGroup(l *layout.Layout, q *Request, list *diag.List) bool {
	e, _ := l.EntryOf(q.Transfer)
	first, last := e.Group(q.Transfer)
	switch {
	case first != q.Transfer:
		list.Errorf("resume-in-group", e.Place, "transfer %d is one of those from %d to %d, whose parts are carried at once", q.Transfer, first, last).
			WithHint("%s", orBehind(fmt.Sprintf("put back by hand what was taken of them already, and resume with --from %d", first), last, l))
	case q.Holding && last > first:
		list.Errorf("resume-in-group", e.Place, "the parts of the transfers from %d to %d are carried at once, so the job cannot begin with one of them in the gripper", first, last).
			WithHint("put back by hand what the tool holds, and resume without --holding")
	default:
		return true
	}
	return false
}

// orBehind adds to advice where a job is resumed when a group is done, unless that was the last.
func orBehind(advice string, last int, l *layout.Layout) string {
	if last == l.Transfers() {
		return advice
	}
	return fmt.Sprintf("%s; or, with all of them done, with --from %d", advice, last+1)
}

// settle makes the state that of the layout.
func (s *State) settle(l *layout.Layout) {
	for i := range s.Grids {
		g := &s.Grids[i]
		g.Grid.Full, g.Grid.Holds, g.Grid.Lies = g.Full, g.Holds, g.Lies
		if s.ids != nil {
			s.ids.Keep(g.Grid)
		}
		if g.FullPlace.IsZero() {
			g.FullPlace = s.Place
		}
		if s.Holding && g.Name == s.From.Grid {
			l.Held = &layout.Held{By: l.ToolAt(s.Transfer), ID: s.ID, Part: s.Part, Grid: g.Grid, Slot: s.From.Slot}
		}
	}
}

// report warns of what needs attention before the resumed job may run.
func (s *State) report(q *Request, l *layout.Layout, list *diag.List) {
	list.Warnf("resume-state", s.Place, "transfer %d of %d is next: %s", s.Transfer, s.Transfers, s.Next()).
		WithHint("look before it runs; \"gridferry check --from %d%s --slots\" draws what has to stand where", s.Transfer, s.holdingFlag())
	if i := slices.IndexFunc(l.Begin, func(s layout.Step) bool { return does(s.Kind) }); i >= 0 && !q.Begin {
		list.Warnf("resume-steps", l.Begin[i].Place, "the steps of \"begin\" are not done again").
			WithHint("--begin does them again")
	}
	if len(s.Outputs) > 0 {
		list.Warnf("resume-outputs", s.Outputs[0].Place, "the resumed job begins with %s, as the steps before it leave the outputs", s.outputs()).
			WithHint("look before it runs, and set by hand what is otherwise: no step sets it before the start")
	}
	if q.Holding && !s.taken.IsZero() {
		list.Warnf("resume-steps", s.taken, "the steps behind the taking of transfer %d's part are left out", s.Transfer).
			WithHint("do by hand what was not done before the stop")
	}
	if !s.put.IsZero() {
		list.Warnf("resume-steps", s.put, "the steps behind transfer %d are taken as done", s.Transfer-1).
			WithHint("do by hand what was not done before the stop")
	}
}

// does reports whether a step does anything but inform and move the arm.
func does(step move.Kind) bool { return step != move.Note && !step.IsMotion() }

func (s *State) holdingFlag() string {
	if s.Holding {
		return " --holding"
	}
	return ""
}

// Next says in one line where the part of the next transfer is and where it goes, and
// what was found against that.
func (s *State) Next() string {
	by, but := s.against()
	what := by + "its part"
	switch {
	case s.Part != nil && s.ID != nil:
		what += fmt.Sprintf(", the %q %s,", s.Part.Name, *s.ID)
	case s.Part != nil:
		what += fmt.Sprintf(", a %q,", s.Part.Name)
	}
	if s.Holding {
		return fmt.Sprintf("%s is in the gripper, taken from %q, and %q is free%s", what, s.From, s.To, but)
	}
	return fmt.Sprintf("%s stands in %q, the gripper is empty, and %q is free%s", what, s.From, s.To, but)
}

// against is what was found to differ at the two slots, and the words before what the
// plan says of them; both "" where nothing differs.
func (s *State) against() (by, but string) {
	var words []string
	if !s.Holding && !s.full(s.From) {
		words = append(words, fmt.Sprintf("%q is empty", s.From))
	}
	if s.full(s.To) {
		words = append(words, fmt.Sprintf("%q is full", s.To))
	}
	if words == nil {
		return "", ""
	}
	return "by the plan ", ", but " + strings.Join(words, " and ")
}

// full reports whether a part stands in a slot.
func (s *State) full(at move.Target) bool {
	i := slices.IndexFunc(s.Grids, func(g Grid) bool { return g.Name == at.Grid })
	return i >= 0 && s.Grids[i].Full.Has(s.Grids[i].Index(at.Slot))
}

// outputs lists the outputs: "output 3 on, output 5 off".
func (s *State) outputs() string {
	words := make([]string, len(s.Outputs))
	for i, o := range s.Outputs {
		words[i] = fmt.Sprintf("output %d %s", o.Number, wording.Level(o.Level))
	}
	return strings.Join(words, ", ")
}

// Notice is what the head of every program of a resumed job says.
func (s *State) Notice() string {
	gripper := "The gripper opens first and has to be empty."
	if s.Holding {
		gripper = "The gripper holds that transfer's part."
	}
	return fmt.Sprintf("RESUMED: begins with transfer %d of %d. %s Before it starts: every slot as the stop left it.",
		s.Transfer, s.Transfers, gripper)
}

// notice is Notice with whatever characters a family's comments have in place of others.
var notice = lazy.Regexp(`(?i)\bRESUMED\W+begins with transfer ([0-9]+) of [0-9]+\W+The gripper (opens|holds)\b`)

// ReadNotice finds in the comments of a program, one blank between words, what Notice
// wrote there; false where it wrote nothing.
func ReadNotice(remarks string) (Request, bool) {
	m := notice().FindStringSubmatch(remarks)
	if m == nil {
		return Request{}, false
	}
	n, err := strconv.Atoi(m[1])
	return Request{Transfer: n, Holding: strings.EqualFold(m[2], "holds")}, err == nil
}
