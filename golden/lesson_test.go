package golden

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// The lesson's answers stand in plan/LESSON.md between marks; here they are
// worked out again, from what the commands say.

const lessonFile = "../plan/LESSON.md"

var (
	answerMark = regexp.MustCompile(`<!-- ([a-z0-9-]+) -->(.*?)<!-- end -->`)
	shellBlock = regexp.MustCompile("(?s)```sh\n(.*?)```")
)

// lesson is the answers by name, and the commands line by line.
func lesson(t *testing.T) (answers map[string]string, commands []string) {
	t.Helper()
	data, err := os.ReadFile(lessonFile)
	if err != nil {
		t.Fatal(err)
	}
	answers = map[string]string{}
	for _, m := range answerMark.FindAllStringSubmatch(string(data), -1) {
		if answers[m[1]] != "" {
			t.Errorf("the answer %q is given twice", m[1])
		}
		answers[m[1]] = m[2]
	}
	for _, m := range shellBlock.FindAllStringSubmatch(string(data), -1) {
		commands = append(commands, strings.Split(strings.TrimSpace(m[1]), "\n")...)
	}
	return answers, commands
}

// inLesson goes to the folder of the first three exercises.
func inLesson(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	mustRun(t, "new", "lesson")
	t.Chdir("lesson")
}

// Every command of the lesson does what the lesson says.
func TestLessonCommands(t *testing.T) {
	demo := absolute(t, demoFolder)
	_, commands := lesson(t)
	t.Chdir(t.TempDir())
	ran := 0
	for _, line := range commands {
		line, _, fails := strings.Cut(line, "# an error")
		words := shellWords(line)
		switch {
		case words[0] == "cd" && words[1] == "testdata/demo":
			t.Chdir(demo)
		case words[0] == "cd":
			t.Chdir(words[1])
		case words[0] == "gridferry":
			ran++
			r := run(words[1:]...)
			if r.status != map[bool]int{true: 1}[fails] {
				t.Errorf("%s: status %d\n%s", line, r.status, r.stderr)
			}
		case words[0] == "sed" && words[3] == ">":
			edited := outside.Run(t, "sed", nil, words[0], words[1:3]...)
			if err := os.WriteFile(words[4], edited, 0o600); err != nil {
				t.Fatal(err)
			}
		default:
			t.Errorf("cannot run %q", line)
		}
	}
	if ran < 16 {
		t.Errorf("only %d commands were run", ran)
	}
}

// shellWords splits a command at blanks outside of quotes.
func shellWords(line string) []string {
	var words []string
	for i, piece := range strings.Split(line, `"`) {
		if i%2 == 1 {
			words = append(words, piece)
		} else {
			words = append(words, strings.Fields(piece)...)
		}
	}
	return words
}

// rowsOf is the list of a plan's moves, a column name to a value for each.
func rowsOf(t *testing.T, args ...string) []map[string]string {
	t.Helper()
	text := mustRun(t, append([]string{"moves", "--format", "csv"}, args...)...)
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var moves []map[string]string
	for _, record := range records[1:] {
		m := map[string]string{}
		for i, name := range records[0] {
			m[name] = record[i]
		}
		moves = append(moves, m)
	}
	return moves
}

