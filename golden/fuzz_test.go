package golden

import (
	"encoding/json"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"gridferry/templates"
)

// fuzzed is a file of the folder that FuzzCommand runs the command in, and the command
// lines that read it. A field with "?" is given what is fuzzed beside the file, and left out
// for want of it.
type fuzzed struct {
	file  string
	lines []string
}

var fuzzedFiles = []fuzzed{
	{"x.plan.yaml", []string{
		"check x.plan.yaml --limit 100 --set=?", "check x.plan.yaml --limit 100 --format json", "check x.plan.yaml --limit 100 --slots --set=?", "check - --limit 100",
		"check x.plan.yaml --limit 100 --from=? --slots x.slots.yaml",
		"moves x.plan.yaml --limit 100 --set=?", "moves x.plan.yaml --limit 100 --format jsonl --prove-out", "moves x.plan.yaml --limit 100 --format csv --from=?",
		"write x.plan.yaml --limit 100 --family all -o out --set=?", "write x.plan.yaml --limit 100 --family iso6983 -o out --set=?", "write x.plan.yaml --limit 100 --family st -o out --set=?",
		"write x.plan.yaml --limit 100 --family starter -o out --prove-out", "write x.plan.yaml --limit 100 --family listing -o out --from=?", "write x.plan.yaml --limit 100 --family starter -o - --format json",
		"vary x.plan.yaml --limit 100 --family starter,listing -o out", "vary x.plan.yaml --limit 100 --variants x.variants.yaml --family starter -o out --format csv",
		"verify sent.prog --plan x.plan.yaml --limit 100 --family starter", "compare x.plan.yaml pegs.plan.yaml --limit 100", "compare x.plan.yaml sent.prog --limit 100 --family starter --format json",
		"draw x.plan.yaml --limit 100 -o out.svg --transfer=?", "sheet x.plan.yaml --limit 100 -o out.html --family st", "time x.plan.yaml --limit 100 --family starter --format json", "time x.plan.yaml --limit 100",
		"explain x.plan.yaml --limit 100 --format json", "explain x.plan.yaml --limit 100 --plan-line=?", "explain x.plan.yaml --limit 100 --format html --family iso6983", "order x.plan.yaml --limit 100",
		"order x.plan.yaml --limit 100 --format json", "families try ./mine x.plan.yaml --limit 100", "check x.plan.yaml --limit 100 --missing=?", "write x.plan.yaml --limit 100 --family starter -o out --filled=?",
		"manifest x.plan.yaml --limit 100 --from=?", "manifest x.plan.yaml --limit 100 --format json --set=?",
	}},
	{"x.cell.yaml", []string{
		"check y.plan.yaml --format json", "check y.plan.yaml --set=?", "write y.plan.yaml --family all -o out", "write y.plan.yaml --family iso6983 -o out", "write y.plan.yaml --family starter -o out", "sheet y.plan.yaml -o out.html",
		"draw y.plan.yaml -o out.svg", "explain y.plan.yaml --cell-line=?", "compare y.plan.yaml pegs.plan.yaml", "time y.plan.yaml", "moves y.plan.yaml",
	}},
	{"x.measured.yaml", []string{"check m.plan.yaml --format json", "check m.plan.yaml --set=?", "sheet m.plan.yaml -o out.html", "write m.plan.yaml --family starter -o out", "explain m.plan.yaml"}},
	{"points.yaml", []string{
		"fit frame points.yaml --tolerance=?", "fit tool points.yaml --format json", "fit grid points.yaml --format yaml --name=?", "fit frame - --format json --touch-error=?",
	}},
	{"points.csv", []string{"fit frame points.csv --name=?", "fit tool points.csv --format yaml", "fit grid points.csv --format json --tolerance=?"}},
	{"x.slots.yaml", []string{"check y.plan.yaml --from 2 --slots x.slots.yaml", "write y.plan.yaml --from=? --slots x.slots.yaml --family starter -o out", "sheet y.plan.yaml --from 1 --slots x.slots.yaml -o out.html"}},
	{"x.variants.yaml", []string{"vary y.plan.yaml --limit 100 --variants x.variants.yaml --family starter -o out", "vary y.plan.yaml --limit 100 --variants x.variants.yaml --family iso6983 -o out --format html"}},
	{"mine/family.yaml", ownLines}, {"mine/program.tmpl", ownLines},
	{"sent.prog", []string{
		"verify sent.prog --plan y.plan.yaml --family starter", "verify sent.prog --plan y.plan.yaml --family iso6983 --format json", "verify sent.prog --plan y.plan.yaml --family st",
		"verify sent.prog --plan y.plan.yaml --family listing", "verify sent.prog --plan y.plan.yaml --family loops", "verify - --plan y.plan.yaml --family starter --from=?",
		"compare y.plan.yaml sent.prog --family iso6983", "compare pegs.prog sent.prog --family starter --format json", "compare pegs.prog sent.prog --family starter --family-b=st --plan y.plan.yaml",
		"compare x.plan.yaml sent.prog",
	}},
	{"case/case.yaml", goldenLines}, {"case/expected/y.prog", goldenLines},
	{"line", []string{"!"}},
}

