package scene

import (
	"iter"
	"path"

	"gridferry/gen/explain"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
	"gridferry/plan/diag"
)

// Job is what a scene is made of. It was resolved without an error; what the checks find in it a viewer may show.
type Job struct {
	Layout *layout.Layout
	Moves  move.Batches           // with the readings of joints that are to be shown
	Times  iter.Seq[timing.Timed] // of the same moves; nil for none
	Clock  string                 // the time of the whole job, in words
	Title  string
	Path   move.Path // of travels

	Family  string         // whose program lines are shown,
	Program explain.Tracer // by this; nil for none
	Sources *diag.Sources  // of which the lines are shown that moves rest on; nil for none
}

// Options bound a scene, and say how files are called.
type Options struct {
	Moves  int                      // the most moves, but for the rest of a transfer that was begun
	Slots  int                      // the most slots of one grid, and half the most of all; of a larger grid those are shown that moves work at
	Lines  int                      // the most lines of the program
	Joints bool                     // with the readings of joints, which take longer to work out than all else
	Texts  bool                     // with the lines of files that moves rest on
	Name   func(file string) string // nil for the name without folders
}

// builder makes a scene.
type builder struct {
	job    *Job
	o      Options
	scene  *Scene
	files  map[string]int32
	grids  map[string]int
	solids solids
	follow *layout.Follower
	used   map[string]map[int]bool // lines of files that moves rest on
}

// Of is the scene of a job. The error is that of the program's tracer.
func Of(j *Job, o Options) (*Scene, error) {
	b := &builder{
		job: j, o: o, files: map[string]int32{}, grids: map[string]int{}, used: map[string]map[int]bool{},
		scene:  &Scene{Title: j.Title, Clock: j.Clock, Files: []string{}},
		follow: j.Layout.Follow(),
	}
	b.solids = solids{known: map[*layout.Part]int{}, all: &b.scene.Solids}
	b.scene.Solids = []Solid{}
	b.cell()
	b.scene.Tools = toolsOf(j.Layout)
	b.arm()
	for i, g := range j.Layout.Grids {
		b.grids[g.Name] = i
	}
	b.moves()
	b.times()
	b.layOut()
	b.held()
	b.bounds()
	return b.scene, b.texts()
}

// place is where something is written, with its file numbered.
func (b *builder) place(at diag.Place) Place {
	i, known := b.files[at.File]
	if !known {
		i = int32(len(b.scene.Files))
		b.files[at.File] = i
		name := path.Base(at.File)
		if b.o.Name != nil {
			name = b.o.Name(at.File)
		}
		b.scene.Files = append(b.scene.Files, name)
	}
	return Place{i, int32(at.Line)}
}
