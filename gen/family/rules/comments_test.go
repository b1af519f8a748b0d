package rules

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

var (
	roundBrackets = Comment{Open: "(", Close: ")", Replace: []Replacement{{"(", "["}, {")", "]"}}, Otherwise: "?", encoding: ASCII}
	starBrackets  = Comment{Open: "(*", Close: "*)"}
	toLineEnd     = Comment{Open: "// "}
	people        = Comment{Form: Plain}
	nothing       = Comment{Form: None}
)

func TestComments(t *testing.T) {
	for _, c := range []struct {
		form       Comment
		text, want string
	}{
		{roundBrackets, "cubes (wet)", "(cubes [wet])"},
		{roundBrackets, "a\r\nM30\n) G0 Z0", "(a M30 ] G0 Z0)"},
		{roundBrackets, "Prüfkörper 20 °C, 5 µm – groß", "(Prufkorper 20 deg C, 5 um - gross)"},
		{roundBrackets, "水 and ŵ", "(? and w)"},
		{roundBrackets, "", ""},
		{roundBrackets, " \t\n", ""},
		{starBrackets, "a *) STOP := TRUE; (* b", "(* a * ) STOP := TRUE; ( * b *)"},
		{starBrackets, "(**)", "(* ( ** ) *)"},
		{starBrackets, "*", "(* * *)"},
		{starBrackets, ")", "(* ) *)"},
		{starBrackets, "*)*)", "(* * )* ) *)"},
		{toLineEnd, "carried over \\", "// carried over"}, // C joins lines at a backslash
		{toLineEnd, "a\u2028b\u2029c\u0085d\ve\ff", "// a b c d e f"},
		{people, "(left) *) \x1b[31mred\x07", "(left) *) [31mred"},
		{people, "turn\u202eround\u2066 \ufeffmarks\u200e", "turn round marks"},
		{people, "no\ufffe text\U0001ffff at all", "no text at all"},
		{nothing, "left out", ""},
	} {
		if got := c.form.Format(c.text, 0); got != c.want {
			t.Errorf("Format(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestCommentsAreCut(t *testing.T) {
	for room, want := range map[int]string{
		0: "(tray A1, approach)", 19: "(tray A1, approach)", 18: "(tray A1, appr...)", 12: "(tray A1...)", 11: "(tray A...)", 6: "(t...)", 5: "", 1: "",
	} {
		if got := roundBrackets.Format("tray A1, approach", room); got != want {
			t.Errorf("in %d characters: %q, want %q", room, got, want)
		}
	}
	if got := people.Format("水槽水槽水槽", 5); got != "水槽..." {
		t.Errorf("cut in the middle of a character: %q", got)
	}
}

// Whatever the text: one line, which begins and ends as the comment does, with
// no other mark inside.
func FuzzComments(f *testing.F) {
	for _, seed := range []string{"(*)", "*)", "**))", "((**", ";\u037e", "a\nb", "\xff\xfe", "\u202e)", "≮≯", `\`} {
		f.Add(seed, 0)
		f.Add(seed, 9)
	}
	f.Fuzz(func(t *testing.T, text string, room int) {
		for _, form := range []Comment{roundBrackets, starBrackets, toLineEnd} {
			got := form.Format(text, room)
			if got == "" {
				continue
			}
			inner, begins := strings.CutPrefix(got, form.Open)
			inner, ends := strings.CutSuffix(inner, form.Close)
			if !begins || !ends || form.Close != "" && (strings.Contains(inner, form.Close) || strings.Contains(inner, form.Open)) {
				t.Fatalf("Format(%q) = %q is no comment", text, got)
			}
			if i := strings.IndexFunc(got, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }); i >= 0 {
				t.Fatalf("Format(%q) = %q holds a control character", text, got)
			}
			if form.encoding == ASCII && strings.IndexFunc(got, func(r rune) bool { return r >= utf8.RuneSelf }) >= 0 {
				t.Fatalf("Format(%q) = %q is not ASCII", text, got)
			}
		}
	})
}

func TestInside(t *testing.T) {
	for line, want := range map[string]string{
		"":                     "",
		"X1 (* a *) Y2 ":       "",
		"X1 (* a ":             "a comment",
		"'text":                "quotes",
		`"a" 'b' `:             "",
		`'it (* is' (* "`:      "a comment",
		"(* don't *) ":         "",
		"(* a *) (* b":         "a comment",
		"MSG(\"":               "quotes",
		"x := 'a'; (* b *) ' ": "quotes",
	} {
		if got := starBrackets.Inside(line); got != want {
			t.Errorf("Inside(%q) = %q, want %q", line, got, want)
		}
	}
	if got := toLineEnd.Inside("a // b"); got != "a comment" {
		t.Errorf("a comment to the line's end: %q", got)
	}
}

// TestReplacementsDoNotMultiply: a text that grows with every replacement is cut, at a
// whole character, before it goes on to the next.
func TestReplacementsDoNotMultiply(t *testing.T) {
	grows := Comment{Form: Plain}
	for i := range 50 {
		letters := "abcdefghij"
		grows.Replace = append(grows.Replace, Replacement{letters[i%10 : i%10+1], strings.Repeat("é"+letters[(i+1)%10:(i+1)%10+1], 5)})
	}
	if got := grows.Format(strings.Repeat("a", 2000), 0); len(got) > longestReplaced || len(got) < longestReplaced-utf8.UTFMax || !utf8.ValidString(got) {
		t.Errorf("%d bytes, valid: %v", len(got), utf8.ValidString(got))
	}
}
