package ynode

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// findings gives "LINE:COL rule" for each finding, a plain rule where there is no line.
func findings(l *diag.List) string {
	var out []string
	for _, f := range l.Sorted() {
		at := strings.TrimPrefix(strings.TrimPrefix(f.Place.String(), f.Place.File), ":")
		out = append(out, strings.TrimSpace(at+" "+f.Rule))
	}
	return strings.Join(out, ", ")
}

// show writes a tree in one line: texts as they are, quoted ones in quotes, null as ~.
func show(n Node) string {
	var parts []string
	switch n.Kind() {
	case Null:
		return "~"
	case Scalar:
		if n.Quoted() {
			return fmt.Sprintf("%q", n.Text())
		}
		return n.Text()
	case Seq:
		for _, item := range n.Items() {
			parts = append(parts, show(item))
		}
		return "[" + strings.Join(parts, " ") + "]"
	case Map:
		for _, e := range n.Entries() {
			parts = append(parts, e.Key.Text()+":"+show(e.Value))
		}
		return "{" + strings.Join(parts, " ") + "}"
	}
	return "absent"
}

func TestParse(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"block", "a: 1\nb:\n  - x\n  - {c: y}\n", "{a:1 b:[x {c:y}]}"},
		{"texts stay as written", "a: on\nb: 017\nc: 1_000\nd: 12:30:45\ne: yes\nf: .nan\ng: 0x10\nh: 2026-01-02\ni: 1e3\nj: 1.50\n",
			"{a:on b:017 c:1_000 d:12:30:45 e:yes f:.nan g:0x10 h:2026-01-02 i:1e3 j:1.50}"},
		{"null", "a:\nb: ~\nc: null\nd: 'null'\ne: ''\n", `{a:~ b:~ c:~ d:"null" e:""}`},
		{"quotes", `{a: "x\ty", b: 'it''s', c: "\u00e9"}`, `{a:"x\ty" b:"it's" c:"é"}`},
		{"texts over lines", "a: |\n  x\n  y\nb: >-\n  z\n  w\nc: p\n  q\n", `{a:"x\ny\n" b:"z w" c:p q}`},
		{"harmless tags", "a: !!str 5\nb: !!map {c: !!seq [1]}\n", `{a:"5" b:{c:[1]}}`},
		{"byte order mark", "\ufeffa: 1\n", "{a:1}"},
		{"CR LF", "a: 1\r\nb: [2,\r\n 3]\r\n", "{a:1 b:[2 3]}"},
		{"CR", "a: 1\rb: 2\r", "{a:1 b:2}"},
		{"end marks", "---\na: 1\n...\n", "{a:1}"},
		{"version", "%YAML 1.2\n---\na: 1\n", "{a:1}"},
		{"comments", "# x\na: # y\n  # z\n  - 1 # w\n\n  # v\n  - 2\n# u\nb: 3\n#t", "{a:[1 2] b:3}"},
		{"list at the top", "- 1\n- 2\n", "[1 2]"},
		{"text at the top", "hello", "hello"},
		{"JSON", "{\n\t\"a\":1,\n\t\"b\":[true,null,\"x\"],\n\t\"c\":{}\n}\n", `{a:1 b:[true ~ "x"] c:{}}`},
		{"JSON after a tab", "\t{\"a\": 1}", "{a:1}"},
		// RFC 8259, section 7: "\/" is a solidus; a character outside the basic plane is a pair of escapes (its example is G clef).
		{"JSON escapes", `{"a": "1\/2", "\uD834\uDD1E": "\uD834\uDD1E \\ \" \u00e9 \n"}`, "{a:\"1/2\" 𝄞:\"𝄞 \\\\ \\\" é \\n\"}"},
		{"aliases", "a: &x [1, 2]\nb: *x\nc: {d: *x}\n", "{a:[1 2] b:[1 2] c:{d:[1 2]}}"},
		{"alias as key", "a: &x b\n*x : 1\n", "{a:b b:1}"},
		{"anchor taken again", "a: &x 1\nb: *x\nc: &x 2\nd: *x\n", "{a:1 b:1 c:2 d:2}"},
		{"merge", "a: &x {p: 1, q: 2}\nb: {r: 3, <<: *x, p: 4}\n", "{a:{p:1 q:2} b:{r:3 q:2 p:4}}"},
		{"merge list", "a: &x {p: 1}\nb: &y {p: 2, q: 3}\nc: {<<: [*x, *y, {s: 5}]}\n", "{a:{p:1} b:{p:2 q:3} c:{p:1 q:3 s:5}}"},
		{"merge of a merge", "a: &x {p: 1}\nb: &y {<<: *x, q: 2}\nc: {<<: *y}\n", "{a:{p:1} b:{p:1 q:2} c:{p:1 q:2}}"},
		{"no merge in quotes", `{"<<": 1}`, "{<<:1}"},
		{"key of 100 characters", strings.Repeat("k", 100) + ": 1", "{" + strings.Repeat("k", 100) + ":1}"},
	}
	for _, tt := range tests {
		var l diag.List
		n, ok := Parse("f", tt.text, &l)
		if !ok || l.Len() > 0 {
			t.Errorf("%s: not accepted: %s", tt.name, findings(&l))
		}
		if got := show(n); got != tt.want {
			t.Errorf("%s: got %s, want %s", tt.name, got, tt.want)
		}
	}
}

