package golden

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// editorSaid is a line of what Neovim says of its session: what was done, and what came.
type editorSaid struct {
	What string
	Came []string
}

// TestNeovim: Neovim (Debian's package neovim), which shares no code with the project and keeps to the protocol by itself, opens a
// demo, gets its findings, completes the name of a frame, and formats the plan.
func TestNeovim(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"mortar-cubes.plan.yaml", "bench.cell.yaml"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(readText(t, filepath.Join("..", "testdata", "demo", name))), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	file := filepath.Join(folder, "said")
	for name, value := range map[string]string{
		asCommand: "1", "GRIDFERRY_COMMAND": os.Args[0], "GRIDFERRY_PLAN": filepath.Join(folder, "mortar-cubes.plan.yaml"), "GRIDFERRY_SAID": file,
		"HOME": folder, "XDG_STATE_HOME": folder, "XDG_CACHE_HOME": folder, // where it keeps its log
	} {
		t.Setenv(name, value)
	}
	outside.Run(t, "neovim", nil, "nvim", "--headless", "--clean", "-n", "-S", filepath.Join("editor", "nvim.lua"))
	var all []editorSaid
	for line := range strings.Lines(readText(t, file)) {
		var one editorSaid
		if err := json.Unmarshal([]byte(line), &one); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		t.Logf("%s:\n  %s", one.What, strings.Join(one.Came, "\n  "))
		all = append(all, one)
	}
	for what, came := range map[string]string{
		" is cut to ":     "[unknown-name]",
		" is taken":       "bath",
		"the line is now": "frame: bath",
		" means is asked": "grids.tray.frame: ",
		" is formatted":   "\n\n\n    rows: 4",
		"asked to stop":   "",
	} {
		if i := slices.IndexFunc(all, func(s editorSaid) bool { return strings.Contains(s.What, what) }); i < 0 || !strings.Contains(strings.Join(all[i].Came, "\n"), came) {
			t.Errorf("%q: wanted %q", what, came)
		}
	}
}
