package gen

import (
	"errors"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/readback"
	"gridferry/gen/render"
	"gridferry/gen/seal"
)

// ProgramFile is one file of a program from elsewhere.
type ProgramFile struct {
	Name string
	Text io.ReadSeeker
}

// Verdict is what comparing a program with a plan found.
type Verdict struct {
	*readback.Report
	Files []Sealed
	// AsText tells that the family does not say how its lines read: then they are
	// compared line by line, without their remarks.
	AsText bool
}

// Sealed is what the seal of one file shows.
type Sealed struct {
	Name string
	seal.Inspection
	Possible             bool // the family's comments can carry a seal
	PlanSame, FamilySame bool // as they are now
}

// Verify compares a program with what the plan gives through a family. What keeps
// the plan from being written is in Findings, and then there is no verdict. The error
// is a HeadError for the program of another run, and one that names the files for a
// text in which nothing reads as a move of the family.
func (j *Job) Verify(f *family.Family, files []ProgramFile) (*Verdict, error) {
	v := &Verdict{AsText: !f.Reads.Has()}
	c := readback.Comparison{Family: f, Moves: j.batchesFor(f)}
	for _, file := range inOrder(f, j.file(), files) {
		if err := j.headFits(f, file.Name, file.Text); err != nil {
			return nil, err
		}
		in, err := j.inspect(f, file)
		if err != nil {
			return nil, err
		}
		v.Files = append(v.Files, in)
		c.Program = append(c.Program, readback.Text{Name: file.Name, Reader: file.Text, SealFirst: in.First, SealLast: in.Last})
	}
	job := j.headFor(f)
	c.Job = &job
	p := &proof{job: j, rules: &f.Rules}
	c.Write = func(w io.Writer, next func()) error {
		return render.Files(func(string) (io.WriteCloser, error) { next(); return keepOpen{w}, nil },
			p.roomForSeal(f), job, j.batchesFor(f), &p.written, render.Options{Loops: j.loops(f)})
	}
	report, err := c.Run(&p.read)
	if unread := (*readback.UnreadError)(nil); errors.As(err, &unread) {
		return nil, fmt.Errorf("%s: %w", namesOf(files), err)
	}
	if err = p.done(err); err != nil || p.written.HasErrors() || p.read.HasErrors() {
		return nil, err
	}
	v.Report = report
	return v, nil
}

// namesOf lists the files of a program.
func namesOf(files []ProgramFile) string {
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = f.Name
	}
	return strings.Join(names, ", ")
}

// inspect looks at a file's seal and goes back to its start.
func (j *Job) inspect(f *family.Family, file ProgramFile) (Sealed, error) {
	in, err := seal.Inspect(file.Text, &f.Rules)
	if err != nil {
		return Sealed{}, err
	}
	now := j.stamp(f)
	_, err = file.Text.Seek(0, io.SeekStart)
	return Sealed{
		Name: file.Name, Inspection: in, Possible: seal.Fits(&f.Rules),
		PlanSame: in.Seal.Plan == now.Plan, FamilySame: in.Seal.Family == now.Family,
	}, err
}

// inOrder puts the files of a program in several files in the order in which
// their moves are made; the main text, which calls the others, comes last.
func inOrder(f *family.Family, plan string, files []ProgramFile) []ProgramFile {
	rank := func(file ProgramFile) int {
		name := path.Base(filepath.ToSlash(file.Name))
		for k := 1; k <= len(files); k++ {
			if name == f.PartStem(plan, k)+f.Extension {
				return k
			}
		}
		if name == f.Stem(plan)+f.Extension {
			return len(files) + 1
		}
		return 0
	}
	files = slices.Clone(files)
	slices.SortStableFunc(files, func(a, b ProgramFile) int { return rank(a) - rank(b) })
	return files
}
