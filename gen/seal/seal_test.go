package seal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"gridferry/gen/family/rules"
)

var stamp = Stamp{Version: "0.1.0", Plan: strings.Repeat("1a", 16), Family: strings.Repeat("2b", 16)}

// forms are the forms of comment that programs come in.
var forms = map[string]*rules.Rules{
	"brackets": {LineEnd: "\n", LongestLine: 256, Comment: rules.Comment{Open: "(", Close: ")"}},
	"two":      {LineEnd: "\r\n", Comment: rules.Comment{Open: "(* ", Close: " *)"}},
	"to end":   {LineEnd: "\n", LongestLine: 60, Comment: rules.Comment{Open: "; "}},
	"narrow":   {LineEnd: "\n", LongestLine: 40, Comment: rules.Comment{Open: "(* ", Close: " *)"}},
	"plain":    {LineEnd: "\n", Comment: rules.Comment{Form: rules.Plain}},
}

// sealed writes a body and an end, in pieces, as a family would.
func sealed(t testing.TB, rules *rules.Rules, body, end string) string {
	t.Helper()
	var out bytes.Buffer
	w := NewWriter(&out, rules, stamp)
	for len(body) > 0 {
		n := min(7, len(body))
		if _, err := w.Write([]byte(body[:n])); err != nil {
			t.Fatal(err)
		}
		body = body[n:]
	}
	w.BeforeEnd()
	if _, err := w.Write([]byte(end)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func inspect(t testing.TB, rules *rules.Rules, text string) Inspection {
	t.Helper()
	in, err := Inspect(strings.NewReader(text), rules)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func TestSealStandsBeforeTheEnd(t *testing.T) {
	got := sealed(t, forms["brackets"], "%\nN10 G21\n", "N20 M2\n%\n")
	sum := sha256.Sum256([]byte("%\nN10 G21\nN20 M2\n%\n"))
	digits := hex.EncodeToString(sum[:])
	want := "%\nN10 G21\n(seal 1 gridferry 0.1.0)\n(seal 2 plan " + stamp.Plan + ")\n(seal 3 family " + stamp.Family + ")\n" +
		"(seal 4 body " + digits[:32] + ")\n(seal 5 body " + digits[32:] + ")\nN20 M2\n%\n"
	if got != want {
		t.Errorf("got\n%s\nwanted\n%s", got, want)
	}
	if n := Lines(forms["brackets"]); n != 5 {
		t.Errorf("the seal is said to take %d lines", n)
	}
}

func TestEveryFormReadsBack(t *testing.T) {
	for name, rules := range forms {
		text := sealed(t, rules, "one"+rules.LineEnd+"two"+rules.LineEnd, "three"+rules.LineEnd)
		in := inspect(t, rules, text)
		if in.State != Whole || !reflect.DeepEqual(in.Seal.Stamp, stamp) || in.First != 3 || in.Last != 2+Lines(rules) {
			t.Errorf("%s: %+v of\n%s", name, in, text)
		}
		for _, line := range strings.Split(text, "\n") {
			if rules.LongestLine > 0 && len(line) > rules.LongestLine {
				t.Errorf("%s: %q is longer than %d", name, line, rules.LongestLine)
			}
		}
	}
}

func TestNoComments(t *testing.T) {
	r := &rules.Rules{LineEnd: "\n", Comment: rules.Comment{Form: rules.None}}
	if text := sealed(t, r, "one\n", "two\n"); text != "one\ntwo\n" || Fits(r) || Lines(r) != 0 {
		t.Errorf("a family without comments gets %q", text)
	}
	if in := inspect(t, r, "one\nseal 1 gridferry 1\ntwo\n"); in.State != None {
		t.Errorf("it is %+v", in)
	}
}

// TestEveryByteCounts changes, adds and takes away every single byte of a program, those of
// its seal, too. The case of the seal's letters is the controller's; a seal of another version,
// plan or family says so.
func TestEveryByteCounts(t *testing.T) {
	rules := forms["brackets"]
	text := sealed(t, rules, "%\n(title: x)\nN10 G0 X-1.5 Y2\n\nN20 M10\n", "N30 M2\n%\n")
	in := inspect(t, rules, text)
	lines := strings.SplitAfter(text, "\n")
	from, to := len(strings.Join(lines[:in.First-1], "")), len(strings.Join(lines[:in.Last], ""))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range len(text) {
		for _, other := range []byte{text[i] ^ 1, text[i] ^ 32, ' ', '\n', '\r', '\v', '\f', 0x85, byte(r.IntN(256))} {
			for what, changed := range map[string]string{
				"changed": text[:i] + string([]byte{other}) + text[i+1:],
				"added":   text[:i] + string([]byte{other}) + text[i:],
				"taken":   text[:i] + text[i+1:],
			} {
				if changed == text || from <= i && i < to && strings.EqualFold(changed, text) {
					continue
				}
				got := inspect(t, rules, changed)
				if told := from <= i && i < to && !reflect.DeepEqual(got.Seal.Stamp, stamp); got.State == Whole && !told {
					t.Fatalf("byte %d (%q) %s (%q), and the seal is whole:\n%s", i, text[i], what, other, changed)
				}
			}
		}
	}
}

// TestASealSaysNothingElse puts what a machine obeys into every line of a seal.
func TestASealSaysNothingElse(t *testing.T) {
	for name, rules := range forms {
		text := sealed(t, rules, "one"+rules.LineEnd, "two"+rules.LineEnd)
		open, end := rules.Comment.Marks()
		lines := strings.Split(text, rules.LineEnd)
		for at := 1; at < len(lines)-2; at++ {
			line := lines[at]
			inside := strings.TrimSuffix(line, end)
			for _, tampered := range []string{
				inside + strings.TrimSpace(end) + "G0X400" + strings.TrimSpace(open) + "x" + end, // the version is one word
				line + "G0X400", line + " G0 X400 " + open + "x" + end, "G0X400" + line, "G0 X400 " + line,
				inside + ";G0X400" + end, inside + " G0X400" + end, inside + "\x1b[2K" + end, inside + "\vG0" + end, inside + "\u2028G0" + end,
				line + " ", " " + line, strings.Replace(line, " ", "  ", 1), strings.Replace(line, "seal", "\u017feal", 1), strings.Replace(line, "seal ", "seal 0", 1),
			} {
				if tampered == line {
					continue
				}
				lines[at] = tampered
				if in := inspect(t, rules, strings.Join(lines, rules.LineEnd)); in.State == Whole || in.First > 0 && in.First <= at+1 && at+1 <= in.Last {
					t.Errorf("%s: %q is a line of a seal: %+v", name, tampered, in)
				}
			}
			lines[at] = line
		}
	}
}

func TestARemarkIsOneComment(t *testing.T) {
	for _, c := range []struct{ form, line, want string }{
		{"brackets", "(a b)", "a b"}, {"brackets", " ( a  b ) ", "a b"},
		{"brackets", "(a)G0X1(b)", ""}, {"brackets", "(a)(b)", ""}, {"brackets", "(a(b)", ""}, {"brackets", "N10 (a)", ""}, {"brackets", "(a) M2", ""},
		{"two", "(* a *)", "a"}, {"two", "(* a *) x := 1; (* b *)", ""}, {"two", "(*)", ""},
		{"to end", "; a", "a"}, {"to end", "; a ; b", "a ; b"}, {"to end", "M2 ; a", ""},
		{"plain", "a (b) ; c", "a (b) ; c"},
	} {
		if got := Remark(c.line, forms[c.form]); got != c.want {
			t.Errorf("%s: the remark of %q is %q, wanted %q", c.form, c.line, got, c.want)
		}
	}
}

// TestLineEndsCount turns one line end or all of them into others, and puts what some
// readers take for one into a line.
func TestLineEndsCount(t *testing.T) {
	for name, rules := range forms {
		text := sealed(t, rules, "%"+rules.LineEnd+"N10 G21"+rules.LineEnd+rules.LineEnd, "N30 M2"+rules.LineEnd+"%"+rules.LineEnd)
		ends := strings.Count(text, rules.LineEnd)
		for _, other := range []string{"\r", "\n", "\r\n", "\n\r", "\v", "\f", "\x85", "\u0085", "\u2028", "\u2029", "\ufffe", "\ufeff", "\x00", ""} {
			if other == rules.LineEnd {
				continue
			}
			for at := range ends {
				pieces := strings.SplitN(text, rules.LineEnd, at+2)
				changed := strings.Join(pieces[:at+1], rules.LineEnd) + other + pieces[at+1]
				if in := inspect(t, rules, changed); in.State == Whole || other != "" && in.OtherEnd.Line == 0 {
					t.Errorf("%s: %+v with %q in place of line end %d", name, in, other, at+1)
				}
			}
			if in := inspect(t, rules, strings.ReplaceAll(text, rules.LineEnd, other)); in.State == Whole {
				t.Errorf("%s: %+v with all line ends %q", name, in, other)
			}
		}
		if in := inspect(t, rules, text+rules.LineEnd); in.State != Changed || in.OtherEnd.Line > 0 {
			t.Errorf("%s: a blank line more: %+v", name, in)
		}
	}
	latin := &rules.Rules{LineEnd: "\n", Encoding: rules.Latin1, Comment: rules.Comment{Open: "; "}}
	if in := inspect(t, latin, "; caf\xe9\n"); in.OtherEnd.Line != 0 {
		t.Errorf("a letter of ISO 8859-1: %+v", in)
	}
	if in := inspect(t, latin, "one\n; a\x85G0\n"); in.OtherEnd != (OtherEnd{2, `holds the character "\x85", which no program may hold`}) {
		t.Errorf("NEL in ISO 8859-1: %+v", in)
	}
}

// TestTheLastSealCounts: a title or a note can say what a seal says.
func TestTheLastSealCounts(t *testing.T) {
	rules := forms["to end"]
	zeros := strings.Repeat("0", 32)
	false1 := "; seal 1 gridferry 9\n; seal 2 plan " + zeros + "\n; seal 3 family " + zeros + "\n; seal 4 body " + zeros + "\n; seal 5 body " + zeros + "\n"
	if in := inspect(t, rules, sealed(t, rules, false1+"one\n", "two\n")); in.State != Whole || in.Seal.Version != "0.1.0" {
		t.Errorf("%+v", in)
	}
	if in := inspect(t, rules, sealed(t, rules, "one\n"+false1[:60]+"\n", "two\n")); in.State != Whole {
		t.Errorf("half a seal before the seal: %+v", in)
	}
	if in := inspect(t, rules, false1+"one\n"); in.State != Changed {
		t.Errorf("a false seal alone: %+v", in)
	}
}

func TestASealInPiecesIsNone(t *testing.T) {
	rules := forms["brackets"]
	lines := strings.SplitAfter(sealed(t, rules, "one\n", "two\n"), "\n")
	for i := 1; i <= 5; i++ {
		less := strings.Join(lines[:i], "") + strings.Join(lines[i+1:], "")
		if in := inspect(t, rules, less); in.State == Whole {
			t.Errorf("without line %d: %+v", i+1, in)
		}
		split := strings.Join(lines[:i+1], "") + "three\n" + strings.Join(lines[i+1:], "")
		if in := inspect(t, rules, split); in.State == Whole {
			t.Errorf("with a line behind line %d: %+v", i+1, in)
		}
	}
}

func TestStrip(t *testing.T) {
	for name, rules := range forms {
		body, end := "one"+rules.LineEnd+rules.LineEnd, "two"+rules.LineEnd
		if got := Strip(sealed(t, rules, body, end), rules); got != body+end {
			t.Errorf("%s: %q is left of %q", name, got, body+end)
		}
		if got := Strip(body, rules); got != body {
			t.Errorf("%s: %q is left of %q, which has no seal", name, got, body)
		}
	}
}

func TestCapitals(t *testing.T) {
	rules := forms["brackets"]
	if in := inspect(t, rules, strings.ToUpper(sealed(t, rules, "ONE\n", "TWO\n"))); in.State != Whole || in.Seal.Plan != stamp.Plan {
		t.Errorf("%+v", in)
	}
}

func FuzzInspect(f *testing.F) {
	f.Add(sealed(f, forms["brackets"], "one\n", "two\n"))
	f.Add("(seal 1 gridferry 1)\n(seal 2 plan 00)\r\r\n")
	f.Add("one\v\u2028\ufffe\x85two\n")
	f.Fuzz(func(t *testing.T, text string) {
		rules := forms["brackets"]
		in := inspect(t, rules, text)
		if (in.State == None) != (in.First == 0) || in.First > in.Last {
			t.Errorf("%+v", in)
		}
		// What is sealed is whole, whatever else it holds.
		body := strings.Map(func(c rune) rune {
			if c != '\n' && unfit([]byte(string(c)), rules.Encoding) != "" {
				return -1
			}
			return c
		}, strings.ToValidUTF8(text, ""))
		if body != "" && !strings.HasSuffix(body, "\n") {
			body += "\n"
		}
		if got := inspect(t, rules, sealed(t, rules, body, "end\n")); got.State != Whole || !reflect.DeepEqual(got.Seal.Stamp, stamp) {
			t.Errorf("sealed: %+v", got)
		}
	})
}