var (
	ownLines = []string{
		"families show ./mine", "families try ./mine", "families try ./mine y.plan.yaml --format json", "write y.plan.yaml --family ./mine -o out --max-output=100KB", "explain y.plan.yaml --family ./mine --format html",
		"sheet y.plan.yaml --family ./mine -o out.html", "verify sent.prog --plan y.plan.yaml --family ./mine", "vary y.plan.yaml --variants x.variants.yaml --family ./mine -o out --max-output=100KB",
		"time y.plan.yaml --family ./mine", "compare y.plan.yaml sent.prog --family ./mine", "golden .", "golden . --accept",
	}
	goldenLines = []string{"golden .", "golden . --accept"}
)

// outsideMark stands in the files beside the folder, and in no file in it.
const outsideMark = "nothing-reads-this"

// FuzzCommand runs the whole command in a folder of plans, cells, families, points and
// programs, of which one is edited anyhow. Nothing panics, hangs or takes memory without
// bound; the status is one of the three; where it is not 0 nothing is written, and where it
// is, only what the command line asks for; nothing outside the folder is touched or read;
// what people see obeys no file; what is data is well-formed; what was written passes check
// and verify; and the same once more gives the same bytes.
//
//fuzz:8s
func FuzzCommand(f *testing.F) {
	files := benchFiles(f)
	every := 4 // the others would take the fuzzer's time
	if testing.Short() {
		every = 61 // a prime: few of them are of many kinds
	}
	for i, c := range commandCases(f, files) {
		if i%every == 0 {
			f.Add(c.kind, c.line, uint64(0), c.word, []byte(c.text))
		}
	}
	b := newBench(f, files)
	f.Fuzz(func(t *testing.T, kind, line uint8, seed uint64, word string, data []byte) {
		t.Chdir(b.folder)
		b.try(t, commandCase{kind, line, word, string(data)}, seed)
	})
}

// TestCommandAnyhow does the same with the files of testdata edited at random.
func TestCommandAnyhow(t *testing.T) {
	files := benchFiles(t)
	cases := commandCases(t, files)
	if len(cases) < 1000 {
		t.Fatalf("only %d cases: are the folders right?", len(cases))
	}
	b := newBench(t, files)
	t.Chdir(b.folder)
	count, from := anyhow(t, 300)
	for seed := from; seed < from+count && !t.Failed(); seed++ {
		c := cases[seed*7919%uint64(len(cases))] // a prime: few of them are of many kinds
		b.try(t, c, seed)
		if t.Failed() {
			t.Errorf("seed %d, %q", seed, c)
		}
	}
}

// commandCase is a text for a file of the folder, and a command line that reads it.
type commandCase struct {
	kind, line uint8 // of fuzzedFiles, and of its lines
	word       string
	text       string
}

// try runs a case, edited as the seed says; 0 for not at all.
func (b *bench) try(t *testing.T, c commandCase, seed uint64) {
	file := fuzzedFiles[int(c.kind)%len(fuzzedFiles)]
	if seed > 0 {
		c.text = newEditor(seed).edited(c.text)
	}
	if len(c.text) > 1<<15 || strings.Contains(c.text, outsideMark) {
		return
	}
	args := fuzzedLine(file.lines[int(c.line)%len(file.lines)], c.word, c.text)
	if args == nil {
		return
	}
	name := "bench/" + file.file
	b.put(t, name, c.text)
	defer func() {
		b.put(t, name, b.sound[name])
		b.mend(t)
	}()
	b.hold(t, args, c.text, file.file == "line")
}

// longNumber is one that may ask for more slots than a run of the fuzzer has time for.
var longNumber = regexp.MustCompile(`[0-9]{3}|e[0-9]`)

