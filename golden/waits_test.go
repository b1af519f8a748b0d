package golden

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Whoever reads how long a job takes reads in the same breath that it waits for inputs, and
// nobody knows how long: in the report of times, on the sheet, in the table of variants, and
// where a shorter order is proposed.
func TestTimesSayTheirWaits(t *testing.T) {
	scale := demoFolder + "/mortar-cubes-scale.plan.yaml"
	variants := filepath.Join(t.TempDir(), "two.variants.yaml")
	if err := os.WriteFile(variants, []byte("format: gridferry variants 1\nvariants:\n  - {name: high, set: {motion.approach: 75}}\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	// Without a clear pose, past which every order is as long as any other.
	without := filepath.Join(t.TempDir(), "without.plan.yaml")
	if err := os.WriteFile(without, []byte(strings.Replace(measuredText, ", clear: clear}", "}", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	table := mustRun(t, "vary", scale, "--variants", variants, "--family", "listing", "-o", t.TempDir())
	const clock = `(\d+ min )?[\d.]+ s and \d+ waits? of unknown length`
	for name, text := range map[string]string{
		"time":      mustRun(t, "time", scale),
		"sheet":     mustRun(t, "sheet", scale, "-o", "-"),
		"variants":  table,
		"the order": mustRun(t, "order", without),
	} {
		if !regexp.MustCompile(clock).MatchString(text) {
			t.Errorf("%s: a time stands without its waits\n%s", name, text)
		}
	}
}