func TestParseFindings(t *testing.T) {
	deep := func(n int) string { return strings.Repeat("[", n) + strings.Repeat("]", n) }
	bomb := "a0: &a0 [1, 1, 1, 1, 1, 1, 1, 1, 1, 1]\n"
	for i := 1; i < 9; i++ {
		bomb += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 10), ", "))
	}
	tests := []struct {
		name, text string
		usable     bool
		want       string
	}{
		{"empty", "", false, "empty-document"},
		{"comment only", "# x\n", false, "empty-document"},
		{"empty document", "---\n", false, "empty-document"},
		{"null only", "null\n", false, "empty-document"},
		{"too big", strings.Repeat("#", maxSize+1), false, "file-too-big"},
		{"second document", "a: 1\n---\nb: 2\n", true, "2:1 second-document"},
		{"empty second document", "a: 1\n---\n", true, "2:1 second-document"},
		{"after the end", "a: 1\n...\nb: 2\n", false, "3:1 yaml-syntax"},
		{"second document with a fault", "a: 1\n---\nb: [1}\n", false, "3:6 yaml-syntax"},

		{"not UTF-8", "a: é\nb: ü\xff\n", false, "2:5 not-utf8"},
		{"UTF-16", "\xff\xfea\x00:\x00", false, "1:1 not-utf8"},
		{"NUL", "a: é\x00", false, "1:5 control-character"},
		{"escape", "a: 1\r\nb: \x1b[0m", false, "2:4 control-character"},
		{"delete", "a: \x7f", false, "1:4 control-character"},
		{"next line", "a: 1\u0085b: 2", false, "1:5 control-character"},
		{"line separator", "a: \"1\u20282\"", false, "1:6 control-character"},
		{"text runs backwards", "a: \u202ex", false, "1:4 control-character"},
		{"isolate", "# \u2066x", false, "1:3 control-character"},
		{"byte order mark inside", "a: \ufeffx", false, "1:4 control-character"},
		{"noncharacter", "a: \ufdd0", false, "1:4 control-character"},

		{"tab indents", "a:\n\tb: 2\n", false, "2:1 yaml-syntax"},
		{"tab indents further down", "a:\n  b: 1\n\tc: 2\n", false, "3:1 yaml-syntax"},
		{"colon in a text", "a: b: c\n", false, "1:5 yaml-syntax"},
		{"indented too far", "a: 1\n b: 2\n", false, "2:3 yaml-syntax"},
		{"indented too little", "a:\n    b: 1\n  c: 2\n", false, "3:3 yaml-syntax"},
		{"list indented differently", "a:\n  - 1\n - 2\n", false, "3:2 yaml-syntax"},
		{"list open", "a: [1, 2\nb: 3\n", false, "2:2 yaml-syntax"},
		{"list open at the end", "a: [1, 2\n", false, "1:8 yaml-syntax"},
		{"mapping open", "a: {x: 1\nb: 3\n", false, "2:2 yaml-syntax"},
		{"wrong bracket", "a: [1, 2}\n", false, "1:9 yaml-syntax"},
		{"value missing", "a: [1,,2]", false, "1:7 yaml-syntax"},
		{"bracket too many", "a: 1]\nb: ]\n", false, "2:4 yaml-syntax"},
		{"double quotes open", "x: 1\na: \"abc\nb: 2\n", false, "2:4 yaml-syntax"},
		{"single quotes open", "a: 'abc\n", false, "1:4 yaml-syntax"},
		{"quotes inside quotes", "a: 'it's'\n", false, "1:8 yaml-syntax"},
		{"escape unknown", "b: é\na: \"é\\q\"\n", false, "2:6 yaml-syntax"},
		{"at sign", "a: @x\n", false, "1:4 yaml-syntax"},
		{"list on the key's line", "a: - 1\n", false, "1:4 yaml-syntax"},
		{"colon missing", "a: 1\nother\n", false, "2:1 yaml-syntax"},
		{"colon missing in the middle", "a: 1\nother\nb: 2\n", false, "2:1 yaml-syntax"},
		{"unknown directive", "%FOO x\n---\na: 1\n", false, "1:5 yaml-syntax"},
		{"anchor without a name", "a: & b\n", false, "1:4 yaml-syntax"},

		{"unknown anchor", "a: 1\nb: [2, *x]\n", false, "2:8 unknown-anchor"},
		{"anchor comes later", "a: *x\nb: &x 1\n", false, "1:4 unknown-anchor"},
		{"repeated key", "a: 1\nb: 2\na: 3\n", true, "3:1 duplicate-key"},
		{"repeated key, other quotes", "{a: 1, 'a': 2, \"a\": 3}", true, "1:8 duplicate-key, 1:16 duplicate-key"},
		{"repeated key inside", "x:\n  - {a: 1, b: 2, a: 3}\n", true, "2:18 duplicate-key"},
		{"repeated merge", "a: &x {b: 1}\nc: {<<: *x, <<: *x}\n", true, "2:13 duplicate-key"},
		{"repeated through an alias", "a: &x b\nb: 1\n*x : 2\n", true, "3:1 duplicate-key"},
		{"list as key", "? [a]\n: 1\n", true, "1:3 bad-key"},
		{"no key", "?\n: 1\n", true, "1:2 bad-key"},
		{"cycle", "a: &x [1, *x]\n", false, "1:11 alias-cycle"},
		{"cycle further down", "a: &x\n  b: {c: [*x]}\n", false, "2:11 alias-cycle"},
		{"cycle in a key", "? &x [*x]\n: 1\nb: *x\n", false, "1:6 bad-key, 1:7 alias-cycle"},
		{"cycle in a repeated key", "a: 1\na: &x [*x]\nb: *x\n", false, "2:1 duplicate-key, 2:8 alias-cycle"},
		{"cycle in a bad merge", "<<: &x [*x]\nb: *x\n", false, "1:9 bad-merge, 1:9 alias-cycle"},
		{"cycle in a merge", "a: &x {<<: *x}\n", false, "1:12 alias-cycle"},
		{"bomb", bomb, false, "6:25 alias-bomb"},
		{"as deep as can be", deep(maxDepth), true, ""},
		{"too deep", deep(maxDepth + 1), false, "1:101 nested-too-deep"},
		{"much too deep", strings.Repeat("[", 200_000), false, "1:10001 nested-too-deep"},
		{"too deep through an alias", "a: &x " + deep(60) + "\nb: " + strings.Repeat("[", 40) + "*x" + strings.Repeat("]", 40), false, "2:44 nested-too-deep"},
		{"deep through an alias", "a: &x " + deep(60) + "\nb: " + strings.Repeat("[", 39) + "*x" + strings.Repeat("]", 39), true, ""},
		{"merge of a text", "a: 1\n<<: 5\n", true, "2:5 bad-merge"},
		{"merge of a list of texts", "<<: [{a: 1}, 5]\n", true, "1:14 bad-merge"},
		{"merge of an alias to a text", "a: &x 1\n<<: *x\n", true, "2:5 bad-merge"},
		{"own tag", "a: !foo 1\n", true, "1:4 custom-tag"},
		{"binary", "a: &x !!binary aGk=\n", true, "1:4 custom-tag"},
		{"number tag", "a: !!int '5'\n", true, "1:4 custom-tag"},
		{"tag on a key", "!foo a: 1\n", true, "1:1 custom-tag"},
		{"tag of the wrong kind", "a: !!map [1]\n", true, "1:4 custom-tag"},
		{"tag with a handle", "a: !e!x 1\n", false, "1:4 custom-tag"},
		{"tag directive", "%TAG !e! tag:x,2026:\n---\na: !e!x 1\n", false, "1:1 custom-tag"},
		{"several at once", "a: 1\na: !x 2\nb: {<<: 3}\n", true, "2:1 duplicate-key, 2:4 custom-tag, 3:9 bad-merge"},
	}
	for _, tt := range tests {
		var l diag.List
		n, ok := Parse("f", tt.text, &l)
		if got := findings(&l); got != tt.want || ok != tt.usable || ok == n.IsZero() {
			t.Errorf("%s: got %q, usable %v; want %q, %v", tt.name, got, ok, tt.want, tt.usable)
		}
		checkFindings(t, &l, tt.text)
	}
}

