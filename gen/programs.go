package gen

import (
	"slices"

	"gridferry/gen/family"
	"gridferry/gen/out"
	"gridferry/templates"
)

// Families are the families that a command names, opened.
type Families struct {
	All   []*family.Family
	asked []string
}

// FamilyNames replaces "all" by the names of all shipped families.
func FamilyNames(asked []string) []string {
	var names []string
	for _, name := range asked {
		if name == "all" {
			names = append(names, templates.All()...)
		} else {
			names = append(names, name)
		}
	}
	return names
}

// OpenFamilies opens families by name or folder. Errors inside them are among the job's
// findings.
func (j *Job) OpenFamilies(asked []string) (Families, error) {
	families := Families{asked: asked}
	for _, name := range FamilyNames(asked) {
		f, err := j.OpenFamily(name)
		if err != nil {
			return families, err
		}
		families.All = append(families.All, f)
	}
	return families, nil
}

// leavesOut reports whether a family cannot write the run and was only meant by "all".
func (a *Families) leavesOut(f *family.Family, r *run) bool {
	return f.Loops && r.name() != "" && !slices.Contains(a.asked, f.Label)
}

// Programs checks the job and prepares its programs; most is a bound on the bytes of each.
// If there are errors among the findings, the delivery must not be finished.
func (j *Job) Programs(families Families, o Output, most int64) (*Delivery, error) {
	d := o.delivery(out.WasRead(j.Sources.Names()...))
	if j.Findings.HasErrors() || !j.Check() {
		return d, nil
	}
	for _, f := range families.All {
		if families.leavesOut(f, &j.run) {
			d.Skipped = append(d.Skipped, "left out "+f.Label+": it writes the loops of a whole job, and this is "+j.run.name())
			continue
		}
		if !j.CheckFor(f) {
			break
		}
		if err := d.program(j, f, d.create, most); err != nil {
			return d, err
		}
	}
	return d, nil
}
