package gen

import (
	"fmt"
	"path"
	"runtime"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/family"
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

// Prepare turns the job into a run of it: from here on its layout, its moves, its
// checks and its programs are those of the run. False when that cannot be.
func (j *Job) Prepare(r Run) bool {
	j.run, j.counts = r, nil
	if r.Resume != nil {
		j.state, j.start = resume.Prepare(j.Layout, *r.Resume, &j.Findings)
	}
	if r.Stops && j.Layout.Motion.StopPlace.IsZero() {
		j.Layout.Motion.StopPlace = j.Layout.Motion.Place
	}
	if o := r.ProveOut; o != nil && o.Empty() && r.Resume != nil && r.Resume.Holding {
		j.Findings.Errorf("prove-out-holding", j.Layout.Place, "a first run without parts cannot begin with one in the jaw").
			WithHint("put the part down by hand and begin with the next transfer, or run slowly with the gripper at work (--gripper work --lift 0)")
	}
	if r.ProveOut != nil {
		proveout.Warn(j.Layout, *r.ProveOut, &j.Findings)
		if r.ProveOut.Empty() {
			j.empty()
		}
	}
	return !j.Findings.HasErrors()
}

// empty takes every part out of the grids: a run that carries none asks for that,
// and no rule about what stands where has anything to say about it.
func (j *Job) empty() {
	for _, g := range j.Layout.Grids {
		g.Full = layout.NewSlots(g.Size())
	}
}

// OtherRun is which run this is where it is not the whole job as it is planned, in
// words such as "a first run"; "" for the whole job.
func (j *Job) OtherRun() string {
	first, rest := j.run.ProveOut != nil, j.run.Resume != nil
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

// State is what has to stand where before the run begins; nil for a whole job.
func (j *Job) State() *resume.State { return j.state }

// Moves is the list, made anew on every pass.
func (j *Job) Moves() move.Seq { return move.Single(j.Batches()) }

// Batches is the same list in pieces.
func (j *Job) Batches() move.Batches { return j.watched(j.listed(expand.Batches)) }

// Ahead is the same pieces, made on another core while those before are looked at.
func (j *Job) Ahead() move.Batches {
	if runtime.GOMAXPROCS(0) == 1 {
		return j.Batches()
	}
	return j.watched(j.listed(expand.Ahead))
}

func (j *Job) watched(moves move.Batches) move.Batches {
	if j.Watch != nil {
		return j.Watch(moves)
	}
	return moves
}

// listed is the list of the run, made in one of the ways of package expand.
func (j *Job) listed(by func(*layout.Layout, expand.Start) move.Batches) move.Batches {
	start := j.start
	if start == (expand.Start{}) {
		start = expand.Whole
	}
	moves := by(j.Layout, start)
	if o := j.run.ProveOut; o != nil {
		frames, tools := j.frames(), j.tools()
		return move.Batched(proveout.Moves(move.Single(moves), *o, frames, tools))
	}
	return moves
}

// batchesFor is the list as a family gets it: in a first run a controller that
// chooses the speed of its travels is given straight lines instead.
func (j *Job) batchesFor(f *family.Family) move.Batches {
	if j.onLines(f) {
		return move.Batched(proveout.Lines(j.Moves()))
	}
	return j.Batches()
}

// onLines tells whether the family's list is another one: that of a first run whose
// travels are straight lines.
func (j *Job) onLines(f *family.Family) bool {
	return j.run.ProveOut != nil && f.ChoosesTravelSpeed()
}

// CheckFor holds what a family makes of the list to the rules, where that is
// another list than the one that Check looked at: what goes wrong on straight
// lines only, on top of what is known.
func (j *Job) CheckFor(f *family.Family) bool {
	if !j.onLines(f) {
		return !j.Findings.HasErrors()
	}
	known := map[string]bool{}
	for _, old := range j.Findings.Sorted() {
		known[old.Rule+old.Place.String()] = true
	}
	var found, news diag.List
	check.Run(j.Layout, j.batchesFor(f), &found)
	for _, n := range found.Sorted() {
		if n.Severity == diag.Error && !known[n.Rule+n.Place.String()] {
			news.Errorf(n.Rule, n.Place, "%s", n.Message).Notes = n.Notes
		}
	}
	if news.Len() > 0 {
		j.Findings.Errorf("travel-on-a-line", j.Layout.Motion.Place, "in a first run %q goes its travels on straight lines, and not all of these can be gone", f.Label).
			WithHint("its travels are rapids at the controller's own speed; put the clear pose where straight lines lead to every grid")
	}
	j.Findings.AddAll(&news)
	return !j.Findings.HasErrors()
}

// title is what programs are called, with what kind of run it is.
func (j *Job) title() string {
	title, words := j.Layout.Title, j.words()
	if len(words) == 0 {
		return title
	}
	if strings.TrimSpace(title) == "" {
		title = stem(j.Layout.File)
	}
	return title + ", " + strings.Join(words, ", ")
}

// file is what programs are named after, so that a first run or a rest never
// takes the place of the whole job's program.
func (j *Job) file() string {
	words := j.words()
	if len(words) == 0 {
		return path.Base(j.Layout.File)
	}
	name := stem(j.Layout.File)
	for _, w := range words {
		name += "-" + strings.ReplaceAll(w, " ", "-")
	}
	return name
}

func (j *Job) words() []string {
	var words []string
	if j.run.ProveOut != nil {
		words = append(words, "prove-out")
	}
	if s := j.state; s != nil {
		word := fmt.Sprintf("from %d", s.Transfer)
		if s.Holding {
			word += " holding"
		}
		words = append(words, word)
	}
	return words
}

// notices is what the head of every program of the run says.
func (j *Job) notices() []string {
	var notices []string
	if o := j.run.ProveOut; o != nil {
		notices = append(notices, o.Notice())
	}
	if j.state != nil {
		notices = append(notices, j.state.Notice())
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