// checkFindings holds what is true of every finding about a text, which messages may quote.
func checkFindings(t *testing.T, l *diag.List, given string) {
	t.Helper()
	const unprinted = "%!" // of a verb without its value
	quoted := strings.Contains(given, unprinted)
	for _, f := range l.Sorted() {
		if f.Place.File == "" || f.Place.Line < 0 || f.Place.Line > 0 && f.Place.Col < 1 {
			t.Errorf("the place of %v is %+v", f, f.Place)
		}
		if f.Message == "" || strings.HasSuffix(f.Message, ".") || !quoted && strings.Contains(f.Message+f.Hint, unprinted) {
			t.Errorf("the wording of %+v", f)
		}
	}
}

func TestNotes(t *testing.T) {
	for text, want := range map[string]string{
		"a: 1\nb: 2\na: 3\n": "f:1:1",
		"b: [1, 2\nc: 3\n":   "f:1:4",
		"a: &x\n  b: [*x]\n": "f:1:4",
	} {
		var l diag.List
		Parse("f", text, &l)
		if notes := l.Sorted()[0].Notes; len(notes) != 1 || notes[0].Place.String() != want {
			t.Errorf("%q: the notes are %v, want one at %s", text, notes, want)
		}
	}
}

// What cannot be used is left out, so that nobody reports it again.
func TestUnusableEntriesAreLeftOut(t *testing.T) {
	for text, want := range map[string]string{
		"a: 1\nb: 2\na: 3\n":      "{a:1 b:2}",
		"? [a]\n: 1\nb: 2\n":      "{b:2}",
		"<<: 5\nb: 2\n":           "{b:2}",
		"{<<: [{a: 1}, 5], b: 2}": "{b:2}",
	} {
		var l diag.List
		n, _ := Parse("f", text, &l)
		if got := show(n); got != want || l.Len() != 1 {
			t.Errorf("%q: got %s with %s, want %s", text, got, findings(&l), want)
		}
	}
}

