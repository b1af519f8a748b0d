package golden

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	skips      = regexp.MustCompile(`\.Skip(?:f|Now)?\(`)
	shortSkips = regexp.MustCompile(`testing\.Short\(\).*\{\n\s*t\.Skip\("skipped, as -short asks: `)
)

// TestNothingSkipsQuietly: a test skips where -short asks for it, and otherwise for want of
// something, through package outside, which fails it where nothing may be missing.
func TestNothingSkipsQuietly(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("..", func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == "node_modules" || entry.Name() == ".git" || filepath.Base(file) == "outside") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(file, ".go") || entry.Name() == "skips_test.go" {
			return nil
		}
		data, err := os.ReadFile(file)
		text := string(data)
		found := len(skips.FindAllString(text, -1))
		seen += found
		if asked := len(shortSkips.FindAllString(text, -1)); asked != found {
			t.Errorf("%s skips %d tests, %d of them as -short asks: for want of something call outside.Missing", file, found, asked)
		}
		return err
	})
	if err != nil || seen < 4 {
		t.Errorf("%d tests that skip were looked at (%v)", seen, err)
	}
}