// fuzzedLine is the fields of a command line; nil for one that is not to be run.
func fuzzedLine(line, word, text string) []string {
	if line == "!" {
		args := strings.Split(text, " ")
		if strings.ContainsAny(text, "/\\") || strings.Contains(text, "..") || slices.Contains(args, "--replace") {
			return nil // as asked for, it may write anywhere and over anything
		}
		return args
	}
	if strings.Contains(line, "golden") && longNumber.MatchString(text) {
		return nil // golden has no flag that bounds the slots
	}
	var args []string
	for _, field := range strings.Fields(line) {
		if flag, ok := strings.CutSuffix(field, "?"); !ok {
			args = append(args, field)
		} else if word != "" {
			args = append(args, flag+word)
		}
	}
	return args
}

// hold runs a command line and asks for what must be so whatever stands in the files.
func (b *bench) hold(t *testing.T, args []string, stdin string, free bool) {
	what := strings.Join(args, " ")
	r := b.run(t, args, stdin)
	if r.status < 0 || r.status > 2 || r.status != 0 && r.stdout+r.stderr == "" {
		t.Fatalf("%q: status %d, and it says %q", what, r.status, r.stdout+r.stderr)
	}
	changed := b.changed(t)
	for _, name := range changed {
		if !b.mayWrite(args, r.status, name, free) {
			t.Errorf("%q: status %d, and %q is changed", what, r.status, name)
		}
	}
	wantShown(t, what, args, r)
	if strings.Contains(r.stdout+r.stderr, outsideMark) {
		t.Errorf("%q reads outside of its folder: %q", what, r.stdout+r.stderr)
	}
	if r.status == 0 && args[0] == "write" && slices.Contains(args, "out") {
		b.holdWritten(t, args, changed)
	}
	if len(stdin)%8 == 0 { // sampled
		written := b.contents(t, changed)
		b.mend(t)
		if again := b.run(t, args, stdin); again != r {
			t.Errorf("%q: once more gives %+v, and it gave %+v", what, again, r)
		}
		if !slices.Equal(b.changed(t), changed) || b.contents(t, changed) != written {
			t.Errorf("%q: once more writes something else", what)
		}
	}
}

// mayWrite reports whether a command line that ended so may have changed a file: one that is
// named after what all lines of fuzzedFiles write, or a new one for a line that is fuzzed itself.
func (b *bench) mayWrite(args []string, status int, name string, free bool) bool {
	inside, ok := strings.CutPrefix(name, "bench/")
	_, ours := b.texts[name]
	goesOn := status == 0 || slices.Contains(args, "vary") // beside a variant with errors
	switch {
	case !ok:
		return false
	case strings.HasPrefix(inside, "case/expected/"): // golden records each case that is proved
		return slices.Contains(args, "golden") && slices.Contains(args, "--accept")
	}
	return goesOn && !ours && (free || strings.HasPrefix(inside, "out"))
}

// wantShown: no terminal is shown anything that it obeys, and data is what its form asks.
func wantShown(t *testing.T, what string, args []string, r result) {
	shown := r.stderr
	all := strings.Join(args, " ")
	switch asData := strings.Contains(all, "--format") || strings.Contains(all, "-o -") || args[0] == "schema" || strings.Contains(all, "comple"); {
	case !asData:
		shown += r.stdout
	case strings.Contains(all, "--format jsonl"):
		for line := range strings.Lines(r.stdout) {
			if !json.Valid([]byte(line)) {
				t.Errorf("%q prints what is no JSON: %q", what, line)
			}
		}
	case strings.Contains(all, "--format json") && !strings.Contains(all, "-o -") && r.stdout != "" && !json.Valid([]byte(r.stdout)):
		t.Errorf("%q prints what is no JSON: %q", what, r.stdout)
	}
	if !utf8.ValidString(shown) {
		t.Errorf("%q shows what is no text: %q", what, shown)
	}
	for _, c := range shown {
		if c != '\n' && !unicode.IsPrint(c) {
			t.Errorf("%q: a terminal is shown %U: %q", what, c, shown)
			return
		}
	}
}

