package gen

import (
	"fmt"
	"path"
	"strings"

	"gridferry/gen/expand"
	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Run asks for a prove-out, a resumed job, or both; the zero value is the whole job.
type Run struct {
	ProveOut *proveout.Options // nil for none
	Resume   *resume.Request   // nil for the whole job
	Stops    bool              // an optional stop after each transfer, whatever the plan says
}

// run is a Run that a layout was prepared for; the zero value is the whole job.
type run struct {
	Run
	start expand.Start
	state *resume.State // what a resumed job begins with; nil for a whole job
}

// prepare changes a layout into that of a run. The list gets what keeps the run from
// being possible.
func prepare(asked Run, l *layout.Layout, list *diag.List) run {
	r := run{Run: asked}
	if asked.Resume != nil {
		r.state, r.start = resume.Prepare(l, *asked.Resume, list)
	}
	for _, f := range l.AllFigures() {
		if asked.Stops && f.StopPlace.IsZero() {
			f.StopPlace = f.Place
		}
	}
	if r.withoutParts() && asked.Resume != nil && asked.Resume.Holding {
		list.Errorf("prove-out-holding", l.Place, "a prove-out without parts cannot begin with one in the gripper").
			WithHint("put the part down by hand and resume at the next transfer, or run slowly with the gripper working (--gripper work --lift 0)")
	}
	if asked.ProveOut != nil {
		proveout.Warn(l, *asked.ProveOut, list)
	}
	if r.withoutParts() {
		emptyGrids(l)
	}
	return r
}

// emptyGrids takes every part out of the grids, as a run without parts asks people to.
func emptyGrids(l *layout.Layout) {
	for _, g := range l.Grids {
		g.Full = layout.NewSlots(g.Size())
	}
}

// withoutParts reports whether the run carries no part at any time.
func (r *run) withoutParts() bool { return r.ProveOut != nil && r.ProveOut.Empty() }

// linear reports whether a family gets straight moves in place of travels: in a prove-out,
// where its controller would choose the speed of a travel by itself.
func (r *run) linear(f *family.Family) bool { return r.ProveOut != nil && f.ChoosesTravelSpeed() }

// list is the moves of the run.
func (r *run) list(l *layout.Layout) move.Batches {
	start := r.start
	if start == (expand.Start{}) {
		start = expand.Whole
	}
	moves := expand.Batches(l, start)
	if r.ProveOut != nil {
		return move.Batched(proveout.Moves(move.Single(moves), *r.ProveOut, framesOf(l), toolsOf(l), awayIn(l)))
	}
	return moves
}

// earlier is the moves of the whole job that come before a resumed one.
func (r *run) earlier(l *layout.Layout) move.Seq {
	return func(yield func(move.Move) bool) {
		if r.Resume == nil {
			return
		}
		for m := range expand.Moves(l) {
			if m.Unit() >= r.Resume.Transfer || !yield(m) {
				return
			}
		}
	}
}

// awayIn is the directions in which a layout's moves leave the slots that they go to, in
// the grids' frames.
func awayIn(l *layout.Layout) func(*move.Move) geom.Vec {
	grids := map[string]*layout.Grid{}
	for _, g := range l.Grids {
		grids[g.Name] = g
	}
	return func(m *move.Move) geom.Vec { return l.FiguresOf(m).Away(grids[m.Target.Grid], m.Target.Slot) }
}

// name says which run this is: "a prove-out"; "" for the whole job.
func (r *run) name() string {
	switch {
	case r.ProveOut != nil && r.Resume != nil:
		return "a prove-out of a resumed job"
	case r.ProveOut != nil:
		return "a prove-out"
	case r.Resume != nil:
		return "a resumed job"
	}
	return ""
}

// title is the title of the run's programs.
func (r *run) title(l *layout.Layout) string {
	title, words := l.Title, r.words()
	if len(words) == 0 {
		return title
	}
	if strings.TrimSpace(title) == "" {
		title = wording.Stem(path.Base(l.File))
	}
	return title + ", " + strings.Join(words, ", ")
}

// file is the name that the run's programs are named after: a prove-out or a resumed
// job never replaces the program of the whole job.
func (r *run) file(l *layout.Layout) string {
	words := r.words()
	if len(words) == 0 {
		return path.Base(l.File)
	}
	name := wording.Stem(path.Base(l.File))
	for _, w := range words {
		name += "-" + strings.ReplaceAll(w, " ", "-")
	}
	return name
}

// words are added to titles and file names; none for the whole job.
func (r *run) words() []string {
	var words []string
	if r.ProveOut != nil {
		words = append(words, "prove-out")
	}
	if r.state != nil {
		word := fmt.Sprintf("from %d", r.state.Transfer)
		if r.state.Holding {
			word += " holding"
		}
		words = append(words, word)
	}
	return words
}

// before is how arm and gripper have to be found before the program starts.
func (r *run) before(l *layout.Layout) string {
	arm, gripper := "clear of everything", "gripper empty"
	if w := l.Figures(nil, nil).Start; w != nil {
		arm = "at " + w.Name
	}
	if l.Held != nil {
		gripper = fmt.Sprintf("gripper holding the part of transfer %d", r.state.Transfer)
	}
	if l.ChangesTools() {
		gripper = "tool " + l.ToolAt(max(r.start.Transfer, 1)).Whole() + " on the flange, " + gripper
	}
	return fmt.Sprintf("BEFORE THE START: arm %s, %s.", arm, gripper)
}

// notices are what the head of every program of the run says about its kind; none for the
// whole job. Lines says that every motion is a straight line.
func (r *run) notices(l *layout.Layout, lines bool) []string {
	var notices []string
	if r.ProveOut != nil {
		notices = append(notices, r.ProveOut.Notice(lines))
		if l.ChangesTools() {
			notices = append(notices, "CHANGES OF TOOL are made all the same, with their outputs and inputs.")
		}
	}
	if r.state != nil {
		notices = append(notices, r.state.Notice())
	}
	return notices
}
