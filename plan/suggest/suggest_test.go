package suggest

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// demos is every demo file, each with the cell that its plan names.
func demos(t testing.TB) map[string][]File {
	t.Helper()
	found, err := filepath.Glob("../../testdata/demo/*.yaml")
	if err != nil || len(found) < 20 {
		t.Fatal(found, err)
	}
	all := map[string][]File{}
	for _, file := range found {
		files := []File{read(t, file)}
		for line := range strings.Lines(files[0].Text) {
			if cell, ok := strings.CutPrefix(line, "cell: "); ok {
				files = append(files, read(t, filepath.Join("../../testdata/demo", strings.Fields(cell)[0])))
			}
		}
		all[files[0].Name] = files
	}
	return all
}

func read(t testing.TB, file string) File {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return File{Name: filepath.Base(file), Text: string(data)}
}

// visit goes through all that is written in a file, with its path.
func visit(n decode.Node, path []string, key func(path []string, key decode.Node), value func(path []string, value decode.Node)) {
	for _, e := range n.Entries() {
		if e.Key.Place().Less(n.Place()) {
			continue // taken in by a merge
		}
		inner := append(slices.Clone(path), e.Key.Text())
		key(inner, e.Key)
		visit(e.Value, inner, key, value)
	}
	for i, item := range n.Items() {
		visit(item, append(slices.Clone(path), fmt.Sprint(i+1)), key, value)
	}
	if decode.IsText(n) {
		value(path, n)
	}
}

// cut is a file whose line ends n characters behind a place.
func cut(files []File, at diag.Place, n int) []File {
	lines := strings.Split(files[0].Text, "\n")
	line := []rune(lines[at.Line-1])
	lines[at.Line-1] = string(line[:at.Col-1+n])
	return append([]File{{Name: files[0].Name, Text: strings.Join(lines, "\n")}}, files[1:]...)
}

func texts(all []Suggestion) []string {
	var names []string
	for _, s := range all {
		names = append(names, s.Text)
	}
	return names
}

// TestEveryKeyIsSuggested cuts every line of the demos short at every key of a table.
func TestEveryKeyIsSuggested(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: keys of tables stand for them")
	}
	tried := 0
	for name, files := range demos(t) {
		root, ok := decode.File(name, files[0].Text, new(diag.List))
		if !ok {
			t.Fatal(name)
		}
		form := files[0].form()
		visit(root, nil, func(path []string, key decode.Node) {
			row, found := decode.Find(form, path[:len(path)-1]...)
			if keys := decode.Keys(row.Form); !found || !slices.Contains(decode.Names(keys), key.Text()) {
				return
			}
			for n := range len(key.Text()) + 1 {
				at := key.Place()
				got := Of(cut(files, at, n), name, at.Line, at.Col+n)
				if tried++; !slices.Contains(texts(got), key.Text()) {
					t.Errorf("%s: %s after %d characters: %q", at, strings.Join(path, "."), n, texts(got))
				}
			}
		}, func([]string, decode.Node) {})
	}
	if tried < 5000 {
		t.Errorf("only %d places were tried", tried)
	}
}

// TestEveryNameIsSuggested does the same for names and words.
func TestEveryNameIsSuggested(t *testing.T) {
	tried := 0
	for name, files := range demos(t) {
		root, _ := decode.File(name, files[0].Text, new(diag.List))
		form := files[0].form()
		visit(root, nil, func([]string, decode.Node) {}, func(path []string, value decode.Node) {
			row, found := decode.Find(form, path...)
			if !found {
				return
			}
			table, words := decode.NamesOf(row.Form)
			wanted := value.Text()
			if table == "grids" {
				wanted, _, _ = strings.Cut(wanted, " ")
			}
			if table == "slots" && !slices.Contains(words, wanted) || table == "" && words == nil {
				return
			}
			for n := range len(wanted) + 1 {
				if testing.Short() && n%4 != 0 {
					continue
				}
				at := value.Place()
				if value.Quoted() {
					at.Col++
				}
				got := Of(cut(files, at, n), name, at.Line, at.Col+n)
				if tried++; !slices.Contains(texts(got), wanted) {
					t.Errorf("%s: %s after %d characters: %q", at, strings.Join(path, "."), n, texts(got))
				}
			}
		})
	}
	if tried < 1000 {
		t.Errorf("only %d places were tried", tried)
	}
}

