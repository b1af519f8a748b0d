//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"gridferry/golden/outside"
)

// TestCellThatIsNoFile: a cell beside the plan may be a way out of the folder,
// or something that never ends.
func TestCellThatIsNoFile(t *testing.T) {
	for name, make := range map[string]func(path string) error{
		"link out":    func(path string) error { return os.Symlink("/etc/passwd", path) },
		"link up":     func(path string) error { return os.Symlink("../cell.yaml", path) },
		"link device": func(path string) error { return os.Symlink("/dev/zero", path) },
		"link itself": func(path string) error { return os.Symlink("odd.cell.yaml", path) },
		"pipe":        func(path string) error { return syscall.Mkfifo(path, 0o600) },
		"folder":      func(path string) error { return os.Mkdir(path, 0o700) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := make(filepath.Join(dir, "odd.cell.yaml")); err != nil {
				outside.Missing(t, err)
			}
			text := hostilePlan("x", "", "", "  - {from: a A1, to: b A1}\n")
			begin, end := strings.Index(text, "cell:\n"), strings.Index(text, "parts:")
			plan := filepath.Join(dir, "odd.plan.yaml")
			if err := os.WriteFile(plan, []byte(text[:begin]+"cell: odd.cell.yaml\n"+text[end:]), 0o600); err != nil {
				t.Fatal(err)
			}
			wantFound(t, plan, "cell-unreadable")
		})
	}
}
