package golden

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The numbers of the samples are drawn by a rule of our own: sample k of all, counted from 0 rack after rack
// and row by row, has the number 37·k modulo 384, plus 1. Since 37 and 384 = 2⁷·3 have no common factor, each
// number comes once. Sample n goes as number (n-1)/2 into the first plate where n is odd, into the second
// where it is even: into each second place of a column, one row further down in each second column.

// TestWorklistTables holds the demo's tables to this rule.
func TestWorklistTables(t *testing.T) {
	at := map[int]string{}
	for rack := range 3 {
		want := [][]string{{"slot", "id"}}
		for k := range 128 {
			n, slot := (128*rack+k)*37%384+1, fmt.Sprintf("%c%d", 'A'+k/16, k%16+1)
			at[n] = fmt.Sprintf("rack-%d %s", rack+1, slot)
			want = append(want, []string{slot, fmt.Sprintf("K%03d", n)})
		}
		holdTable(t, fmt.Sprintf("worklist-rack-%d.csv", rack+1), ',', want)
	}
	if len(at) != 384 {
		t.Errorf("%d numbers", len(at))
	}
	want := [][]string{{"id", "from", "to", "note"}}
	for n := 1; n <= 384; n++ {
		j, note := (n-1)/2, ""
		if n%96 == 1 {
			note = "here the gauge reads 60 kPa or more; else stop"
		}
		to := fmt.Sprintf("plate-%d %c%d", 2-n%2, 'A'+2*(j%8)+j/8%2, j/8+1)
		want = append(want, []string{fmt.Sprintf("K%03d", n), at[n], to, note})
	}
	holdTable(t, "worklist.csv", ';', want)
}

func holdTable(t *testing.T, name string, comma rune, want [][]string) {
	t.Helper()
	if got := tableOf(t, filepath.Join(demoFolder, name), comma); !slices.EqualFunc(got, want, slices.Equal[[]string]) {
		t.Errorf("%s is not what its rule says", name)
	}
}

// tableOf reads a table with the library's own reader.
func tableOf(t *testing.T, name string, comma rune) [][]string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(text)))
	r.Comma = comma
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestWorklistManifest: each sample ends where the list sends its number, whatever rack it came in; once each,
// in the order of the list, and no two samples are neighbours.
func TestWorklistManifest(t *testing.T) {
	t.Chdir(demoFolder)
	from := map[string]string{}
	for rack := 1; rack <= 3; rack++ {
		for _, row := range tableOf(t, fmt.Sprintf("worklist-rack-%d.csv", rack), ',')[1:] {
			from[row[1]] = fmt.Sprintf("rack-%d %s", rack, row[0])
		}
	}
	list := tableOf(t, "worklist.csv", ';')[1:]
	rows, err := csv.NewReader(strings.NewReader(mustRun(t, "manifest", "worklist.plan.yaml"))).ReadAll()
	if err != nil || len(rows) != 1+len(list) {
		t.Fatalf("%v, %d lines of the manifest", err, len(rows))
	}
	before, filled := 0.0, map[string]bool{}
	for i, row := range rows[1:] {
		seconds, err := strconv.ParseFloat(row[6], 64)
		if want := []string{list[i][0], "tube", from[list[i][0]], list[i][2], "", strconv.Itoa(i + 1)}; err != nil || !slices.Equal(row[:6], want) || seconds <= before {
			t.Fatalf("line %d is %q, wanted %q and later than %g", i+1, row, want, before)
		}
		before = seconds
		filled[row[3]] = true
	}
	for plate := 1; plate <= 2; plate++ {
		for row := 'A'; row <= 'P'; row++ {
			for column := 1; column <= 24; column++ {
				here := filled[fmt.Sprintf("plate-%d %c%d", plate, row, column)]
				if below, right := filled[fmt.Sprintf("plate-%d %c%d", plate, row+1, column)], filled[fmt.Sprintf("plate-%d %c%d", plate, row, column+1)]; here && (below || right) {
					t.Fatalf("plate %d: %c%d has a neighbour", plate, row, column)
				}
			}
		}
	}
}

// TestWorklistLineIsNamed: what a line of a program is there for is a line of the table, with its part, and the
// line of the plan that names the table; and "st" has the ids where parts are gripped and let go.
func TestWorklistLineIsNamed(t *testing.T) {
	t.Chdir(demoFolder)
	program := run("write", "worklist.plan.yaml", "--family", "st", "-o", "-")
	at := 1 + slices.IndexFunc(strings.Split(program.stdout, "\n"), func(line string) bool { return strings.Contains(line, " grip K020, rack-3 F8,") })
	if at == 0 || !strings.Contains(program.stdout, " release K020, plate-2 D2,") {
		t.Fatalf("the part K020 is gripped and let go nowhere\n%s", program.stderr)
	}
	r := run("explain", "worklist.plan.yaml", "--family", "st", "--program-line", strconv.Itoa(at))
	page := run("explain", "worklist.plan.yaml", "--family", "st", "--program-line", strconv.Itoa(at), "--format", "html")
	if !strings.Contains(page.stdout, "It is there because of worklist.csv, line 21 (K020;rack-3 F8;plate-2 D2;), a line of the worklist of worklist.plan.yaml, line 40.") {
		t.Errorf("the page does not name the line of the table\n%s", page.stderr)
	}
	for _, want := range []string{
		"transfer 20 of 384, of the part K020,",
		"It is there because of worklist.csv, line 21\n  K020;rack-3 F8;plate-2 D2;\na line of the worklist of worklist.plan.yaml, line 40\n  - list: worklist.csv\n",
	} {
		if !strings.Contains(strings.ReplaceAll(r.stdout, "part\nK020", "part K020"), want) {
			t.Errorf("wanted %q in\n%s", want, r.stdout)
		}
	}
}
