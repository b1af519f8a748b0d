package gen

import (
	"io"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/margin"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/scene"
	"gridferry/gen/seal"
	"gridferry/gen/sheet"
	"gridferry/plan/diag"
)

// sheet checks the job and writes its job sheet, unless there is an error.
func (p *program) sheet(w io.Writer) (bool, error) {
	j, slots := p.job, check.NewSlots(p.job.Layout)
	watchers := []check.Watcher{slots}
	var margins *margin.Slots
	if j.Layout.Arm != nil {
		margins = margin.NewSlots(j.Layout)
		watchers = append(watchers, nearness{margins})
	}
	if !j.Check(watchers...) || !p.check() {
		return false, nil
	}
	warnings := warningsOf(j.Findings.Sorted())
	explained := p.explained()
	files, err := p.sealedFiles()
	if err != nil {
		return false, err
	}
	measured := j.measured(p.family)
	shown, err := scene.Of(j.shown(p.family, sheet.Bounds, measured), sheet.Bounds)
	if err != nil {
		return false, err
	}
	s := sheet.Job{
		Layout: j.Layout, Moves: move.Single(j.plain()), Counts: j.Counts(), Slots: slots, Time: measured, Scene: shown,
		Findings: warnings, Sources: &j.Sources, Title: explained.Title, Notices: p.head().Notices,
		Digest: j.digest, Version: Version, Family: p.family.Label, ToEnter: j.ToEnter(p.family), Parts: p.family.MostLines > 0, Files: files,
		Begin: j.Layout.Begin, FirstRun: j.run.ProveOut, Arm: draw.Options{}.StandsIn(j.Layout, j.Moves), Margins: margins,
	}
	if r := j.run.Resume; r != nil {
		s.Next, s.Removed, s.Added = r.Transfer, j.run.state.Removed, j.run.state.Added
		if !j.run.withoutParts() {
			s.Stand = j.run.state.SlotsFile()
		}
		if !r.Begin {
			s.Begin = nil
		}
	}
	if err := s.HTML(w); err != nil {
		return false, err
	}
	return !j.Findings.HasErrors(), nil
}

// sealedFiles is the program's files as "write" names them, and what their seals say of
// their bodies. What is wrong with them is found where the program is explained.
func (p *program) sealedFiles() ([]sheet.File, error) {
	var files []sheet.File
	stamp := p.stamp()
	create := func(name string) (io.WriteCloser, error) {
		return &unkept{seal.NewWriter(io.Discard, &p.family.Rules, stamp), func(body string) { files = append(files, sheet.File{Name: name, Body: body}) }}, nil
	}
	err := render.Files(create, p.roomForSeal(), p.head(), p.moves(), new(diag.List), render.Options{Loops: p.loops()})
	return files, err
}

// unkept is a file that is sealed and not kept.
type unkept struct {
	*seal.Writer
	sealed func(body string)
}

func (u *unkept) Close() error {
	err := u.Writer.Close()
	u.sealed(u.Body())
	return err
}

func warningsOf(all []diag.Finding) []diag.Finding {
	var out []diag.Finding
	for _, f := range all {
		if f.Severity == diag.Warning {
			out = append(out, f)
		}
	}
	return out
}
