package gen

import (
	"io"

	"gridferry/gen/check"
	"gridferry/gen/family"
	"gridferry/gen/sheet"
	"gridferry/plan/diag"
)

// Sheet checks the job and writes its job sheet, with the program's lines in a
// family's words. While there is an error it writes nothing and gives false; the
// findings tell why. The error is one of w.
func (j *Job) Sheet(w io.Writer, f *family.Family) (bool, error) {
	slots := check.NewSlots(j.Layout)
	if !j.Check(slots) || !j.CheckFor(f) {
		return false, nil
	}
	told := j.Findings.Sorted()
	explained := j.explained(f)
	s := sheet.Job{
		Layout: j.Layout, Moves: j.Moves(), Counts: j.Counts(), Slots: slots, Time: j.measured(),
		Findings: warnings(told), Sources: &j.Sources, Title: j.title(), Notices: j.notices(),
		Digest: j.Digest(), Version: Version, Family: f.Label, Parts: f.MostLines > 0, Program: explained.Program,
		Begin: j.Layout.Begin, FirstRun: j.run.ProveOut,
	}
	if r := j.run.Resume; r != nil {
		s.Next = r.Transfer
		if o := j.run.ProveOut; o == nil || !o.Empty() {
			s.Stand = j.state.SlotsFile()
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

// warnings are the findings of that level.
func warnings(all []diag.Finding) []diag.Finding {
	var out []diag.Finding
	for _, f := range all {
		if f.Severity == diag.Warning {
			out = append(out, f)
		}
	}
	return out
}
