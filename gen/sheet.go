package gen

import (
	"io"

	"gridferry/gen/check"
	"gridferry/gen/sheet"
	"gridferry/plan/diag"
)

// sheet checks the job and writes its job sheet, unless there is an error.
func (p *program) sheet(w io.Writer) (bool, error) {
	j, slots := p.job, check.NewSlots(p.job.Layout)
	if !j.Check(slots) || !p.check() {
		return false, nil
	}
	warnings := warningsOf(j.Findings.Sorted())
	explained := p.explained()
	s := sheet.Job{
		Layout: j.Layout, Moves: j.Moves(), Counts: j.Counts(), Slots: slots, Time: j.measured(),
		Findings: warnings, Sources: &j.Sources, Title: explained.Title, Notices: j.run.notices(),
		Digest: j.digest, Version: Version, Family: p.family.Label, Parts: p.family.MostLines > 0, Program: explained.Program,
		Begin: j.Layout.Begin, FirstRun: j.run.ProveOut,
	}
	if r := j.run.Resume; r != nil {
		s.Next = r.Transfer
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

func warningsOf(all []diag.Finding) []diag.Finding {
	var out []diag.Finding
	for _, f := range all {
		if f.Severity == diag.Warning {
			out = append(out, f)
		}
	}
	return out
}
