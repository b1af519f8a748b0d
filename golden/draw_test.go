package golden

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// drawn are the pictures that are kept: the arguments behind each file's name.
var drawn = map[string][]string{
	"mortar-cubes.svg":            {"mortar-cubes.plan.yaml"},
	"mortar-cubes-transfer-7.svg": {"mortar-cubes.plan.yaml", "--transfer", "7"},
	"mortar-cubes-tray.svg":       {"mortar-cubes.plan.yaml", "--transfer", "7", "--grid", "tray", "--scheme", "dark"},
	"cartons-after-7-dark.svg":    {"cartons.plan.yaml", "--after", "7", "--scheme", "dark"},
	"odd-grids-tower.svg":         {"odd-grids.plan.yaml", "--grid", "tower"},
}

// TestDraw holds a few pictures to those that were looked at and recorded.
func TestDraw(t *testing.T) {
	recorded := absolute(t, "draw")
	t.Chdir(demoFolder)
	hold(t, recorded, func() files {
		out := files{}
		for name, args := range drawn {
			out[name] = mustRun(t, append([]string{"draw", "-o", "-"}, args...)...)
		}
		return out
	})
}

// TestDrawWritesAFile writes through the batch of files: a picture whole, or
// nothing and a reason.
func TestDrawWritesAFile(t *testing.T) {
	t.Chdir(demoFolder)
	file := filepath.Join(t.TempDir(), "new", "tray.svg")
	mustRun(t, "draw", "mortar-cubes.plan.yaml", "--grid", "tray", "-o", file)
	data, err := os.ReadFile(file)
	if err != nil || !strings.HasSuffix(string(data), "</svg>\n") {
		t.Errorf("%v, %d bytes", err, len(data))
	}
	none := filepath.Join(t.TempDir(), "none.svg")
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"mortar-cubes.plan.yaml", "--grid", "trai"}, 2, `did you mean "tray"?`},
		{[]string{"mortar-cubes.plan.yaml", "--transfer", "47"}, 2, "the plan makes 46"},
		{[]string{"mortar-cubes.plan.yaml", "--after", "-1"}, 2, "the plan makes 46"},
		{[]string{"mortar-cubes.plan.yaml", "--scheme", "grey"}, 2, "wanted one of auto, light, dark"},
		{[]string{"mortar-cubes.plan.yaml", "--set", "transfers.1.chain.1=trai"}, 1, `there is no grid "trai"`},
	} {
		r := run(append([]string{"draw", "-o", none}, c.args...)...)
		if _, err := os.Stat(none); err == nil || r.status != c.status || !strings.Contains(r.stderr, c.says) {
			t.Errorf("%v: status %d, %q, wanted %d and %q, and no file", c.args, r.status, r.stderr, c.status, c.says)
		}
	}
	if r := run("draw", "mortar-cubes.plan.yaml"); r.status != 2 {
		t.Errorf("without -o: status %d, wanted 2", r.status)
	}
}
