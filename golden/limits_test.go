package golden

import (
	"encoding/csv"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/templates"
)

// What the published rules limit, looked for line by line in the programs of
// the demo plans, without the readers of the packages beside this one.

// word is a letter and its number in a word-address block.
var word = regexp.MustCompile(`([A-Z])([-+]?[0-9]+(?:\.[0-9]+)?)`)

// TestWordAddressLimits: NISTIR 6556 (The NIST RS274NGC Interpreter, Version 3,
// 2000), the clause beside each check; read in full.
func TestWordAddressLimits(t *testing.T) {
	t.Chdir(demoFolder)
	blocks, highest, again := 0, 0, false
	for _, plan := range []string{"mortar-cubes", "tube-rack", "cartons", "dense-plate"} {
		for i, line := range strings.Split(mustRun(t, "write", plan+".plan.yaml", "--family", "iso6983", "-o", "-"), "\n") {
			if len(line) > 256 { // 3.3
				t.Errorf("%s:%d has %d characters", plan, i+1, len(line))
			}
			bare := strings.TrimSpace(outsideBrackets(t, line))
			if bare == "" || bare == "%" {
				continue
			}
			blocks++
			n, clean := wordsOf(t, bare)
			again = again || n < highest && n == 10
			highest = max(highest, n)
			checkBlock(t, plan, i+1, n, clean)
		}
	}
	if blocks < 10_000 || highest < 99_990 || !again {
		t.Errorf("%d blocks, the highest numbered %d: too few to see the numbers begin again at 3.3.1's limit", blocks, highest)
	}
}

// outsideBrackets takes comments out: 3.3.4, brackets that match, never nested.
func outsideBrackets(t *testing.T, line string) string {
	t.Helper()
	var out strings.Builder
	inside := false
	for _, c := range line {
		switch {
		case c < ' ' || c > '~':
			t.Errorf("%q holds %q", line, c)
		case c == '(' && inside || c == ')' && !inside:
			t.Errorf("brackets do not match in %q", line)
		case c == '(' || c == ')':
			inside = c == '('
		case !inside:
			out.WriteRune(c)
		}
	}
	if inside {
		t.Errorf("a comment is open at the end of %q", line)
	}
	return out.String()
}

// wordsOf is the line number and the other words, all of the line.
func wordsOf(t *testing.T, line string) (n int, words []string) {
	t.Helper()
	if rest := strings.TrimSpace(word.ReplaceAllString(line, "")); rest != "" {
		t.Errorf("%q is no word of %q", rest, line)
	}
	for i, m := range word.FindAllStringSubmatch(line, -1) {
		if m[1] != "N" {
			words = append(words, m[0])
			continue
		}
		number, err := strconv.Atoi(m[2])
		if i > 0 || err != nil || len(m[2]) > 5 { // 3.3.1: first, unsigned, five digits
			t.Errorf("line number %q in %q", m[0], line)
		}
		n = number
	}
	return n, words
}

// checkBlock holds one block to the limits on repetition (3.3.5), and to one
// that is ours: nothing stands on a line whose effect depends on the order of
// execution inside a block (Table 8: a dwell comes before a motion of its line,
// a stop after it), so that nobody has to know that table.
func checkBlock(t *testing.T, plan string, line, n int, words []string) {
	t.Helper()
	seen := map[byte]int{}
	for _, w := range words {
		seen[w[0]]++
		if strings.ContainsRune("EOUVW", rune(w[0])) { // Table 3: not in the language
			t.Errorf("%s:%d: %q", plan, line, w)
		}
	}
	for letter, count := range seen {
		if count > 1 && letter != 'G' && letter != 'M' || letter == 'M' && count > 4 {
			t.Errorf("%s:%d: %c stands %d times", plan, line, letter, count)
		}
	}
	if seen['G']+seen['M'] != 1 {
		t.Errorf("%s:%d (N%d): %q has %d G and M words, wanted one a line", plan, line, n, words, seen['G']+seen['M'])
	}
	behind := words[0] == "G1" && seen['Z'] == 0 // the line that ends the first motion: F holds from the one before
	if words[0][0] == 'G' && seen['F'] > 0 && words[0] != "G1" || words[0] == "G1" && seen['F'] != 1 && !behind {
		t.Errorf("%s:%d: F goes with G1, found %q", plan, line, words)
	}
}

