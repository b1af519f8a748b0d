package ynode

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// whole is what the library makes of a text that it is shown as a whole; nil where it finds a mistake.
func whole(text string) *node {
	r := newReader(forLibrary(text))
	doc, err := r.next()
	if err != nil {
		return nil
	}
	if _, err := r.next(); !errors.Is(err, io.EOF) {
		return nil
	}
	return take(doc.Content[0], true)
}

// unlike says where two trees differ, lines read; "" where they do not.
func unlike(a, b *node) string {
	if a.kind == lineNode {
		a = follow(a)
	}
	if here := fmt.Sprint(a.kind, a.style, a.line, a.column, a.value, a.anchor(), a.tag(), a.alias() == nil, len(a.content)); here !=
		fmt.Sprint(b.kind, b.style, b.line, b.column, b.value, b.anchor(), b.tag(), b.alias() == nil, len(b.content)) {
		return fmt.Sprintf("%s, and by the library %+v", here, *b)
	}
	if a.kind == aliasNode { // which may lead to a tree around it
		a, b = a.alias(), b.alias()
		if a.line != b.line || a.column != b.column {
			return fmt.Sprintf("an alias of line %d, and by the library of line %d", a.line, b.line)
		}
		return ""
	}
	for i := range a.content {
		if words := unlike(a.content[i], b.content[i]); words != "" {
			return words
		}
	}
	return ""
}

// holdLists holds what is made of the lists in a text to the library. It gives how many lines were kept from it.
func holdLists(t *testing.T, text string) (kept int) {
	t.Helper()
	src := newSource("f", text, 0)
	if !checkText(src, new(diag.List)) {
		return 0
	}
	root := readLists(src)
	if root == nil {
		return 0
	}
	lists, _ := listsIn(src)
	for _, list := range lists {
		kept += len(list) - 1
	}
	all := whole(text)
	if all == nil {
		t.Fatalf("the library refuses this:\n%q", text)
	}
	if words := unlike(root, all); words != "" {
		t.Fatalf("%s in\n%q", words, text)
	}
	return kept
}

func TestLists(t *testing.T) {
	for text, want := range map[string]int{
		"a:\n  - {b: c}\n  - {b: d, e: 'x: # y', \"f\": \"{\"}\n  - { b : 1 }\n": 1,
		"- {a: b}\n- {a: b}\n\n- {a: b}\n- {a: c}  \n":                           2,
		"a:\n- {b: c}\r\n- {b: d}\r\nc: 1\r\n":                                   1,
		"- - {a: b}\n  - {a: b}\n  - {a: b}\n":                                   1, // the first line begins two lists
		"- {to: [a B1:C2, {x: -5.5, y: [1]}], été: über 1}\n- {é: \"ß\", b: c}":  1,
		"%YAML 1.2\n---\n- {a: b}\n- {a: b}\n":                                   1,
		"&all\n- &x {a: b}\n- {a: b}\n- {a: c}\n- *x\n":                          1,
		// In texts and brackets, and what is no list in blocks at all.
		"a: |\n  - {a: b}\n  - {a: b}\n":                       0,
		"a: \"\n  - {a: b}\n  - {a: b}\"\n":                    0,
		"a: b\n  - {a: b}\n  - {a: b}\n":                       0,
		"a: |\n  - {a: b}\n  - {a: b}\nb:\n- {a: b}\n- {a: b}": 0,
		"-  {a: b}\n - {a: b}\n":                               0,
		"-  {a: b}\n- {a: b}\n-   {a: b}\n":                    2,
		// One line that the library refuses, or reads in another way, ends the list.
		"- {a: b}\n- {a: b} # remark\n": 0,
		"- {a: b}\n- {a: b, a: c}\n":    0,
		"- {a: b}\n- {a: &b c}\n":       0,
		"- {a: b}\n- {a: *b}\n":         0,
		"- {a: b}\n- {a: !!str 1}\n":    0,
		"- {a: b}\n- {a: b\n  }\n":      0,
		"- {a: b}\n- {a: \"\\n\"}\n":    0,
		"- {a: b}\n- {a: 'it''s'}\n":    0,
		"- {a: b}\n- {a}\n":             0,
		"- {a: b}\n- {a: b,}\n":         0,
		"- {a: b}\n- {}\n":              0,
		"- {a: b}\n- [a, b]\n":          0,
		"- {a: b}\n- {a: [b: c]}\n":     0,
		"- {a: b}\n- {a: b}: c\n":       0,
		"- {a: b}\n- {<<: b}\n":         0,
		"- {a: b}\n- {a: b?}\n":         0,
		"- {a: b}\n- {a: b #c}\n":       0,
		"- {a: b}\n- {a: " + strings.Repeat("[", deepest+1) + "b" + strings.Repeat("]", deepest+1) + "}": 0,
		"- {a: b}\n- {" + strings.Repeat("a", longestHere+1) + ": b}\n":                                  0,
	} {
		if kept := holdLists(t, text); kept != want {
			t.Errorf("%d lines were kept, wanted %d of\n%s", kept, want, text)
		}
	}
}