// block writes a path as a block, and says where its end stands. Names and entries of lists are made up.
func block(form decode.Form, path []string) (text string, column int) {
	indent := ""
	dash := ""
	var b strings.Builder
	for i, part := range path {
		row, _ := decode.Find(form, path[:i]...)
		if decode.ShapeOf(row.Form) == decode.Listed {
			dash += "- "
			continue
		}
		b.WriteString(indent + dash + part)
		column = len(indent+dash+part) + 1
		if i+1 < len(path) {
			b.WriteString(":\n")
		}
		indent += "  " + strings.Repeat(" ", len(dash))
		dash = ""
	}
	return b.String(), column
}

// everyKey goes through all tables of keys below a form.
func everyKey(form decode.Form, path []string, see func(path []string)) {
	row, found := decode.Find(form, path...)
	if !found || len(path) > 9 {
		return
	}
	switch decode.ShapeOf(row.Form) {
	case decode.Keyed:
		for _, k := range decode.Keys(row.Form) {
			inner := append(slices.Clone(path), k.Name)
			see(inner)
			everyKey(form, inner, see)
		}
	case decode.Tabled, decode.Listed:
		everyKey(form, append(slices.Clone(path), "1"), see)
	}
}

// TestTablesAreSuggested writes the path to every key of every table, cut short, in a file that holds nothing else.
func TestTablesAreSuggested(t *testing.T) {
	keys, tried := 0, 0
	for _, format := range []string{plan.Format, plan.CellFormat, plan.MeasuredFormat, plan.SlotsFormat, plan.VariantsFormat} {
		form, ok := plan.FormOf(format)
		if !ok {
			t.Fatal(format)
		}
		everyKey(form, nil, func(path []string) {
			if keys++; path[len(path)-1] == "format" || testing.Short() && keys%7 != 0 {
				return
			}
			text, column := block(form, path)
			text = "format: " + format + "\n" + text
			line := 1 + strings.Count(text, "\n")
			for _, short := range []int{0, 1, len(path[len(path)-1])} {
				got := Of([]File{{Name: "f.yaml", Text: text[:len(text)-short]}}, "f.yaml", line, column-short)
				if tried++; !slices.Contains(texts(got), path[len(path)-1]) {
					t.Errorf("%s, %d short: %q", strings.Join(path, "."), short, texts(got))
				}
			}
			if m, ok := Means([]File{{Name: "f.yaml", Text: text + ":"}}, "f.yaml", line, column); !ok || m.Doc == "" || m.Path != strings.Join(path, ".") {
				t.Errorf("%s is said to mean %+v", strings.Join(path, "."), m)
			}
		})
	}
	if keys < 300 || tried < keys/3 {
		t.Errorf("only %d keys were tried", tried)
	}
}

const half = `format: gridferry plan 1
cell:
  tools: {jaw: {mass: 1}}
  frames:
    bath: {at: [0, 0, 0]}
    pan:
      at: [1, 2, 3]
  poses: {high: {at: [0, 0, 1]}}
parts: {cube: {mass: 0.3}, tube: {mass: 0.1}}
grids:
  tray:
    frame: bath
    rows: 4
    columns: 6
  plate: {standard: ansi-slas-96}
motion:
  speed: {travel: 500, }
  clear: 
begin:
  - note: first
`