// holdWritten: what was written is of a plan that passes the check, and is what verify
// wants.
func (b *bench) holdWritten(t *testing.T, args, written []string) {
	check := []string{"check", args[1]}
	verify := []string{"verify", "--plan", args[1]}
	families := ""
	for i, arg := range args[2:] {
		switch {
		case strings.HasPrefix(arg, "--set="), strings.HasPrefix(arg, "--filled="):
			check = append(check, arg)
			verify = append(verify, arg)
		case strings.HasPrefix(arg, "--from="), arg == "--prove-out":
			verify = append(verify, arg)
		case arg == "--family":
			families = args[i+3]
			verify = append(verify, arg, families)
		}
	}
	if r := b.run(t, check, ""); r.status != 0 && !slices.Contains(args, "--prove-out") { // which carries nothing
		t.Errorf("%q wrote a program of a plan that does not pass the check: %s", args, r.stderr)
	}
	if families == "all" || strings.HasPrefix(families, ".") {
		return
	}
	for _, name := range written {
		if inside := strings.TrimPrefix(name, "bench/"); path.Ext(inside) != "" {
			verify = append(verify, inside)
		}
	}
	if r := b.run(t, verify, ""); r.status != 0 {
		t.Errorf("%q: verify of what %q wrote has status %d: %s", verify, args, r.status, r.stdout+r.stderr)
	}
}

// commandCases are the files of testdata and of the folder, each as what it is.
func commandCases(t testing.TB, files map[string]string) []commandCase {
	t.Helper()
	var cases []commandCase
	add := func(file, word, text string, every bool) {
		for kind, f := range fuzzedFiles {
			for line := range f.lines {
				if f.file == file && (every || line == len(cases)%len(f.lines)) {
					cases = append(cases, commandCase{uint8(kind), uint8(line), word, text})
					if !every {
						break
					}
				}
			}
		}
	}
	for _, s := range fuzzedTexts {
		texts := textsOf(t, s.pattern)
		for _, name := range slices.Sorted(maps.Keys(texts)) {
			add(s.file, "", texts[name], s.every)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		add(name, "", files[name], true)
	}
	for _, family := range templates.All() {
		program := programOf(t, family)
		add("sent.prog", "", program, true)
		add("case/expected/y.prog", "", program, true)
	}
	for _, word := range []string{"2", "0", "-1", "grids.from.columns=3", "cell.frames.left.at=[1, 2, 3]", "0.3 mm", "1e400", "left", "\x1b[2K", "transfers.1.from=from A1:A9"} {
		for _, name := range []string{"x.plan.yaml", "x.cell.yaml", "points.yaml", "points.csv", "x.slots.yaml"} {
			add(name, word, files[name], true)
		}
	}
	for _, line := range []string{"check x.plan.yaml --slots", "new", "new out", "families copy st out", "schema plan", "version", "help write", "moves x.plan.yaml --set", "cheque x", "completion bash", "golden . --accept"} {
		add("line", "", line, true)
	}
	return cases
}

// fuzzedTexts are files that stand for one of the folder: with every command line that reads
// it, or with one.
var fuzzedTexts = []struct {
	file, pattern string
	every         bool
}{
	{"x.plan.yaml", demoFolder + "/mortar-cubes*.plan.yaml", true}, {"x.plan.yaml", demoFolder + "/*.plan.yaml", false}, {"x.plan.yaml", badFolder + "/*.plan.*", false},
	{"x.plan.yaml", "../testdata/hostile/*.yaml", false}, {"x.plan.yaml", "../testdata/order/*.yaml", false}, {"x.plan.yaml", "../testdata/schema/*.plan.yaml", false},
	{"x.plan.yaml", "../templates/try.plan.yaml", true},
	{"x.cell.yaml", demoFolder + "/*.cell.yaml", false}, {"x.cell.yaml", badFolder + "/*.cell.yaml", false}, {"x.cell.yaml", "../testdata/schema/*.cell.yaml", false},
	{"x.measured.yaml", badFolder + "/*.measured.yaml", false}, {"x.measured.yaml", "../testdata/schema/*.measured.yaml", false},
	{"points.yaml", "../testdata/measured/*.yaml", true}, {"points.yaml", "../testdata/schema/*points.yaml", true}, {"points.csv", "../testdata/measured/*.csv", true},
	{"x.slots.yaml", "../testdata/schema/*.slots.yaml", true}, {"x.variants.yaml", "../testdata/schema/*.variants.yaml", true}, {"x.variants.yaml", demoFolder + "/*.variants.yaml", true},
	{"mine/family.yaml", "../templates/*/family.yaml", false}, {"mine/program.tmpl", "../templates/*/*.tmpl", false}, {"mine/family.yaml", "../testdata/schema/*.family.yaml", false},
	{"mine/family.yaml", "../testdata/families/*/family.yaml", false}, {"mine/program.tmpl", "../testdata/families/*/*.tmpl", false},
	{"mine/family.yaml", "../testdata/hostile-families/*/family.yaml", false}, {"mine/program.tmpl", "../testdata/hostile-families/*/program.tmpl", false},
	{"case/case.yaml", "../testdata/schema/*.case.yaml", true},
}