// TestChangeOnLines: what is set, put or dropped on a line changes that line alone, also where an alias stands for the list.
func TestChangeOnLines(t *testing.T) {
	root, ok := Parse("f", "t: &t\n- {from: a, to: b}\n- {from: c, to: {d: 1}}\n- {from: e, to: f}\nu: *t\n", new(diag.List))
	if !ok || root.Child("t").raw.content[2].kind != lineNode {
		t.Fatal("no list on lines was read")
	}
	var list diag.List
	root.Set("t.2.to.d", "2", "--set", 1, &list)
	root.Put([]string{"t", "3", "from"}, "x", "--put", 1, false, &list)
	root.Set("u.1.from", "y", "--set", 1, &list)
	root.Set("u.3.to", "z", "--set", 1, &list)
	root.Drop("t", "1", "to")
	got, _ := root.Flow()
	if want := "{t: [{from: a}, {from: c, to: {d: 2}}, {from: x, to: f}], u: [{from: y, to: b}, {from: c, to: {d: 2}}, {from: e, to: z}]}"; got != want || list.Len() > 0 {
		t.Errorf("got  %s\nwant %s\n%s", got, want, findings(&list))
	}
	if at := root.Child("t").Child("2").Child("to").Child("d").Place(); at.File != "--set" {
		t.Errorf("the value that was set stands at %v", at)
	}
	if at := root.Child("t").Child("3").Child("to").Place(); at != (diag.Place{File: "f", Line: 4, Col: 17, Width: 1}) {
		t.Errorf("what was left as it was stands at %v", at)
	}
}

// TestListsOfFiles: of every file of the project that is written in YAML, as it is and with each of its lines standing there three times.
func TestListsOfFiles(t *testing.T) {
	kept := 0
	for _, pattern := range []string{"demo/*.yaml", "bad/*.yaml", "*/*/*.yaml"} {
		files, err := filepath.Glob("../../../testdata/" + pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			lines := diag.SplitLines(strings.TrimPrefix(string(data), "\ufeff"))
			kept += holdLists(t, strings.Join(lines, "\n"))
			for i, line := range lines {
				if strings.HasPrefix(strings.TrimLeft(line, " "), "- ") {
					lines[i] = line + "\n" + line + "\n" + line
				}
			}
			kept += holdLists(t, strings.Join(lines, "\n"))
		}
	}
	if kept < 200 {
		t.Errorf("only %d lines were kept", kept)
	}
}

// TestRandomLists: texts that are put together of pieces of lines, most of which stand for something in YAML.
func TestRandomLists(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	pieces := strings.Split("- |- {|{|}|[|]|: |:|, |,|a|b c|\"|'|#| # c|&x |*x|!t |on|-1|.5|1e3|~|ü|?|? |\\|%|@|<<|=|a: b|a: \"b\"|{a: b}|- {a: b}|- {a: b, c: d}|- {to: [a, b]}| |  ", "|")
	kept, texts := 0, 20_000
	if testing.Short() {
		texts /= 10
	}
	for range texts {
		var text strings.Builder
		indent := []string{"", "  ", "    "}[random.IntN(3)]
		for range 1 + random.IntN(8) {
			if random.IntN(9) == 0 {
				text.WriteString([]string{"k:\n", "k: |\n", "k: x\n", "\n", "  # c\n", "k: [\n", "  ]\n", "...\n", "---\n", "k: \"\n", "\"\n"}[random.IntN(11)])
			}
			if random.IntN(9) == 0 {
				indent = strings.Repeat(" ", random.IntN(5))
			}
			text.WriteString(indent + "- " + strings.Repeat(" ", random.IntN(5)/3) + "{a: b")
			for n := range random.IntN(3) {
				fmt.Fprintf(&text, ", k%d: %s", n, pieces[random.IntN(len(pieces))])
				if random.IntN(4) == 0 {
					text.WriteString(pieces[random.IntN(len(pieces))])
				}
			}
			text.WriteString([]string{"}", "}", "}  ", "}", "]}"}[random.IntN(5)] + []string{"\n", "\r\n", "\r"}[random.IntN(3)])
		}
		kept += holdLists(t, text.String())
	}
	if kept < texts/100 {
		t.Errorf("only %d lines were kept", kept)
	}
}

// BenchmarkLists reads a list of 100,000 entries on lines, and each of them once, beside the library alone, which gives no places and finds
// nothing that it lets pass. MB-held is what stays in memory.
func BenchmarkLists(b *testing.B) {
	text := "transfers:\n" + strings.Repeat("  - {from: tray A1, to: rack F12}\n", 100_000)
	for _, way := range []struct {
		name string
		read func() any
	}{
		{"here", func() any {
			root, ok := Parse("f", text, new(diag.List))
			if !ok || visit(root, 1<<30) < 500_000 {
				b.Fatal("not read")
			}
			return root
		}},
		{"library", func() any {
			doc, err := newReader(text).next()
			if err != nil {
				b.Fatal(err)
			}
			return doc
		}},
	} {
		b.Run(way.name, func(b *testing.B) {
			b.ReportAllocs()
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			var held any
			for b.Loop() {
				held = way.read()
			}
			runtime.GC()
			runtime.ReadMemStats(&after)
			b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB-held")
			runtime.KeepAlive(held)
		})
	}
}

func FuzzLists(f *testing.F) {
	f.Add("a:\n  - {b: c}\n  - {b: d, e: 'x: # y', \"f\": [\"{\", 1]}\n  - { b : 1 }\nc: *x")
	f.Add("- {a: b}\n- {a: b}\n  c\n- {a: b}: 1\n- {a: b}\n- {a: b} #")
	f.Add("a: |\n - {a: b}\n - {a: b}\n? - {a: b}\n  - {a: b}\n: - {x: y}\n  - {x: y}")
	f.Fuzz(func(t *testing.T, text string) { holdLists(t, strings.TrimPrefix(text, "\ufeff")) })
}