// TestSuggestions is what a person sees at some places: the cursor is where "|" stands in a line that is put behind a line.
func TestSuggestions(t *testing.T) {
	for _, tt := range []struct{ behind, line, wanted string }{
		{"parts:", "|", "transfers title end variants"},
		{"parts:", "tr|", "transfers"},
		{"columns: 6", "    fr|", ""}, // it is written further up
		{"columns: 6", "    fi|", "first filled"},
		{"columns: 6", "    part: |", "cube tube"},
		{"columns: 6", "    part: t|", "tube"},
		{"columns: 6", "    part: tbue|", "tube"},
		{"columns: 6", "    frame: |", "bath pan base"},
		{"columns: 6", "    filled: A|", "A1 A1:D6 A1:A6 all"},
		{"columns: 6", "    missing: [A1, B|", "B1:B6"},
		{"columns: 6", "    # fr|", ""},
		{"columns: 6", "    flow: |", "in out"},
		{"columns: 6", "    fly_by: |", ""},
		{"columns: 6", "    stagger: |", "0"},
		{"columns: 6", "    stagger: 4 |", "mm cm m um µm μm in inch ft"},
		{"columns: 6", "    stagger: 4c|", "cm"},
		{"columns: 6", "    motion: {approach: 4, ne|", ""},
		{"columns: 6", "    motion: {approach: 4, speed: {ne|", "near"},
		{"columns: 6", "    motion: {approach: 4, speed: {n|: 3}}", "near"},
		{"columns: 6", "    motion: {entry: [h|", "high"},
		{"begin:", "- dw|", "dwell"},
		{"- note: first", "  - |", "go line set pulse await dwell note"},
		{"- note: first", "  |", "go line set pulse await dwell note"},
		{"- note: first", "    |", ""}, // a step has one key
		{"- note: first", "transfers:\n  - from: |", "tray plate"},
		{"- note: first", "transfers:\n  - from: tray |", "A1 A1:D6 A1:A6 B1:B6 C1:C6 D1:D6"},
		{"- note: first", "transfers:\n  - from: plate A1, H|", "H1:H12"},
		{"- note: first", "transfers:\n  - {from: tray |, to: plate}", "A1 A1:D6 A1:A6 B1:B6 C1:C6 D1:D6"},
		{"- note: first", "transfers:\n  - chain: [tray, {grid: plate, then: [dw|]}]", "dwell"},
		{"- note: first", "transfers:\n  - ord|", "order"},
		{"- note: first", "transfers:\n- from: tray\n  o|", "order"},
		{"- note: first", "end: [{set: {output: 3, level: |}}]", "on off"},
		{"- note: first", "end: [{set: {output: 3, level:|}}]", "on off"},
		{"- note: first", "title: |\n", ""},
		{"- note: first", "note: >\n  mo|", ""},
	} {
		before, after, ok := strings.Cut(half, tt.behind+"\n")
		if !ok {
			if before, after, ok = strings.Cut(half, tt.behind); !ok {
				t.Fatal(tt.behind)
			}
			rest := ""
			rest, after, _ = strings.Cut(after, "\n")
			before += tt.behind + rest + "\n"
		} else {
			before += tt.behind + "\n"
		}
		text := before + tt.line
		at := strings.LastIndex(text, "|")
		line := 1 + strings.Count(text[:at], "\n")
		column := at - strings.LastIndex(text[:at], "\n")
		text = text[:at] + text[at+1:] + "\n" + after
		got := texts(Of([]File{{Name: "f.yaml", Text: text}}, "f.yaml", line, column))
		if strings.Join(got, " ") != tt.wanted {
			t.Errorf("%q behind %q: %q, wanted %q", tt.line, tt.behind, got, tt.wanted)
		}
	}
}

// TestInsertion is what is put where.
func TestInsertion(t *testing.T) {
	for _, tt := range []struct{ text, pick, wanted string }{
		{"gri|", "grids", "grids:|"},
		{"grids: {tray: {ro|", "rows", "grids: {tray: {rows: |"},
		{"grids: {tray: {ro|ws: 4}}", "rows", "grids: {tray: {rows|: 4}}"},
		{"grids: {tray: {mo|", "motion", "grids: {tray: {motion: |"},
		{"begin:\n  |", "note", "begin:\n  - note: |"},
		{"begin:\n  -|", "note", "begin:\n  - note: |"},
		{"motion:\n  approach:|", "mm", ""},
		{"motion:\n  approach: 4|", "mm", "motion:\n  approach: 4 mm|"},
		{"motion:\n  approach: 4 c|", "cm", "motion:\n  approach: 4 cm|"},
		{"motion:\n  along:|", "tool", "motion:\n  along: tool|"},
		{"title: \"ü\"\nmotion: {along: fr|ame}", "frame", "title: \"ü\"\nmotion: {along: frame|}"},
		{"title: ü # ü\nmotion: {note: ü, along: \"fr|\"}", "frame", "title: ü # ü\nmotion: {note: ü, along: \"frame|\"}"},
	} {
		at := strings.Index(tt.text, "|")
		got := insert(strings.Replace(tt.text, "|", "", 1), at, tt.pick)
		if got != tt.wanted {
			t.Errorf("%q: %q, wanted %q", tt.text, got, tt.wanted)
		}
	}
}

