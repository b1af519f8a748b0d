package readback_test

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/templates"
)

const demos = "../../testdata/demo"

// job reads a plan of the corpus.
func job(t testing.TB, file string, settings ...plan.Setting) *gen.Job {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	j := new(gen.Job)
	if !j.Read(source, settings, layout.Options{Slots: layout.DefaultSlots}) {
		t.Fatalf("%s:\n%s", file, told(&j.Findings))
	}
	return j
}

func shipped(t testing.TB, name string) *family.Family {
	t.Helper()
	sub, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	return load(t, sub, name)
}

func load(t testing.TB, fsys fs.FS, name string) *family.Family {
	t.Helper()
	var list diag.List
	f, ok := family.Load(fsys, name, &list, nil)
	if !ok {
		t.Fatalf("family %s does not load:\n%s", name, told(&list))
	}
	return f
}

// told is a list of findings as one text, a line each.
func told(list *diag.List) string {
	var b strings.Builder
	for _, f := range list.Sorted() {
		b.WriteString(f.Place.String() + ": " + f.Message + " [" + f.Rule + "]\n")
	}
	return b.String()
}

// write gives the program; false where the family cannot write the plan.
func write(t testing.TB, j *gen.Job, f *family.Family) (string, bool) {
	t.Helper()
	var program bytes.Buffer
	if err := j.Write(&program, f); err != nil {
		t.Fatal(err)
	}
	return program.String(), !j.Findings.HasErrors()
}

// verify compares a program with its plan.
func verify(t testing.TB, j *gen.Job, f *family.Family, program string) *gen.Verdict {
	t.Helper()
	v, err := j.Verify(f, []gen.ProgramFile{{Name: "p", Text: strings.NewReader(program)}})
	if err != nil {
		t.Fatal(err)
	}
	if v == nil {
		t.Fatalf("no verdict:\n%s", told(&j.Findings))
	}
	return v
}

// words is a verdict as people read it.
func words(t testing.TB, v *gen.Verdict) string {
	t.Helper()
	var b bytes.Buffer
	if err := v.Print(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
