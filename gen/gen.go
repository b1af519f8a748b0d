// Package gen turns a plan into a program. Its functions are the flow:
//
//	cell.yaml ─┐
//	           ├─ Read ─ Resolve ─► Layout ── Expand ──► moves ─┬─ Check   findings
//	plan.yaml ─┘                                                ├─ Draw    a picture
//	                                                            ├─ Explain plan line ⇄ moves ⇄ program line
//	                                                            ├─ Write   program text
//	family folder ─ LoadFamily ─► Family ───────────────────────┘
package gen

import (
	"io"
	"io/fs"
	"path"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/expand"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/resume"
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

	digest string
	counts *move.Counts // of the run's moves, once somebody went through them
	run    Run
	start  expand.Start  // of the run
	state  *resume.State // before it; nil for a whole job
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

// Files are the names of all that was read for the job: files, and perhaps what is none,
// such as standard input or a setting.
func (j *Job) Files() []string {
	var names []string
	for name := range j.Sources.All() {
		names = append(names, name)
	}
	return names
}

// Check runs every rule over layout and moves, with more watchers beside them;
// false when one found an error.
func (j *Job) Check(more ...check.Watcher) bool {
	counts := new(counter)
	check.Run(j.Layout, j.Ahead(), &j.Findings, append(more, counts)...)
	j.counts = &counts.Counts
	return !j.Findings.HasErrors()
}

// counter counts along while the rules look.
type counter struct{ move.Counts }

func (c *counter) See(m *move.Move, _ *check.Scene) { c.Counts.See(m) }
func (*counter) Kinds() []move.Kind                 { return move.Kinds }
func (*counter) Done()                              {}

// Counts is what there is in the list.
func (j *Job) Counts() move.Counts {
	if j.counts == nil {
		counts := move.Count(j.Batches())
		j.counts = &counts
	}
	return *j.counts
}

// Draw makes a picture of layout and moves.
func (j *Job) Draw(w io.Writer, o draw.Options) error {
	o.Title = j.title()
	if j.state != nil {
		o.From = j.state.Transfer
	}
	return draw.SVG(w, j.Layout, j.Moves(), o)
}

// LoadFamily reads and lints a family's folder.
func (j *Job) LoadFamily(fsys fs.FS, name string) (*family.Family, bool) {
	return family.Load(fsys, name, &j.Findings, &j.Sources)
}

// head gathers what a program's head and tables need beside the moves.
func (j *Job) head() move.Job {
	l := j.Layout
	job := move.Job{
		Title: j.title(), Plan: path.Base(l.File), File: j.file(), Notices: j.notices(), Cell: l.Cell.Name.V, Place: l.Place, Version: Version,
		Acceleration: l.Cell.Machine.Acceleration.V, Speed: l.Cell.Machine.Speed.V,
		Counts: j.Counts(),
	}
	if l.Motion.Clear != nil {
		job.Clear = l.Motion.Clear.Name
	}
	job.Frames, job.Tools = j.frames(), j.tools()
	for i := range job.Frames {
		job.Frames[i].Used = job.Counts.UsesFrame(job.Frames[i].Number)
	}
	for i := range job.Tools {
		job.Tools[i].Used = job.Counts.UsesTool(job.Tools[i].Number)
	}
	return job
}

// headFor is head about the list as a family gets it.
func (j *Job) headFor(f *family.Family) move.Job {
	job := j.head()
	if j.onLines(f) {
		job.Counts = move.Count(j.batchesFor(f))
	}
	return job
}

// frames and tools are the tables of the whole cell.
func (j *Job) frames() []move.Frame {
	var frames []move.Frame
	for _, f := range j.Layout.Frames {
		frames = append(frames, move.Frame{Number: f.Number, Name: f.Name, Base: move.Point{Vec: f.Base.T, RPY: f.Base.R.RPY()}})
	}
	return frames
}

func (j *Job) tools() []move.Tool {
	var tools []move.Tool
	for _, t := range j.Layout.Tools {
		tools = append(tools, move.Tool{
			Number: t.Number, Name: t.Name, TCP: move.Point{Vec: t.TCP.T, RPY: t.TCP.R.RPY()},
			Mass: t.Mass, CentreOfGravity: t.CentreOfGravity,
		})
	}
	return tools
}
