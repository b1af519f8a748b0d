package outline_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/plan/diag"
	"gridferry/plan/outline"
)

func TestFolds(t *testing.T) {
	text := `# a plan
# of two lines
format: gridferry plan 1
grids:
  # the tray
  tray:
    frame: bath
    pitch: [1,
      2
    ]

  rack: {frame: bath}
transfers:
- from: tray
  to: rack
- chain: [tray, rack]
# the end
`
	want := []outline.Fold{{1, 2, true}, {4, 12, false}, {6, 10, false}, {8, 10, false}, {13, 16, false}, {14, 15, false}}
	if got := outline.Folds(diag.SplitLines(text)); !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// TestFoldsAreExtents: what is folded from a line on is what the outline says that belongs to it, in every demo file that is written in blocks.
func TestFoldsAreExtents(t *testing.T) {
	files, err := filepath.Glob("../../testdata/demo/*.yaml")
	if err != nil || len(files) < 20 {
		t.Fatal(files, err)
	}
	compared := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		o := outline.Of(file, string(data))
		for _, f := range outline.Folds(diag.SplitLines(string(data))) {
			extent := o.Extent(f.First)
			if f.Remarks || strings.HasPrefix(strings.TrimSpace(o.Line(f.Last)), "-") && len(extent) == 1 {
				continue
			}
			if compared++; f.Last != extent[len(extent)-1] {
				t.Errorf("%s: lines %d to %d, wanted %v", file, f.First, f.Last, extent)
			}
		}
	}
	if compared < 100 {
		t.Errorf("only %d folds", compared)
	}
}
