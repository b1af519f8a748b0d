package gen

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"sync"

	"gridferry/gen/check"
	"gridferry/gen/explain"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/live"
	"gridferry/gen/move"
	"gridferry/gen/overlay"
	"gridferry/gen/render"
	"gridferry/gen/scene"
	"gridferry/gen/timing"
	"gridferry/plan"
	"gridferry/plan/knob"
	"gridferry/plan/suggest"
	"gridferry/plan/wording"
	"gridferry/templates"
)

// Followed is how a plan is read each time that it is followed on the live page.
type Followed struct {
	Settings []plan.Setting
	Layout   layout.Options
	Family   string // whose program is shown first
}

// Live is what the stages do for the live page. The error is that of a family that cannot be opened.
func (o Followed) Live() (live.Flow, error) {
	flow := live.Flow{Read: func(source plan.Source) live.Job { return o.read(source) }, Suggest: suggested, Means: meant}
	names := []string{o.Family}
	for _, name := range templates.All() {
		if name != o.Family {
			names = append(names, name)
		}
	}
	for _, name := range names {
		j := new(Job)
		f, err := j.OpenFamily(name)
		if err == nil && j.Findings.HasErrors() {
			err = firstOf(&j.Findings)
		}
		if err != nil {
			return flow, err
		}
		flow.Families = append(flow.Families, live.Family{Name: name, Doc: f.Title, Extension: f.Extension})
	}
	return flow, nil
}

// followed is one version of a plan that is followed. What is asked about it later, and at the same time, reads it anew.
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
	if j.Layout != nil {
		w.Title = j.Layout.Title
	}
	if w.Drawable {
		f.whole(j, w)
	}
	w.Findings = j.Findings.Sorted()
	w.Knobs = knob.Of(j.Sources.All())
	return w
}

// whole is the work on a job that could be resolved.
func (f *followed) whole(j *Job, w *live.Work) {
	if j.Layout.Arm != nil {
		j.Batches() // chooses the readings of joints, before two passes ask for them at once
	}
	var drawn []byte
	var times *timing.Report
	var beside sync.WaitGroup
	beside.Go(func() {
		times = j.measured(nil)
		drawn = sceneOf(j, times)
	})
	sound := j.Check()
	beside.Wait()
	if sound {
		w.Scene = drawn
	}
	counts := j.Counts()
	w.Summary = fmt.Sprintf("%s, %s, %s", wording.Count(counts.Transfers, "transfer"), wording.Count(counts.Moves, "move"), times.Clock())
	w.NotLookedAt = check.NotLookedAt(j.Layout)
	w.Figures = figuresOf(times)
}

// What a scene on the live page holds at most: moves, and slots of one grid.
const (
	mostSceneMoves = 60_000
	mostSceneSlots = 75_000
)

// sceneOf is the scene of a job whose time was measured, as JSON.
func sceneOf(j *Job, times *timing.Report) []byte {
	var text bytes.Buffer
	o := scene.Options{Moves: mostSceneMoves, Slots: mostSceneSlots, Joints: true, Name: func(file string) string { return file }}
	_ = j.scene(&text, nil, o, times) // a buffer takes everything
	return text.Bytes()
}

// figuresOf is what is said of a job's time, in a few words each.
func figuresOf(r *timing.Report) []live.Figure {
	figures := []live.Figure{
		{Name: "time", Text: r.Clock()},
		{Name: "transfers", Text: fmt.Sprint(r.Transfers)},
		{Name: "moves", Text: fmt.Sprint(r.Moves)},
		{Name: "way of the tool", Text: fmt.Sprintf("%.1f m", r.Distance/1000)},
	}
	if r.Parts > 0 {
		figures = append(figures, live.Figure{Name: "parts", Text: fmt.Sprint(r.Parts)}, live.Figure{Name: "pace", Text: r.Rate()})
	}
	if limiting := r.Limiting(); limiting != "" {
		figures = append(figures, live.Figure{Name: "joints", Text: limiting})
	}
	for _, k := range r.Kinds {
		figures = append(figures, live.Figure{Name: k.Kind.String(), Text: fmt.Sprintf("%d, %s", k.Count, lasts(k))})
	}
	return figures
}

// lasts says how long all moves of a kind take.
func lasts(k timing.KindTime) string {
	if k.Kind == move.Await {
		return "as long as it takes"
	}
	return fmt.Sprintf("%.1f s", k.Seconds)
}

