// Package gen turns a plan into a program. Its functions are the flow:
//
//	cell.yaml ─┐
//	           ├─ Read ─ Resolve ─► Layout ── Expand ──► moves ─┬─ Check   findings
//	plan.yaml ─┘                                                ├─ Draw    a picture
//	                                                            ├─ Explain plan line ⇄ moves ⇄ program line
//	                                                            ├─ Write   program text
//	family folder ─ LoadFamily ─► Family ───────────────────────┘
//
// A Job is a plan on this way, a run (run.go) how it is run, a program (program.go)
// the job on its way through one family.
package gen

import (
	"io"
	"io/fs"
	"runtime"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/expand"
	"gridferry/gen/explain"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/order"
	"gridferry/gen/render"
	"gridferry/gen/timing"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Version is written into every program.
const Version = "0.1.0"

// Job is one plan on its way to a program. Findings collects what is wrong
// with it, Sources the text of every file it was read from.
type Job struct {
	Layout   *layout.Layout
	Findings diag.List
	Sources  diag.Sources

	// Watch, where it is set, is put around every pass over the moves, and so sees
	// how far long work has come.
	Watch func(move.Batches) move.Batches

	digest string // of all that was read for the plan
	run    run
	counts *move.Counts // of the run's moves, once somebody went through them
}

// Read takes a plan and the cell it names from text to a layout: decode, then
// resolve. Findings hold everything that is wrong; false when that is too much
// for a move list.
func (j *Job) Read(source plan.Source, settings []plan.Setting, o layout.Options) bool {
	written := plan.Read(source, settings, &j.Findings, &j.Sources)
	j.digest = digestOf(&j.Sources)
	if written == nil {
		return false
	}
	j.Layout = layout.Resolve(written, o, &j.Findings)
	return !j.Findings.HasErrors()
}

// LoadFamily reads and lints a family's folder.
func (j *Job) LoadFamily(fsys fs.FS, name string) (*family.Family, bool) {
	return family.Load(fsys, name, &j.Findings, &j.Sources)
}

// Prepare turns the job into a run of it: from here on its layout, its moves, its
// checks and its programs are those of the run. False when that cannot be.
func (j *Job) Prepare(asked Run) bool {
	j.run, j.counts = prepare(asked, j.Layout, &j.Findings), nil
	return !j.Findings.HasErrors()
}

// Moves is the list, made anew on every pass.
func (j *Job) Moves() move.Seq { return move.Single(j.Batches()) }

// Batches is the same list in pieces.
func (j *Job) Batches() move.Batches { return j.watched(expand.Batches) }

// Ahead is the same pieces, made on another core while those before are looked at.
func (j *Job) Ahead() move.Batches {
	if runtime.GOMAXPROCS(0) == 1 {
		return j.Batches()
	}
	return j.watched(expand.Ahead)
}

func (j *Job) watched(by expander) move.Batches {
	moves := j.run.list(j.Layout, by)
	if j.Watch != nil {
		return j.Watch(moves)
	}
	return moves
}

// Counts is what there is in the list.
func (j *Job) Counts() move.Counts {
	if j.counts == nil {
		counts := move.Count(j.Batches())
		j.counts = &counts
	}
	return *j.counts
}

// Check runs every rule over layout and moves, with more watchers beside them;
// false when one found an error.
func (j *Job) Check(more ...check.Watcher) bool {
	counts := new(counter)
	check.Run(j.Layout, j.Ahead(), &j.Findings, append(more, counts)...)
	j.counts = &counts.Counts
	return !j.Findings.HasErrors()
}

// CheckFor holds what a family makes of the list to the rules, where that is another
// list than the one that Check looked at.
func (j *Job) CheckFor(f *family.Family) bool { return j.through(f).check() }

// Write renders the moves through a family into one text, sealed, and reads it
// back on the way. Findings tell what the family cannot say and what does not
// read back; then the text is not to be used.
func (j *Job) Write(w io.Writer, f *family.Family) error { return j.through(f).write(w) }

// WriteFiles is Write for a family that may want several files: create opens
// them by names without folders. Options bound the output and watch it grow.
func (j *Job) WriteFiles(create render.Create, f *family.Family, o render.Options) error {
	return j.through(f).writeFiles(create, o)
}

// Draw makes a picture of layout and moves.
func (j *Job) Draw(w io.Writer, o draw.Options) error {
	o.Title = j.run.title(j.Layout)
	if s := j.run.state; s != nil {
		o.From = s.Transfer
	}
	return draw.SVG(w, j.Layout, j.Moves(), o)
}

// Explain answers a question about the lines of plan and program, with repeats
// folded. A program that would be cut into several files is explained as one text.
func (j *Job) Explain(f *family.Family, q explain.Query) (*explain.Report, error) {
	return explain.Explain(j.through(f).explained(), q)
}

// ExplainJSON writes what rests on what, move by move, as data.
func (j *Job) ExplainJSON(w io.Writer, f *family.Family, q explain.Query) error {
	return explain.JSON(w, j.through(f).explained(), q)
}

// Sheet checks the job and writes its job sheet, with the program's lines in a
// family's words. While there is an error it writes nothing and gives false; the
// findings tell why. The error is one of w.
func (j *Job) Sheet(w io.Writer, f *family.Family) (bool, error) { return j.through(f).sheet(w) }

// Time estimates how long the job takes, and what changing one thing would do
// to that.
func (j *Job) Time() *timing.Report { return withChanges(j.measured(), j.Layout, &j.run) }

// TimeCSV writes the time of every transfer as data.
func (j *Job) TimeCSV(w io.Writer) error {
	return timing.WriteCSV(w, j.Batches(), clockOf(j.Layout))
}

// Order proposes a shorter order for the transfers, with what it saves.
func (j *Job) Order() *order.Proposal { return proposed(j.Layout, j.Batches()) }

// Verify compares a program with what the plan gives through a family. What keeps
// the plan from being written is in Findings, and then there is no verdict. The error
// is a HeadError for the program of another run, and one that names the files for a
// text in which nothing reads as a move of the family.
func (j *Job) Verify(f *family.Family, files []ProgramFile) (*Verdict, error) {
	return j.through(f).verify(files)
}

// Try renders the plan through a family that may not be finished. With every,
// kinds of moves that the family cannot write are left out in silence.
func (j *Job) Try(f *family.Family, every bool) (Trial, error) { return j.through(f).try(every) }

// Remarks is what is no finding and still worth a line of its own beside a job without
// errors. There are none of another run than the whole job, which begins or ends
// elsewhere.
func (j *Job) Remarks() []string {
	if j.run.name() != "" {
		return nil
	}
	return partsBehind(j.Layout)
}