// What the package relies on in the library and cannot see when it compiles: the marks that it keeps for itself. Without them
// every syntax finding would lose its place.
func TestMarksOfTheLibrary(t *testing.T) {
	r := newReader("a: 1\nb: [2}\n")
	_, err := r.next()
	if err == nil {
		t.Fatal("the library accepts it")
	}
	f := r.fault(err)
	if f.problem != "did not find expected ',' or ']'" || f.at != (mark{2, 6}) || f.begin != (mark{2, 4}) {
		t.Errorf("got %+v", f)
	}
	r = newReader("a: 1\nb: *x\n")
	if _, err = r.next(); err == nil {
		t.Fatal("the library accepts it")
	}
	if f := r.fault(err); f.problem != unknownAnchor+"x" || f.at != (mark{2, 4}) {
		t.Errorf("got %+v", f)
	}
}

func manyEntries(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "key%d: {a: [1, 2], b: \"é\"} # remark\n", i)
	}
	return b.String()
}

func manyOnOneLine(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, ", \"é%d\": [1, 2]", i)
	}
	return "{" + strings.TrimPrefix(b.String(), ", ") + "}"
}

// visit asks for everything that the nodes below n know and counts them. It gives up after limit nodes.
func visit(n Node, limit int) int {
	count := 1
	_, _, _ = n.Place(), n.Text(), n.Quoted()
	for _, item := range n.Items() {
		if count < limit {
			count += visit(item, limit-count)
		}
	}
	for _, e := range n.Entries() {
		if count < limit {
			count += visit(e.Key, 1) + visit(e.Value, limit-count)
		}
	}
	return count
}