// insert takes a suggestion at a byte of a text; "" where there is none of that text.
func insert(text string, at int, pick string) string {
	line := strings.Count(text[:at], "\n")
	begin := strings.LastIndex(text[:at], "\n") + 1
	for _, s := range Of([]File{{Name: "f.yaml", Text: text}}, "f.yaml", line+1, 1+len([]rune(text[begin:at]))) {
		if s.Text == pick {
			lines := strings.Split(text, "\n")
			chars := []rune(lines[line])
			lines[line] = string(chars[:s.Column-1]) + s.Insert + "|" + string(chars[s.End-1:])
			return strings.Join(lines, "\n")
		}
	}
	return ""
}

// TestNeededComeFirst: a new grid begins with its frame.
func TestNeededComeFirst(t *testing.T) {
	got := Of([]File{{Name: "f.yaml", Text: "grids:\n  tray:\n    "}}, "f.yaml", 3, 5)
	if len(got) < 10 || got[0].Text != "frame" || got[0].Kind != Key || !strings.HasSuffix(got[0].Doc, "It has to be there.") {
		t.Errorf("%+v", got)
	}
}

// FuzzSuggest: nothing panics, and a key that is taken is a key that is known.
func FuzzSuggest(f *testing.F) {
	for _, files := range demos(f) {
		lines := strings.Split(files[0].Text, "\n")
		for n := 0; n < len(lines); n += 7 {
			f.Add(files[0].Text, n+1, len(lines[n])/2)
		}
	}
	f.Add(half, 17, 25)
	f.Fuzz(func(t *testing.T, text string, line, column int) {
		if line < 1 || line > 5000 || column < 1 || column > 5000 || len(text) > 1<<16 {
			return
		}
		text = strings.ReplaceAll(text, "format:", "title:") // a plan, whichever line is changed
		files := []File{{Name: "f.yaml", Text: text}}
		Means(files, "f.yaml", line, column)
		all := Of(files, "f.yaml", line, column)
		if len(all) > most {
			t.Fatal(len(all))
		}
		for _, s := range all[:min(len(all), 3)] {
			if s.Column < 1 || s.End < s.Column {
				t.Fatalf("%+v", s)
			}
			if s.Kind == Key {
				known(t, text, line, s)
			}
		}
	})
}

// known takes a key and asks what it means.
func known(t *testing.T, text string, line int, s Suggestion) {
	t.Helper()
	lines := diag.SplitLines(strings.TrimPrefix(text, "\ufeff"))
	chars := []rune(lines[line-1])
	lines[line-1] = string(chars[:s.Column-1]) + s.Insert + string(chars[s.End-1:])
	taken := []File{{Name: "f.yaml", Text: strings.Join(lines, "\n")}}
	m, ok := Means(taken, "f.yaml", line, s.Column+strings.Index(s.Insert, s.Text))
	if !ok || !strings.HasSuffix("."+m.Path, "."+s.Text) {
		t.Fatalf("%q taken gives %+v, in line %d of\n%s", s.Text, m, line, taken[0].Text)
	}
}

// BenchmarkSuggest: a demo, and a plan of 100,000 lines.
func BenchmarkSuggest(b *testing.B) {
	demo := read(b, "../../testdata/demo/mortar-cubes.plan.yaml")
	cell := read(b, "../../testdata/demo/bench.cell.yaml")
	long := File{Name: "long.plan.yaml", Text: demo.Text + "transfers:\n" + strings.Repeat("  - {from: tray A1, to: rack A1}\n", 100_000) + "  - {fr\n"}
	for name, tt := range map[string]struct {
		files        []File
		line, column int
	}{"demo": {[]File{demo, cell}, 13, 7}, "long": {[]File{long, cell}, strings.Count(long.Text, "\n"), 8}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if len(Of(tt.files, tt.files[0].Name, tt.line, tt.column)) == 0 {
					b.Fatal("nothing")
				}
			}
		})
	}
}
