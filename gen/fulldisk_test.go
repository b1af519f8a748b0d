package gen_test

import (
	"errors"
	"io"
	"io/fs"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/render"
	"gridferry/gen/summary"
	"gridferry/plan"
	"gridferry/templates"
)

var errFull = errors.New("no room")

// fullDisk is a file that takes so many bytes and then no more; it may keep that to
// itself until it is closed, as a buffered file does.
type fullDisk struct {
	left int
	late bool
}

func (d *fullDisk) Write(b []byte) (int, error) {
	n := min(len(b), d.left)
	if d.left -= n; n < len(b) && !d.late {
		return n, errFull
	}
	return len(b), nil
}

func (d *fullDisk) Close() error {
	if d.late && d.left == 0 {
		return errFull
	}
	return nil
}

func shipped(t *testing.T, name string) *family.Family {
	t.Helper()
	fsys, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	var j gen.Job
	f, ok := j.LoadFamily(fsys, name)
	if !ok {
		t.Fatal(errorsOf(&j))
	}
	return f
}

// TestFullDiskIsNoFaultOfThePlan cuts programs off by a disk that is full, wherever:
// the error is the disk's, and no finding says that the program ends too early.
func TestFullDiskIsNoFaultOfThePlan(t *testing.T) {
	for _, name := range templates.All() {
		f := shipped(t, name)
		for _, disk := range []fullDisk{{0, false}, {1, false}, {300, false}, {900, false}, {300, true}} {
			into, single := disk, disk
			j := jobOf(t, runPlan)
			err := j.WriteFiles(func(string) (io.WriteCloser, error) { return &into, nil }, f, render.Options{})
			if !errors.Is(err, errFull) || j.Findings.HasErrors() {
				t.Errorf("%s, %+v: error %v, findings %s", name, disk, err, errorsOf(j))
			}
			if disk.late {
				continue // Write is given no file to close
			}
			if err := j.Write(&single, f); !errors.Is(err, errFull) || j.Findings.HasErrors() {
				t.Errorf("%s, %+v in one text: error %v, findings %s", name, disk, err, errorsOf(j))
			}
		}
	}
}

// TestVariantsOnAFullDisk: what could not be written is not refused, and a variant
// with errors still is.
func TestVariantsOnAFullDisk(t *testing.T) {
	f := shipped(t, "st")
	v := gen.Variation{
		Source: plan.Source{File: "run.plan.yaml", Data: []byte(runPlan), Dir: "."},
		Variants: []plan.Variant{
			{Name: "full"},
			{Name: "wrong", Settings: []plan.Setting{{Path: "motion.approch", Value: "50"}}},
			{Name: "fits"},
		},
		Write: func(j *gen.Job, v *plan.Variant) (gen.Programs, error) {
			disk := &fullDisk{left: 300}
			if v.Name == "fits" {
				disk.left = 1 << 20
			}
			err := j.WriteFiles(func(string) (io.WriteCloser, error) { return disk, nil }, f, render.Options{})
			return gen.Programs{Lines: []int{1}, Changed: true}, err
		},
		Done: func(int) {},
	}
	all := v.Run()
	for i, want := range []summary.State{summary.NotWritten, summary.Refused, summary.Written} {
		got := &all[i]
		if got.Row.State != want || errors.Is(got.Err, errFull) != (want == summary.NotWritten) || (got.Row.Errors > 0) != (want == summary.Refused) || (got.Row.Lines != nil) != (want == summary.Written) {
			t.Errorf("%s: %+v, error %v, findings %v", got.Variant.Name, got.Row, got.Err, got.Findings)
		}
	}
}
