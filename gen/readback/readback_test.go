package readback_test

import (
	"bytes"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/readback"
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
	var list diag.List
	f, ok := family.Load(sub, name, &list, nil)
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

// TestShippedFamiliesReadBack holds every program of every demo plan to the
// move list.
func TestShippedFamiliesReadBack(t *testing.T) {
	plans, err := filepath.Glob(filepath.Join(demos, "*.plan.yaml"))
	if err != nil || len(plans) < 6 {
		t.Fatalf("there are %d demo plans (%v)", len(plans), err)
	}
	read := 0
	for _, name := range templates.Names() {
		f := shipped(t, name)
		for _, file := range plans {
			t.Run(name+"/"+filepath.Base(file), func(t *testing.T) {
				j := job(t, file)
				var program bytes.Buffer
				if err := j.Write(&program, f); err != nil {
					t.Fatal(err)
				}
				for _, found := range j.Findings.Sorted() {
					if strings.HasPrefix(found.Rule, "read-back") || found.Rule == readback.RuleUnread || found.Rule == readback.RuleNone {
						t.Error(told(&j.Findings))
					}
				}
				if j.Findings.HasErrors() {
					t.Skip("the family cannot write this plan; golden holds why")
				}
				read++
			})
		}
	}
	if read < 18 {
		t.Errorf("%d programs were read back, wanted 18 or more", read)
	}
}
