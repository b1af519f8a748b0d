package gen

import (
	"io"

	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/gen/scene"
	"gridferry/gen/timing"
)

// Scene writes what a viewer shows of the job: as the plan has it or, where a family is given, with its times and the
// lines of its program. The job was read without an error.
func (j *Job) Scene(w io.Writer, f *family.Family, o scene.Options) error {
	return j.scene(w, f, o, j.measured(f))
}

// scene is Scene, with what was measured for the same family.
func (j *Job) scene(w io.Writer, f *family.Family, o scene.Options, measured *timing.Report) error {
	s, err := scene.Of(j.shown(f, o, measured), o)
	if err != nil {
		return err
	}
	return s.Write(w)
}

// shown is what the scene is made of.
func (j *Job) shown(f *family.Family, o scene.Options, measured *timing.Report) *scene.Job {
	of := &scene.Job{Layout: j.Layout, Moves: j.plain(), Times: j.times(f), Title: j.run.title(j.Layout), Clock: measured.Clock()}
	if o.Joints {
		of.Moves = j.Batches()
	}
	if o.Texts {
		of.Sources = &j.Sources
	}
	if f != nil {
		p := j.program(f)
		of.Path = f.TravelPath
		if p.linear() {
			of.Path = move.LinePath
		}
		of.Family, of.Program = f.Label, p.explained().Program
	}
	return of
}