func BenchmarkRead(b *testing.B) {
	for name, data := range map[string]string{"lines": manyEntries(100_000), "one line": manyOnOneLine(100_000)} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				var l diag.List
				n, ok := Parse("f", data, &l)
				if !ok || visit(n, 1<<30) < 100_000 {
					b.Fatal(findings(&l))
				}
			}
		})
	}
}

// BenchmarkHostile reads texts on which a careless reader takes the square of their length. The speed in MB/s must not fall
// when the length doubles.
func BenchmarkHostile(b *testing.B) {
	for name, part := range map[string][3]string{
		"brackets":    {"", "[", ""},
		"braces":      {"", "{", ""},
		"dashes":      {"", "- ", ""},
		"questions":   {"", "? ", ""},
		"colons":      {"{", "a:", ""},
		"anchors":     {"[", "&x ,", "]"},
		"aliases":     {"a: &x [1, 2]\nb: [", "*x,", "]"},
		"remarks":     {"a:\n", "- 1\n  # c\n\n", ""},
		"directives":  {"", "%TAG !a! b\n", ""},
		"open quotes": {`"`, "x\n", ""},
		"documents":   {"", "---\n", ""},
		"same key":    {"", "a: 1\n", ""},
		"escapes":     {`"`, `\/`, `"`},
	} {
		for _, n := range []int{1 << 15, 1 << 16} {
			text := part[0] + strings.Repeat(part[1], n) + part[2]
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.SetBytes(int64(len(text)))
				for b.Loop() {
					var l diag.List
					if node, ok := Parse("f", text, &l); ok {
						visit(node, 1<<21)
					}
				}
			})
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"a: 1\nb: [2, {c: *x}]\n", "a: &x [1]\nb: *x\n", "a: &x {<<: *x}", "{\"a\": \"\\ud83d\\ude00\\/\"}", "%YAML 1.2\n---\na: |\n  x\n",
		"? [a]\n: - b\n", "a: 'x\n", "\t{}", "a: !!str &x 'é'\n*x : 2\n", "- - - a\n  # c\n\n  - b", "\ufeffa: \"\\q\"\r\n---\n",
		"a: &a [1,1]\nb: &b [*a,*a]\nc: {<<: [*b]}\n", ">-\n x", "&a a: &b b\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var l diag.List
		n, ok := Parse("f", string(data), &l)
		if ok == n.IsZero() || !ok && !l.HasErrors() {
			t.Fatalf("usable %v, absent %v, %s", ok, n.IsZero(), findings(&l))
		}
		checkFindings(t, &l, string(data))
		checkPlaces(t, n, data, 10_000)
	})
}