func figureOf(t *testing.T, m map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(m[column], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestLessonAnswers(t *testing.T) {
	told, _ := lesson(t)
	demo := absolute(t, demoFolder)
	found := map[string]string{}
	inLesson(t)
	indexAnswers(t, found)
	frameAnswers(t, found)
	loadAnswers(t, found)
	t.Chdir(demo)
	fullAnswers(t, found)
	for name, want := range found {
		if told[name] != want {
			t.Errorf("the lesson answers %s with %q, it is %q", name, told[name], want)
		}
	}
	for name := range told {
		if found[name] == "" {
			t.Errorf("nothing works out the answer %q", name)
		}
	}
}

func indexAnswers(t *testing.T, found map[string]string) {
	var xs []float64
	for _, m := range rowsOf(t, "first.plan.yaml") {
		for column := 1; column <= 3; column++ {
			if m["action"] == "straight" && m["target"] == fmt.Sprint("tray A", column) {
				xs = append(xs, figureOf(t, m, "x"))
			}
		}
	}
	if len(xs) != 3 {
		t.Fatalf("the columns stand at %v", xs)
	}
	found["x-of-columns"] = fmt.Sprintf("%g, %g and %g", xs[0], xs[1], xs[2])
	turns, last := 0, 0.0
	for column := 0; column <= 3; column++ { // the slip of the exercise
		turns++
		last = 30 + 50*float64(column)
	}
	if last != xs[2]+(xs[1]-xs[0]) {
		t.Errorf("the last turn goes to %g, one pitch behind %g is another place", last, xs[2])
	}
	found["turns"], found["x-of-last-turn"] = fmt.Sprint(turns), fmt.Sprint(last)
	found["rule-of-a4"] = ruleOf(t, run("check", "first.plan.yaml", "--set", "transfers.1.from=tray A1:A4"))
	found["moves-of-three-columns"] = fmt.Sprint(len(rowsOf(t, "first.plan.yaml")))
	found["moves-of-four-columns"] = fmt.Sprint(len(rowsOf(t, "first.plan.yaml", "--set", "grids.tray.columns=4", "--set", "grids.rack.columns=4")))
	data, err := os.ReadFile("first.plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	found["lines-to-change"] = fmt.Sprint(strings.Count(string(data), "columns: 3"))
}

var ruleName = regexp.MustCompile(`\[([a-z-]+)\]`)

// ruleOf is the rule of the first finding.
func ruleOf(t *testing.T, r result) string {
	t.Helper()
	m := ruleName.FindStringSubmatch(r.stderr)
	if r.status != 1 || m == nil {
		t.Fatalf("status %d\n%s", r.status, r.stderr)
	}
	return m[1]
}

func frameAnswers(t *testing.T, found map[string]string) {
	line30 := strings.Split(mustRun(t, "write", "first.plan.yaml", "--family", "listing", "-o", "-"), "\n")[29]
	m := regexp.MustCompile(`^ +5  Select frame (\w+)\.$`).FindStringSubmatch(line30)
	if m == nil {
		t.Fatalf("line 30 is %q", line30)
	}
	found["frame-of-line-30"] = m[1]
	moves := rowsOf(t, "first.plan.yaml")
	found["frame-before"] = moves[2-1]["frame"] // move 2, to clear
	six := moves[6-1]
	var here, there [3]float64
	for i, axis := range []string{"x", "y", "z"} {
		here[i], there[i] = figureOf(t, six, axis), figureOf(t, six, "base_"+axis)
	}
	if here != [3]float64{30, 30, 80} {
		t.Errorf("move 6 goes to %v", here)
	}
	found["base-of-move-6"] = fmt.Sprintf("X %.0f, Y %.0f, Z %.0f", there[0], there[1], there[2])
	found["off-by"] = fmt.Sprintf("%.0f", math.Sqrt((here[0]-there[0])*(here[0]-there[0])+(here[1]-there[1])*(here[1]-there[1])+(here[2]-there[2])*(here[2]-there[2])))
	cell, err := os.ReadFile("bench.cell.yaml")
	if err != nil {
		t.Fatal(err)
	}
	found["box-there"] = boxAround(t, string(cell), here)
	found["moves-on-left"] = restOn(t, "--cell-line", "25")
	found["moves-on-left-again"] = found["moves-on-left"]
	found["missed"] = missedWithout(t, 30)
	found["lines-of-left"] = fmt.Sprint(strings.Count(string(cell), "three_points:"))
}

// loadAnswers works out what hangs on the flange.
func loadAnswers(t *testing.T, found map[string]string) {
	loads, changes, before := map[float64]bool{}, 0, 0.0
	for _, m := range rowsOf(t, "first.plan.yaml") {
		if m["action"] != "select" {
			continue
		}
		load := figureOf(t, m, "load")
		if before != 0 && load != before {
			changes++
		}
		loads[load], before = true, load
	}
	const tool, rated = 0.8, 3.0
	if len(loads) != 2 || !loads[tool] || !loads[0.95] {
		t.Errorf("the loads are %v", loads)
	}
	line35 := strings.Split(mustRun(t, "write", "first.plan.yaml", "--family", "listing", "-o", "-"), "\n")[34]
	if m := regexp.MustCompile(`Select tool jaw, (0\.95)0 kg on the flange`).FindStringSubmatch(line35); m != nil {
		found["load-with-block"] = m[1]
	}
	found["load-changes"], found["load-missing"] = fmt.Sprint(changes), fmt.Sprintf("%.2f", 0.95-tool)
	found["rule-of-heavy"] = ruleOf(t, run("check", "first.plan.yaml", "--set", "parts.block.mass=2.5"))
	found["heaviest"] = fmt.Sprintf("%.1f", rated-tool)
}

// What an exercise asks for stands nowhere before its answers, and each has commands. (The
// frame "base" is named in other questions, for the frame that all figures lead to.)
func TestLessonKeepsItsAnswers(t *testing.T) {
	data, err := os.ReadFile(lessonFile)
	if err != nil {
		t.Fatal(err)
	}
	exercises := strings.Split(string(data), "\n## ")[1:]
	if len(exercises) != 4 {
		t.Errorf("%d exercises", len(exercises))
	}
	for _, exercise := range exercises {
		asked, answers, found := strings.Cut(exercise, "### Answers")
		title, _, _ := strings.Cut(asked, "\n")
		if !found || !shellBlock.MatchString(asked) {
			t.Errorf("%s: nothing to run, or no answers", title)
		}
		for _, m := range answerMark.FindAllStringSubmatch(answers, -1) {
			if len(m[2]) > 2 && m[1] != "frame-before" && regexp.MustCompile(`\b`+regexp.QuoteMeta(m[2])+`\b`).MatchString(asked) {
				t.Errorf("%s: the answer %q (%s) stands in the exercise", title, m[2], m[1])
			}
		}
	}
}

var boxLine = regexp.MustCompile(`(?m)^  (\w+): \{from: \[(.*?)\], to: \[(.*?)\]\}`)

// boxAround is the keep-out box of a cell, in the base, that a point lies in.
func boxAround(t *testing.T, cell string, at [3]float64) string {
	t.Helper()
	for _, m := range boxLine.FindAllStringSubmatch(cell, -1) {
		inside := true
		for i := range at {
			lo, errLo := strconv.ParseFloat(strings.Split(m[2], ", ")[i], 64)
			hi, errHi := strconv.ParseFloat(strings.Split(m[3], ", ")[i], 64)
			inside = inside && errLo == nil && errHi == nil && lo <= at[i] && at[i] <= hi
		}
		if inside {
			return m[1]
		}
	}
	t.Fatalf("no box around %v", at)
	return ""
}

// missedWithout is how many moves verify misses in the program without one of its lines.
func missedWithout(t *testing.T, line int) string {
	t.Helper()
	lines := strings.Split(mustRun(t, "write", "first.plan.yaml", "--family", "listing", "-o", "-"), "\n")
	file := filepath.Join(t.TempDir(), "first.txt")
	if err := os.WriteFile(file, []byte(strings.Join(slices.Delete(lines, line-1, line), "\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	r := run("verify", file, "--plan", "first.plan.yaml", "--family", "listing")
	m := regexp.MustCompile(`of \d+ moves (\d+) missing`).FindStringSubmatch(r.stdout)
	if m == nil {
		t.Fatalf("verify says\n%s%s", r.stdout, r.stderr)
	}
	return m[1]
}

// restOn is the number of moves that explain finds for a line.
func restOn(t *testing.T, flag, line string) string {
	t.Helper()
	text := mustRun(t, "explain", "first.plan.yaml", flag, line)
	m := regexp.MustCompile(`(?m)^(\d+) moves of \d+ depend on it\.$`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("explain says\n%s", text)
	}
	return m[1]
}

func fullAnswers(t *testing.T, found map[string]string) {
	var grips, releases []string
	onFirst := 0
	for _, m := range rowsOf(t, "cartons.plan.yaml") {
		switch {
		case m["action"] == "grip":
			grips = append(grips, m["target"])
		case m["action"] == "release" && m["target"] != "":
			releases = append(releases, m["target"])
			if strings.HasSuffix(m["target"], ".1") && found["first-on-layer-2"] == "" {
				onFirst++
			}
			if strings.HasSuffix(m["target"], ".2") && found["first-on-layer-2"] == "" {
				found["first-on-layer-2"] = m["transfer"]
			}
		}
	}
	found["first-carton"] = grips[0] + " to " + releases[0]
	found["second-carton"] = grips[1]
	found["slots-of-layer-1"] = fmt.Sprint(onFirst)
	onFull := run("check", "tube-rack.plan.yaml", "--set", "transfers.2.to=dense A1:L2")
	found["rule-of-full"] = ruleOf(t, onFull)
	if m := regexp.MustCompile(`transfer (\d+) puts a part on`).FindStringSubmatch(onFull.stderr); m != nil {
		found["first-onto-full"] = m[1]
	}
	found["full-slots"] = fmt.Sprint(doublyFilled(t))
}

// doublyFilled counts the slots that two parts are put into.
func doublyFilled(t *testing.T) int {
	t.Helper()
	times := map[string]int{}
	for _, m := range rowsOf(t, "tube-rack.plan.yaml", "--set", "transfers.2.to=dense A1:L2") {
		if m["action"] == "release" {
			times[m["target"]]++
		}
	}
	twice := 0
	for at, n := range times {
		if n > 1 && at != "" {
			twice++
		}
	}
	return twice
}

// The README leads to the lesson.
func TestLessonIsLinked(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "README.md"))
	if err != nil || !strings.Contains(string(data), "(plan/LESSON.md)") {
		t.Errorf("README.md has no link to plan/LESSON.md (%v)", err)
	}
}
