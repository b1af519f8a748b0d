package blocks

import (
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
)

// remarkRules are rules that texts in comments meet.
var remarkRules = []string{
	`comment: {open: "(", close: ")"}`,
	`comment: {open: "(", close: ")", replace: {"(": "[", ")": "]", "tray": "rack", " A": "_A"}}`,
	`comment: {open: "(*", close: "*)", replace: {"{": "["}}`,
	`comment: {open: "; "}`,
	`comment: {open: "// ", otherwise: "-"}` + "\nencoding: ascii",
	`comment: {open: "# "}` + "\nletters: 'a-z0-9#.'\nlongest_line: 40",
	`comment: {open: "(", close: ")"}` + "\nlongest_line: 40",
	`comment: {open: "(", close: ")"}` + "\nlongest_line: 40\nblock_numbers: {prefix: N, start: 1, step: 1, highest: 999}",
	"comment: plain", "comment: plain\nlongest_line: 40", "comment: none",
}

// remarkFamily is the smallest family with such rules.
func remarkFamily(t *testing.T, rules string) *Blocks {
	t.Helper()
	files := small(`{{define "travel"}}{{.X}}{{end}}`)
	text := strings.Replace(smallRules, `comment: {open: "(", close: ")"}`, rules, 1)
	files["family.yaml"] = &fstest.MapFile{Data: []byte(text)}
	f, found := loadFound(files)
	if f == nil {
		t.Fatalf("%s: does not load: %q", rules, found)
	}
	return f
}

// randomText is words that comments have trouble with and any characters, or, as
// often, what slots are called.
func randomText(random *rand.Rand) string {
	if random.IntN(2) == 0 {
		return []string{"tray A1", "rack-2 B12.3 approach", ", plan line", "clear", ""}[random.IntN(5)]
	}
	pieces := []string{"tray", " ", "A1", "a", "B.2", ",", "(", ")", "*", "(*", "*)", ";", "#", "/", "//", `\`, `"`, "'", "{", "ä", "\u037e", "\n", "\t", "  ", "\u202e", "approach"}
	var b strings.Builder
	for range random.IntN(9) {
		if random.IntN(4) == 0 {
			b.WriteByte(byte(random.IntN(256)))
		}
		b.WriteString(pieces[random.IntN(len(pieces))])
	}
	return b.String()
}

// A remark in the short way is the one that emit makes, whatever stands before it.
func TestRemarkIsEmitted(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 5))
	quick := 0
	for _, rules := range remarkRules {
		f := remarkFamily(t, rules)
		short, long := f.NewPrinter(), f.NewPrinter()
		for range 4000 {
			a, b, c := randomText(random), randomText(random), randomText(random)
			line := []string{"", "G1 X40.000 ", "x\n", randomText(random)}[random.IntN(4)]
			for _, p := range []*Printer{short, long} {
				if err := p.begin(0); err != nil {
					t.Fatal(err)
				}
			}
			long.text = append(long.text, line...)
			text, err := joinComment(a, NewText(b), 7, c)
			want := ""
			if err == nil {
				want, err = long.emitText(text)
			}
			seven := 7
			got, ok := (&remark{[]value{{word: &a}, {word: &b, free: true}, {whole: &seven}, {word: &c}}, true}).print(short, []byte(line))
			if ok != (err == nil) || ok && string(got) != line+want || ok && short.left != long.left {
				t.Fatalf("%s: %q behind %q gives %q, %v, want %q, %v", rules, text.s, line, got, ok, line+want, err)
			}
			if short.remarks.asIs([]byte(text.s)) {
				if quick++; made(f, text.s) != short.remarks.open+text.s+short.remarks.end {
					t.Fatalf("%s: %q does not stay as it is: %q", rules, text.s, made(f, text.s))
				}
			}
		}
	}
	if quick < 1000 {
		t.Errorf("only %d texts went the quick way", quick)
	}
}

// made is a text as a comment; where a family has none, as people would read it.
func made(f *Blocks, text string) string {
	comment := f.Comment
	if comment.Form == rules.None {
		comment.Form = rules.Plain
	}
	return comment.Format(text, 0)
}

// What a slot of an ordinary plan is called takes the quick way in every shipped
// family.
func TestOrdinaryTextsStay(t *testing.T) {
	for name, f := range everyFamily(t) {
		if strings.Contains(name, "/") || f.Letters != nil {
			continue
		}
		if text := "12 travel tray A1 approach, plan line 31"; !f.NewPrinter().remarks.asIs([]byte(text)) {
			t.Errorf("%s: %q is cleaned", name, text)
		}
	}
}

func TestMentions(t *testing.T) {
	for body, want := range map[string]bool{
		"{{.Target}}": true, "{{$.Target}}": true, "{{$x := .}}{{$x.Target}}": true, "{{comment 1 .Target}}": true,
		"{{if (not .Target)}}{{end}}": true, `{{template "h" .}}{{end}}{{define "h"}}{{.Target}}`: true,
		"{{range 2}}{{end}}{{(and $ $).Target}}": true, `{{range 2}}{{$.Target}}{{end}}`: true,
		"{{.X}}": false, "Target": false, `{{"Target"}}`: false,
	} {
		f := load(small(`{{define "travel"}}`+body+`{{end}}`), "fam", new(diag.List))
		if f == nil || f.Mentions("Target") != want {
			t.Errorf("%s: loads %v, mentioned is not %v", body, f != nil, want)
		}
	}
}
