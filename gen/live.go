package gen

import (
	"bytes"
	"context"
	"fmt"
	"sync"

	"gridferry/gen/check"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/live"
	"gridferry/gen/move"
	"gridferry/gen/timing"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
	"gridferry/templates"
)

// Followed is how a plan is read each time that it is followed on the live page.
type Followed struct {
	Settings []plan.Setting
	Layout   layout.Options
	Family   string // whose program is shown
}

// Live is what the stages do for the live page. The error is that of a family that cannot be opened.
func (o Followed) Live() (live.Flow, error) {
	names := []string{o.Family}
	for _, name := range templates.All() {
		if name != o.Family {
			names = append(names, name)
		}
	}
	flow := live.Flow{Read: func(source plan.Source) live.Job { return o.read(source) }}
	for _, name := range names {
		j := new(Job)
		f, err := j.OpenFamily(name)
		if err == nil && j.Findings.HasErrors() {
			err = firstOf(&j.Findings)
		}
		if err != nil {
			return flow, err
		}
		flow.Families = append(flow.Families, live.Family{Name: name, Loops: f.Loops})
	}
	return flow, nil
}

// followed is one version of a plan that is followed. What asks about it later, and at the same time, reads it anew.
type followed struct {
	how    *Followed
	source plan.Source
	job    *Job // for Work alone
}

func (o *Followed) read(source plan.Source) *followed {
	f := &followed{how: o, source: source}
	f.job = f.again()
	return f
}

// again is the same job from the beginning.
func (f *followed) again() *Job {
	j := new(Job)
	j.Read(f.source, f.how.Settings, f.how.Layout)
	return j
}

// until has every pass over the job's moves end when ctx is done.
func (j *Job) until(ctx context.Context) {
	j.Watch = func(moves move.Batches) move.Batches {
		return func(yield func([]move.Move) bool) {
			for piece := range moves {
				if ctx.Err() != nil || !yield(piece) {
					return
				}
			}
		}
	}
}

// Work checks the job, and makes its scene meanwhile.
func (f *followed) Work(ctx context.Context) *live.Work {
	j := f.job
	j.until(ctx)
	w := &live.Work{Sources: &j.Sources, Drawable: !j.Findings.HasErrors()}
	if w.Drawable {
		f.work(w)
	}
	w.Findings = j.Findings.Sorted()
	return w
}

func (f *followed) work(w *live.Work) {
	j := f.job
	if j.Layout.Arm != nil {
		j.Batches() // so that the readings of joints are chosen before two passes ask for them
	}
	var scene []byte
	var report *timing.Report
	var beside sync.WaitGroup
	beside.Go(func() {
		report = j.measured(nil)
		scene = f.scene(j)
	})
	sound := j.Check()
	beside.Wait()
	w.Summary = fmt.Sprintf("%s, %s, %s", wording.Count(j.Counts().Transfers, "transfer"), wording.Count(j.Counts().Moves, "move"), report.Clock())
	w.NotLookedAt = check.NotLookedAt(j.Layout)
	w.Figures = figuresOf(report)
	if sound {
		w.Scene = scene
	}
}

// figuresOf is what is said of a job in a few words each.
func figuresOf(r *timing.Report) []live.Figure {
	return []live.Figure{
		{Name: "time", Text: r.Clock()},
		{Name: "transfers", Text: fmt.Sprint(r.Transfers)},
	}
}

func (f *followed) scene(*Job) []byte { return []byte("{}") }

// Scene is the scene of a plan with errors.
func (f *followed) Scene(ctx context.Context) ([]byte, error) {
	j := f.again()
	if j.Findings.HasErrors() {
		return nil, nil
	}
	j.until(ctx)
	scene := f.scene(j)
	return scene, ctx.Err()
}

// mostProgram is the most bytes of a program that the page shows.
const mostProgram = 64 << 20

// Program writes the program.
func (f *followed) Program(ctx context.Context, name string) ([]byte, []diag.Finding, error) {
	j, fam, err := f.with(ctx, name)
	if err != nil || j.Findings.HasErrors() || !j.Check() || !j.CheckFor(fam) {
		return nil, j.Findings.Sorted(), err
	}
	var text bytes.Buffer
	err = j.Write(&text, fam)
	if err == nil {
		err = ctx.Err()
	}
	return text.Bytes(), j.Findings.Sorted(), err
}

// with is the job once more, and a family.
func (f *followed) with(ctx context.Context, name string) (*Job, *family.Family, error) {
	j := f.again()
	j.until(ctx)
	fam, err := j.OpenFamily(name)
	return j, fam, err
}

// Why says what rests on a line, or what a line rests on.
func (f *followed) Why(context.Context, live.Question) (live.Answer, error) {
	return live.Answer{Lines: []string{}}, nil
}