// Scene is the scene of a plan with errors.
func (f *followed) Scene(ctx context.Context) ([]byte, error) {
	j := f.again()
	if j.Findings.HasErrors() {
		return nil, nil
	}
	j.until(ctx)
	drawn := sceneOf(j, j.measured(nil))
	return drawn, ctx.Err()
}

// Program writes the program.
func (f *followed) Program(ctx context.Context, name string) (*live.Program, error) {
	const mostBytes = 64 << 20
	j, fam, err := f.with(ctx, name)
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	files := 0
	if !j.Findings.HasErrors() && j.Check() && j.CheckFor(fam) {
		create := func(string) (io.WriteCloser, error) {
			files++
			return keepOpen{&text}, nil
		}
		err = cmp.Or(j.WriteFiles(create, fam, render.Options{MostBytes: mostBytes}), ctx.Err())
	}
	return &live.Program{Text: text.Bytes(), Files: files, Findings: j.Findings.Sorted()}, err
}

// Lines are the program's lines of each move.
func (f *followed) Lines(ctx context.Context, name string) ([]int, error) {
	j, fam, err := f.with(ctx, name)
	if err != nil || j.Findings.HasErrors() {
		return nil, err
	}
	lines := make([]int, 2*min(j.Counts().Moves, 2*mostSceneMoves))
	err = explain.Join(j.program(fam).explained().Program, func(m move.Move, own []explain.Line) {
		if i := 2 * (m.N - 1); 0 <= i && i < len(lines) && len(own) > 0 {
			lines[i], lines[i+1] = own[0].N, own[len(own)-1].N
		}
	})
	if err == nil {
		err = ctx.Err()
	}
	return lines, err
}

// with is the job once more, and a family.
func (f *followed) with(ctx context.Context, name string) (*Job, *family.Family, error) {
	j := f.again()
	j.until(ctx)
	fam, err := j.OpenFamily(name)
	return j, fam, err
}

// Differences compares two plans as the command compare does.
func (f *followed) Differences(ctx context.Context, other live.Job) (live.Differences, error) {
	o, ours := other.(*followed)
	if !ours {
		return live.Differences{}, errors.New("the other plan is none of this flow's")
	}
	a, b := f.again(), o.again()
	if a.Findings.HasErrors() || b.Findings.HasErrors() {
		return live.Differences{}, errors.New("one of the plans has errors")
	}
	a.until(ctx)
	b.until(ctx)
	sides := Comparison{A: &Compared{Name: f.source.File, Job: a}, B: &Compared{Name: o.source.File, Job: b}}
	report, err := sides.Run()
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return live.Differences{}, err
	}
	return live.Differences{Summary: report.Summary(), Moves: report.Said(), Slots: overlay.Slots(a.Layout, b.Layout)}, nil
}

// suggested is what may be written at a place of a plan or of what it names.
func suggested(source plan.Source, file string, line, column int) []suggest.Suggestion {
	return suggest.Of(suggest.Files(source), file, line, column)
}

// meant is what a key means, or the key of a value.
func meant(source plan.Source, file string, line, column int) *suggest.Meaning {
	m, known := suggest.Means(suggest.Files(source), file, line, column)
	if !known {
		return nil
	}
	return &m
}

// Why says what a line means and which moves rest on it, or why a move or a line of the program is there.
func (f *followed) Why(ctx context.Context, q live.Question) (live.Answer, error) {
	asked := explain.Query{ProgramLine: max(q.ProgramLine, 0), Move: max(q.Move, 0)}
	var j *Job
	var fam *family.Family
	var err error
	if q.ProgramLine > 0 {
		j, fam, err = f.with(ctx, q.Family)
	} else {
		j = f.again()
		j.until(ctx)
	}
	if err != nil {
		return live.Answer{}, err
	}
	var a live.Answer
	if q.File != "" {
		if m, known := suggest.MeansLine(suggest.Files(f.source), q.File, q.Line); known {
			a.Lines = m.Said
		}
		asked = j.QueryOf(q.File, q.Line)
	}
	if j.Findings.HasErrors() || asked == (explain.Query{}) {
		a.Title = fmt.Sprintf("%s, line %d", q.File, q.Line)
		if a.Lines == nil {
			return a, errors.New("nothing is known of it")
		}
		return a, nil
	}
	title, lines, err := j.Why(fam, asked)
	if err == nil {
		err = ctx.Err()
	}
	return live.Answer{Title: title, Lines: append(a.Lines, lines...)}, err
}
