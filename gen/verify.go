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
	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/gen/verify"
)

// Verdict is the result of comparing a program with a plan.
type Verdict struct {
	*verify.Report
	Files []Sealed
	// AsText: the family has no readings, so lines were compared as text, without
	// comments.
	AsText bool

	planned    move.Counts // what "check" counts
	controller []atController
}

// Same reports whether nothing differs, and the controller has what the program counts on
// and ends lines where they end here.
func (v *Verdict) Same() bool {
	return v.Report.Same() && changedEntries(v.controller) == 0 && !v.otherEnds()
}

// otherEnds reports whether a file has line ends that are not the family's.
func (v *Verdict) otherEnds() bool {
	return slices.ContainsFunc(v.Files, func(f Sealed) bool { return f.OtherEnd.Line > 0 })
}

// Sealed is what the seal of one file shows.
type Sealed struct {
	Name string
	seal.Inspection
	Possible             bool // the family's comments can carry a seal
	PlanSame, FamilySame bool // as they are now
}

// verify compares a program with the one that would be written now.
func (p *program) verify(files []ProgramFile) (*Verdict, error) {
	j, f := p.job, p.family
	v := &Verdict{AsText: !f.Reads.Has()}
	c := verify.Comparison{Reads: &f.Reads, Moves: p.moves()}
	for _, file := range inOrder(f, j.run.file(j.Layout), files) {
		if err := headFits(&j.run.Run, &f.Rules, file.Name, file.Text); err != nil {
			return nil, err
		}
		in, err := inspect(file, &f.Rules, p.stamp())
		if err != nil {
			return nil, err
		}
		v.Files = append(v.Files, in)
		c.Program = append(c.Program, verify.Text{Name: file.Name, Reader: file.Text, SealFirst: in.First, SealLast: in.Last})
	}
	var seals []seal.Entered
	for _, in := range v.Files {
		if in.State != seal.None {
			seals = append(seals, in.Seal.Entered)
		}
	}
	v.controller = besideSeals(p.entered(), seals...)
	head := p.head()
	c.Job, v.planned = &head, head.Counts
	proof := &proof{findings: &j.Findings, rules: &f.Rules}
	c.Write = func(w io.Writer, next func()) error {
		return render.Files(func(string) (io.WriteCloser, error) { next(); return keepOpen{w}, nil },
			p.roomForSeal(), head, p.moves(), &proof.written, render.Options{Loops: p.loops()})
	}
	report, err := c.Run(&proof.read)
	if unread := (*reads.UnreadError)(nil); errors.As(err, &unread) {
		return nil, fmt.Errorf("%s: %w", namesOf(files), err)
	}
	if err = proof.done(err); err != nil || proof.written.HasErrors() || proof.read.HasErrors() {
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

// inspect looks at a file's seal and goes back to its start; now is the stamp that the
// program would get now.
func inspect(file ProgramFile, rules *rules.Rules, now seal.Stamp) (Sealed, error) {
	in, err := inspectNamed(file.Name, file.Text, rules)
	if err != nil {
		return Sealed{}, err
	}
	_, err = file.Text.Seek(0, io.SeekStart)
	return Sealed{
		Name: file.Name, Inspection: in, Possible: seal.Fits(rules),
		PlanSame: in.Seal.Plan == now.Plan, FamilySame: in.Seal.Family == now.Family,
	}, err
}

// inOrder sorts the files of a program by the order of their moves; the main file, which
// calls the others, comes last.
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