// TestFeedIsPerMinute: under G94, F is in mm a minute (NISTIR 6556, clause
// 3.5.19), while the move list is in mm/s. PLCopen blocks take the group's own
// unit, which the program's head says is mm/s.
func TestFeedIsPerMinute(t *testing.T) {
	t.Chdir(demoFolder)
	rows, err := csv.NewReader(strings.NewReader(mustRun(t, "moves", "tube-rack.plan.yaml", "--format", "csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var want []float64
	for _, row := range rows[1:] {
		first := want == nil && row[column(rows[0], "action")] == "travel" // a G1, too
		if first || row[column(rows[0], "action")] == "straight" {
			v, _ := strconv.ParseFloat(row[column(rows[0], "speed")], 64)
			want = append(want, v)
		}
	}
	feeds := regexp.MustCompile(`(?m)^N\d+ G1 .* F([0-9.]+)$`).FindAllStringSubmatch(mustRun(t, "write", "tube-rack.plan.yaml", "--family", "iso6983", "-o", "-"), -1)
	steps := regexp.MustCompile(`(?m)^ {4}3\.0,(?: *[-0-9.]+,){8} *([0-9.]+),`).FindAllStringSubmatch(mustRun(t, "write", "tube-rack.plan.yaml", "--family", "st", "-o", "-"), -1)
	if len(want) < 20 || len(feeds) != len(want) || len(steps) != len(want)-1 {
		t.Fatalf("%d straights, %d G1, %d steps", len(want), len(feeds), len(steps))
	}
	for i := range want {
		feed, _ := strconv.ParseFloat(feeds[i][1], 64)
		step := want[0] // the first motion is a travel there
		if i > 0 {
			step, _ = strconv.ParseFloat(steps[i-1][1], 64)
		}
		if math.Abs(feed-60*want[i]) > 0.05 || math.Abs(step-want[i]) > 0.0005 {
			t.Fatalf("straight %d at %g mm/s: F%g, step %g", i, want[i], feed, step)
		}
	}
}

func column(header []string, name string) int {
	for i, h := range header {
		if h == name {
			return i
		}
	}
	return 0
}

// TestStructuredTextNames: IEC 61131-3:2013, table 2 (identifiers) and its
// keywords; the ones that a plan is likely to hit stand here by hand. The letter
// first is narrower than the standard, which takes an underscore too.
func TestStructuredTextNames(t *testing.T) {
	sub, err := fs.Sub(templates.FS, "st")
	if err != nil {
		t.Fatal(err)
	}
	f, ok := new(gen.Job).LoadFamily(sub, "st")
	if !ok {
		t.Fatal("the family st does not load")
	}
	identifier := regexp.MustCompile(`^[A-Za-z](_?[A-Za-z0-9])*$`)
	keywords := strings.Fields("TO BY DO OF ON AT ACTION STEP GET SET DATE TOD DT FROM WITH TASK FOR IF THEN ELSE END_IF TRUE FALSE INT REAL TIME ARRAY STRUCT VAR PROGRAM AND OR NOT MOD XOR NULL")
	texts := append([]string{"__LIM", "LIM__SW5", "LIM_SW5_", "12V7", "press", "", "a b", "é", "%", "tray-1", strings.Repeat("long ", 20)}, keywords...)
	for _, k := range keywords {
		texts = append(texts, strings.ToLower(k), "_"+k, k+"!")
	}
	for _, text := range texts {
		name := f.Names.Make(text)
		if !identifier.MatchString(name) || len(name) > 32 {
			t.Errorf("%q becomes %q", text, name)
		}
		for _, k := range keywords {
			if strings.EqualFold(name, k) {
				t.Errorf("%q becomes the keyword %s", text, name)
			}
		}
	}
}

// TestStructuredTextLiterals: IEC 61131-3:2013, table 5 (a real has digits on
// both sides of its point) and table 8 (durations).
func TestStructuredTextLiterals(t *testing.T) {
	t.Chdir(demoFolder)
	text := mustRun(t, "write", "tube-rack.plan.yaml", "--family", "st", "-o", "-")
	text = regexp.MustCompile(`(?s)\(\*.*?\*\)`).ReplaceAllString(text, " ")
	duration := regexp.MustCompile(`(?i)\b(?:TIME|T|LT|LTIME)#[^\s;,)]*`)
	if len(duration.FindAllString(text, -1)) == 0 {
		t.Error("no duration was found")
	}
	for _, d := range duration.FindAllString(text, -1) {
		if !regexp.MustCompile(`^T#[0-9]+ms$`).MatchString(d) {
			t.Errorf("the duration %q", d)
		}
	}
	tables := regexp.MustCompile(`(?s)LREAL := \[(.*?)\]`).FindAllStringSubmatch(text, -1)
	if len(tables) != 3 {
		t.Fatalf("%d tables of reals", len(tables))
	}
	real := regexp.MustCompile(`^-?[0-9]+\.[0-9]+$`)
	for _, table := range tables {
		for _, literal := range strings.Split(table[1], ",") {
			if !real.MatchString(strings.TrimSpace(literal)) {
				t.Errorf("%q is no real", strings.TrimSpace(literal))
			}
		}
	}
}

// TestOptionalStopIsM1: NISTIR 6556, clause 3.6.1: M1 stops only if the optional
// stop switch is on. It stands alone, so that it stops between the transfers.
func TestOptionalStopIsM1(t *testing.T) {
	job := new(gen.Job)
	if !job.ReadTryPlan() {
		t.Fatalf("%+v", job.Findings.Sorted())
	}
	sub, err := fs.Sub(templates.FS, "iso6983")
	if err != nil {
		t.Fatal(err)
	}
	f, _ := job.LoadFamily(sub, "iso6983")
	trial, err := job.Try(f, true)
	if err != nil || job.Findings.HasErrors() {
		t.Fatalf("%v, %+v", err, job.Findings.Sorted())
	}
	if n := len(regexp.MustCompile(`(?m)^N\d+ M1$`).FindAllString(trial.Text, -1)); n != 5 {
		t.Errorf("M1 stands alone on %d lines, wanted one for each of 5 transfers", n)
	}
	for _, b := range trial.Blocks {
		if _, writes := f.WritesBlock(b.Name); b.State == "not reached" && writes && b.Name != "call" {
			t.Errorf("the plan that comes along does not reach %q", b.Name)
		}
	}
}
