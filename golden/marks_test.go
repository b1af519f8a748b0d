package golden

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

const lanterns = "../families/lanterns" // seen from the demo plans

// lanternRow is a motion as the controller reads it, written down here from its rules and
// not from the family: figures with a comma, between semicolons, and a quoted text in
// which a mark is doubled.
var lanternRow = regexp.MustCompile(`^(?:float|2;) (-?\d+(?:,\d+)?); (-?\d+(?:,\d+)?); (-?\d+(?:,\d+)?)(?:; -?\d+(?:,\d+)?){3}; (\d+(?:,\d+)?); (\d+(?:,\d+)?)(?: to "((?:[^"]|"")*)")?(?: !.*)?$`)

// TestDecimalComma follows the figures of a program with decimal commas by hand: every
// motion of the list, in order, goes to the coordinates of its row.
func TestDecimalComma(t *testing.T) {
	t.Chdir(demoFolder)
	commas := 0
	for _, plan := range []string{"mortar-cubes.plan.yaml", "tube-rack.plan.yaml", "odd-grids.plan.yaml"} {
		rows, err := csv.NewReader(strings.NewReader(mustRun(t, "moves", plan, "--format", "csv"))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		column := map[string]int{}
		for i, name := range rows[0] {
			column[name] = i
		}
		var want [][]string // the motions
		for _, row := range rows[1:] {
			if kind := row[3]; kind == "travel" || kind == "straight" {
				want = append(want, row)
			}
		}
		moved := 0
		for line := range strings.Lines(mustRun(t, "write", plan, "--family", lanterns, "-o", "-")) {
			m := lanternRow.FindStringSubmatch(strings.TrimRight(line, "\n"))
			if m == nil {
				continue
			}
			for i, name := range []string{"x", "y", "z"} {
				listed, err := strconv.ParseFloat(want[moved][column[name]], 64)
				figure, _ := strconv.ParseFloat(strings.Replace(m[1+i], ",", ".", 1), 64)
				if err != nil || figure-listed > 0.0005001 || listed-figure > 0.0005001 {
					t.Fatalf("%s: motion %d: %s is %s, wanted %v %v", plan, moved+1, name, m[1+i], listed, err)
				}
				commas += strings.Count(m[1+i], ",")
			}
			moved++
		}
		if moved != len(want) {
			t.Errorf("%s: %d motions, wanted %d", plan, moved, len(want))
		}
	}
	if commas == 0 {
		t.Error("no figure has a comma")
	}
}

// TestDecimalCommaIsReadBack: another figure shows, and with a point it is none.
func TestDecimalCommaIsReadBack(t *testing.T) {
	t.Chdir(demoFolder)
	text := mustRun(t, "write", "tube-rack.plan.yaml", "--family", lanterns, "-o", "-")
	for old, replaced := range map[string]struct{ by, want string }{
		"float 14,38; 74,24;":   {"float 15,38; 74,24;", "x is 15.3800 mm"},
		"2; 14,38; 74,24;":      {"2; 14,38; 74.24;", "an extra line"},
		"weighs 0,311":          {"weighs 0.311", "an extra line"},
		`to "open A1 approach"`: {`to "open A2 approach"`, "A2"},
	} {
		if !strings.Contains(text, old) {
			t.Fatalf("no line has %q", old)
		}
		file := filepath.Join(t.TempDir(), "tubes.lan")
		if err := os.WriteFile(file, []byte(strings.Replace(text, old, replaced.by, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		r := run("verify", file, "--plan", "tube-rack.plan.yaml", "--family", lanterns)
		if r.status != 1 || !strings.Contains(r.stdout, replaced.want) {
			t.Errorf("%q instead of %q: status %d\n%s", replaced.by, old, r.status, r.stdout)
		}
	}
}

// TestQuotedTextFromAPlan: whatever a title holds, it ends where its quotation ends, and
// the program reads back.
func TestQuotedTextFromAPlan(t *testing.T) {
	t.Chdir(demoFolder)
	for title, want := range map[string]string{
		`Cubes "28 d" ! wet`: `show "Cubes ""28 d"" ! wet" ! to be read before the start`,
		`"`:                  `show """" ! to be read before the start`,
		`a" ; dark`:          `show "a"" ; dark" ! to be read before the start`,
	} {
		text := mustRun(t, "write", "mortar-cubes.plan.yaml", "--family", lanterns, "-o", "-", "--set", "title="+strconv.Quote(title))
		if first, _, _ := strings.Cut(text, "\n"); first != want {
			t.Errorf("%q gives %s, want %s", title, first, want)
		}
		file := filepath.Join(t.TempDir(), "cubes.lan")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		mustRun(t, "verify", file, "--plan", "mortar-cubes.plan.yaml", "--family", lanterns, "--set", "title="+strconv.Quote(title))
	}
}
