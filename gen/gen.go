// Package gen turns a plan into a program. Its functions are the flow:
//
//	cell.yaml ─┐
//	           ├─ Read ─ Resolve ─► Layout ── Expand ──► moves ─┬─ Check   findings
//	plan.yaml ─┘                                                ├─ Draw    a picture
//	                                                            ├─ Explain plan line ⇄ moves ⇄ program line
//	                                                            ├─ Write   program text
//	family folder ─ LoadFamily ─► Family ───────────────────────┘
//
// A Job is a plan in this flow. Its run (run.go) makes it a prove-out or a resumed job,
// its program (program.go) is its text in one family.
package gen

import (
	"io"
	"io/fs"
	"runtime"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/explain"
	"gridferry/gen/family"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/manifest"
	"gridferry/gen/move"
	"gridferry/gen/remedy"
	"gridferry/gen/render"
	"gridferry/gen/timing"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Version is written into every program.
const Version = "0.1.0"

// Job is one plan on its way to a program.
type Job struct {
	Layout   *layout.Layout
	Findings diag.List    // errors and warnings of every stage
	Sources  diag.Sources // the text of every file that was read

	// Watch, if set, wraps every pass over the moves, to show the progress of long work.
	Watch func(move.Batches) move.Batches
	// OneCore says that other jobs are worked on beside this one, which leaves them the other cores. Without it a variant of a
	// small plan leaves 1.3 times the garbage, and its goroutines wait for each other.
	OneCore bool

	written *plan.Plan
	options layout.Options
	digest  string // of all that was read for the plan
	run     run
	counts  *move.Counts   // of the run's moves, once they were counted
	joints  *joints.Choice // for the run's motions, once it was made; nil as long as it was not, or without an arm
}

// Read takes a plan and its cell from text to a layout: read, then resolve. It is false
// if there are errors.
func (j *Job) Read(source plan.Source, settings []plan.Setting, o layout.Options) bool {
	written := plan.Read(source, settings, &j.Findings, &j.Sources)
	j.digest = digestOf(&j.Sources)
	if written == nil {
		return false
	}
	j.written, j.options = written, o
	j.Layout = layout.Resolve(written, o, &j.Findings)
	return !j.Findings.HasErrors()
}

// ReadBench takes a cell from text to a layout of frames, tools, poses and the arm: the cell of a file of its own, or of
// a plan, whatever else that says. It is false if there are errors.
func (j *Job) ReadBench(source plan.Source) bool {
	if written := plan.ReadCell(source, &j.Findings, &j.Sources); written != nil {
		j.Layout = layout.Bench(written, &j.Findings)
	}
	return !j.Findings.HasErrors()
}

// LoadFamily reads and lints a family's folder.
func (j *Job) LoadFamily(fsys fs.FS, name string) (*family.Family, bool) {
	return family.Load(fsys, name, &j.Findings, &j.Sources)
}

// Prepare turns the job into a prove-out or a resumed job, for all later stages. It is
// false if there are errors.
func (j *Job) Prepare(asked Run) bool {
	j.run, j.counts, j.joints = prepare(asked, j.Layout, &j.Findings), nil, nil
	return !j.Findings.HasErrors()
}

// Moves is the list of moves, made anew on every pass.
func (j *Job) Moves() move.Seq { return move.Single(j.Batches()) }

// Batches is the same list in batches.
func (j *Job) Batches() move.Batches {
	return j.watched(j.withJoints(j.run.list(j.Layout)))
}

// cores is how many cores the job is worked on with.
func (j *Job) cores() int {
	if j.OneCore {
		return 1
	}
	return runtime.GOMAXPROCS(0)
}

// plain is the same batches without readings of joints, for whoever does not look at them: working them
// out costs many times what the list does.
func (j *Job) plain() move.Batches { return j.watched(j.run.list(j.Layout)) }

// watched lets whoever watches see a pass over moves go by.
func (j *Job) watched(moves move.Batches) move.Batches {
	if j.Watch != nil {
		return j.Watch(moves)
	}
	return moves
}

// withJoints gives every motion the readings of the arm's joints, if the cell says what the arm is.
func (j *Job) withJoints(moves move.Batches) move.Batches {
	if j.Layout.Arm == nil {
		return moves
	}
	if j.joints == nil {
		j.joints = joints.Choose(j.Layout, moves)
	}
	return j.joints.Fill(moves)
}

// JointCount is how many joints the arm has; 0 where the cell does not say what it is.
func (j *Job) JointCount() int { return len(jointsOf(j.Layout)) }

// Counts says how many moves of each kind there are.
func (j *Job) Counts() move.Counts {
	if j.counts == nil {
		counts := move.Count(j.plain())
		j.counts = &counts
	}
	return *j.counts
}

// Check runs every rule over layout and moves, and more watchers beside them. It is
// false if there are errors.
func (j *Job) Check(more ...check.Watcher) bool {
	j.runRules(&j.Findings, more...)
	return !j.Findings.HasErrors()
}

// runRules runs every rule, and counts the moves meanwhile. Where there are errors in a whole job, it is looked for what would
// rid the plan of them.
func (j *Job) runRules(found *diag.List, more ...check.Watcher) {
	counts, whole := new(counter), j.run.name() == ""
	run := check.Run
	if whole {
		run = check.Seek
	}
	blocked := run(j.Layout, j.Batches(), found, append(more, counts)...)
	j.counts = &counts.Counts
	if found.HasErrors() && whole {
		remedy.Propose(&remedy.Trial{Plan: j.written, Layout: j.Layout, Moves: j.Batches(), Findings: found, Blocked: blocked}, j.trial)
	}
}

// trial is a changed plan, resolved and checked.
func (j *Job) trial(changed *plan.Plan) *remedy.Trial {
	t := Job{Watch: j.Watch}
	t.Layout = layout.Resolve(changed, j.options, &t.Findings)
	tried := &remedy.Trial{Plan: changed, Layout: t.Layout, Findings: &t.Findings}
	if !t.Findings.HasErrors() {
		tried.Moves = t.Batches()
		tried.Blocked = check.Run(t.Layout, t.Batches(), &t.Findings)
	}
	return tried
}

// Prove is Check for commands whose answer rests on a plan that works: what the rules find is kept
// only where there is an error. It is false then, or if there is one already.
func (j *Job) Prove() bool {
	var found diag.List
	if j.Findings.HasErrors() {
		return false
	}
	j.runRules(&found)
	if found.HasErrors() {
		j.Findings.AddAll(&found)
	}
	return !found.HasErrors()
}

// CheckFor runs the rules over the list that a family gets, where that differs from the
// one that Check looked at.
func (j *Job) CheckFor(f *family.Family) bool { return j.program(f).check() }

// Write is WriteFiles for one text: of several files, one behind the other.
func (j *Job) Write(w io.Writer, f *family.Family) error {
	return j.WriteFiles(func(string) (io.WriteCloser, error) { return keepOpen{w}, nil }, f, render.Options{})
}

// WriteFiles writes the program, sealed, and reads it back meanwhile: create opens its files by
// names without folders. If there are errors among the findings, the files must not be used.
func (j *Job) WriteFiles(create render.Create, f *family.Family, o render.Options) error {
	return j.program(f).writeFiles(create, o)
}

// Draw draws layout and moves as an SVG picture.
func (j *Job) Draw(w io.Writer, o draw.Options) error {
	o.Title = j.run.title(j.Layout)
	if s := j.run.state; s != nil {
		o.From = s.Transfer
	}
	if p := j.run.ProveOut; p != nil {
		o.Run, o.Empty = p.Brief(), p.Empty()
	}
	o.Stands = o.StandsIn(j.Layout, j.Moves)
	return draw.SVG(w, j.Layout, move.Single(j.plain()), o)
}

// Explain answers a question about lines of plan, cell and program. A program of several
// files is explained as one text.
func (j *Job) Explain(f *family.Family, q explain.Query) (*explain.Report, error) {
	return explain.Explain(j.program(f).explained(), q)
}

// ExplainJSON writes which lines each move depends on, as data.
func (j *Job) ExplainJSON(w io.Writer, f *family.Family, q explain.Query) error {
	return explain.JSON(w, j.program(f).explained(), q)
}

// Sheet checks the job and writes its job sheet, with the program lines of a family. It
// is false, and nothing is written, if there are errors among the findings.
func (j *Job) Sheet(w io.Writer, f *family.Family) (bool, error) { return j.program(f).sheet(w) }

// Time estimates how long the job takes, and what changing one thing would add to that:
// as the plan has it or, where a family is given, as the family writes it.
func (j *Job) Time(f *family.Family) *timing.Report {
	return withChanges(j.measured(f), j.Layout, j.pace(f))
}

// TimeCSV writes the time of every transfer as data.
func (j *Job) TimeCSV(w io.Writer, f *family.Family) error {
	p := j.pace(f)
	return timing.WriteCSV(w, j.paced(p), p.machine(j.Layout))
}

// Manifest says which part ends where, and when: with the times of the plan or, where a family
// is given, of its program.
func (j *Job) Manifest(f *family.Family) *manifest.Manifest {
	p := j.pace(f)
	return manifest.Of(j.Layout, j.run.earlier(j.Layout), timing.Times(j.paced(p), p.machine(j.Layout)))
}

// Verify compares a program with the one that would be written now. There is no verdict
// if there are errors among the findings. A program of another run gives a HeadError, and
// a text in which no line reads as a move an error that names its files.
func (j *Job) Verify(f *family.Family, files []ProgramFile) (*Verdict, error) {
	return j.program(f).verify(files)
}

// Try writes the plan with a family that need not be finished. With every, kinds of moves
// that the family cannot write are left out without a finding.
func (j *Job) Try(f *family.Family, every bool) (Trial, error) { return j.program(f).try(every) }

// LeftBehind says which parts stay where they are although the plan moves their grid, a
// line each. Only a whole job is asked: any other run begins or ends elsewhere.
func (j *Job) LeftBehind() []string {
	if j.run.name() != "" {
		return nil
	}
	return partsBehind(j.Layout)
}