// checkPlaces holds that every node stands inside its file and, where the width is known, that its text does.
func checkPlaces(t *testing.T, n Node, data []byte, limit int) int {
	t.Helper()
	if n.IsZero() || limit <= 0 {
		return limit
	}
	p := n.Place()
	var src diag.Sources
	src.Add("f", data)
	line, ok := src.Line("f", p.Line)
	if !ok && n.Kind() != Null || p.Col < 1 || p.Col-1+p.Width > len([]rune(line)) {
		t.Fatalf("%s %q at %+v of %q", n.Kind(), n.Text(), p, data)
	}
	limit--
	for _, item := range n.Items() {
		limit = checkPlaces(t, item, data, limit)
	}
	for _, e := range n.Entries() {
		limit = checkPlaces(t, e.Key, data, limit)
		limit = checkPlaces(t, e.Value, data, limit)
	}
	return limit
}

// A blank that is missing, or is none, is what the finding speaks of.
func TestBlanksThatAreMissing(t *testing.T) {
	for text, want := range map[string]string{
		"a: 1\nrows:5\nb: 2\n":               `2:5 a blank is missing behind this ":" / write "rows: 5"`,
		"a: 1\nrows 5\nb: 2\n":               `2:1 a ":" and a value are missing after this / write "key: value"; check that the line is indented like its neighbours`,
		"a:\n  - b: 1\n  -c: 2\n":            `3:3 a blank is missing behind this "-" / write "- c"`,
		"a: 1\ntitle: \"x\u00a0y\nb: 2\n":    "2:8 the quotes that open here are never closed / write the same quotes at the end of the text, or none at all",
		"a: 1\nrows:\u00a05\nb: 2\n":         "2:6 the no-break space U+00A0 stands here, which is no blank / write an ordinary blank in its place",
		"a:\n  b: 1\n  - b: 2\n":             `3:3 an entry of a list stands here, in the mapping above it / write "- " before the first entry as well`,
		"a:\n  - b: 1\n    b: 2\n":           `3:5 the key "b" stands in this mapping twice / if another entry of the list begins here, write "- " before it`,
		"a:\n  - {b: 1, b: 2}\n":             `2:12 the key "b" stands in this mapping twice / `,
		"a:\n  b: 1\n  b: 2\n":               `3:3 the key "b" stands in this mapping twice / `,
		"a:\n- b: 1\n  c: 2\n  b: 3\n  c: 4": `4:3 the key "b" stands in this mapping twice / if another entry of the list begins here, write "- " before it`,
	} {
		var l diag.List
		Parse("f", text, &l)
		all := l.Sorted()
		if len(all) != 1 {
			t.Errorf("%q: got %+v, want one finding", text, all)
			continue
		}
		f := all[0]
		if got := fmt.Sprintf("%d:%d %s / %s", f.Place.Line, f.Place.Col, f.Message, f.Hint); got != want {
			t.Errorf("%q: got\n%s, want\n%s", text, got, want)
		}
	}
}

// A mapping knows that it lost an entry.
func TestRepeated(t *testing.T) {
	for text, want := range map[string]bool{"a: 1\nb: 2\n": false, "a: 1\na: 2\n": true} {
		var l diag.List
		n, _ := Parse("f", text, &l)
		if n.Repeated() != want {
			t.Errorf("%q: got %v", text, !want)
		}
	}
	if (Node{}).Repeated() {
		t.Error("an absent node has nothing twice")
	}
}
