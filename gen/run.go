package gen

import (
	"fmt"
	"path"
	"strings"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan/diag"
)

// Run is how a job is run where it is not run as a whole and at its own speed.
type Run struct {
	ProveOut *proveout.Options // a first run; nil for none
	Resume   *resume.Request   // the rest after a stop; nil for all
	Stops    bool              // an optional stop after each transfer, asked for or not
}

// run is a Run that a layout was made ready for; the zero value is the whole job.
type run struct {
	Run
	start expand.Start
	state *resume.State // before it; nil for a whole job
}

// prepare makes a layout that of a run of it. Findings tell where that cannot be.
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
	if r.carriesNone() && asked.Resume != nil && asked.Resume.Holding {
		list.Errorf("prove-out-holding", l.Place, "a first run without parts cannot begin with one in the jaw").
			WithHint("put the part down by hand and begin with the next transfer, or run slowly with the gripper at work (--gripper work --lift 0)")
	}
	if asked.ProveOut != nil {
		proveout.Warn(l, *asked.ProveOut, list)
	}
	if r.carriesNone() {
		takeOut(l)
	}
	return r
}

// takeOut takes every part out of the grids: a run that carries none asks for that,
// and no rule about what stands where has anything to say about it.
func takeOut(l *layout.Layout) {
	for _, g := range l.Grids {
		g.Full = layout.NewSlots(g.Size())
	}
}

// carriesNone tells whether no part is in the jaw from beginning to end.
func (r *run) carriesNone() bool { return r.ProveOut != nil && r.ProveOut.Empty() }

// expander is one of the ways in which package expand makes a list.
type expander func(*layout.Layout, expand.Start) move.Batches

// list is the moves of the run.
func (r *run) list(l *layout.Layout, by expander) move.Batches {
	start := r.start
	if start == (expand.Start{}) {
		start = expand.Whole
	}
	moves := by(l, start)
	if r.ProveOut != nil {
		return move.Batched(proveout.Moves(move.Single(moves), *r.ProveOut, framesOf(l), toolsOf(l)))
	}
	return moves
}

// name is which run this is where it is not the whole job as it is planned, in words
// such as "a first run"; "" for the whole job.
func (r *run) name() string {
	first, rest := r.ProveOut != nil, r.Resume != nil
	switch {
	case first && rest:
		return "a first run of the rest of one"
	case first:
		return "a first run"
	case rest:
		return "the rest of one"
	}
	return ""
}

// title is what programs are called, with what kind of run it is.
func (r *run) title(l *layout.Layout) string {
	title, words := l.Title, r.words()
	if len(words) == 0 {
		return title
	}
	if strings.TrimSpace(title) == "" {
		title = stem(l.File)
	}
	return title + ", " + strings.Join(words, ", ")
}

// file is what programs are named after, so that a first run or a rest never
// takes the place of the whole job's program.
func (r *run) file(l *layout.Layout) string {
	words := r.words()
	if len(words) == 0 {
		return path.Base(l.File)
	}
	name := stem(l.File)
	for _, w := range words {
		name += "-" + strings.ReplaceAll(w, " ", "-")
	}
	return name
}

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

// notices is what the head of every program of the run says.
func (r *run) notices() []string {
	var notices []string
	if r.ProveOut != nil {
		notices = append(notices, r.ProveOut.Notice())
	}
	if r.state != nil {
		notices = append(notices, r.state.Notice())
	}
	return notices
}

// stem is a plan's file name without its folders and endings.
func stem(file string) string {
	if file == "<stdin>" {
		return "plan"
	}
	name := path.Base(file)
	for _, end := range []string{".yaml", ".yml", ".json", ".plan"} {
		name = strings.TrimSuffix(name, end)
	}
	return name
}
