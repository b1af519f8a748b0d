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
		text := sealed(t, rules, "one\ntwo\n", "three\n")
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

// TestEveryByteCounts changes, adds and takes away every single byte of a body.
func TestEveryByteCounts(t *testing.T) {
	rules := forms["brackets"]
	text := sealed(t, rules, "%\n(title: x)\nN10 G0 X-1.5 Y2\n\nN20 M10\n", "N30 M2\n%\n")
	in := inspect(t, rules, text)
	lines := strings.SplitAfter(text, "\n")
	from := len(strings.Join(lines[:in.First-1], ""))
	to := len(strings.Join(lines[:in.Last], ""))
	r := rand.New(rand.NewPCG(1, 2))
	lineEnd := func(b byte) bool { return b == '\n' || b == '\r' }
	for i := range len(text) {
		if from <= i && i < to {
			continue
		}
		for _, other := range []byte{text[i] ^ 1, text[i] ^ 32, ' ', '\n', byte(r.IntN(256))} {
			for what, changed := range map[string]string{
				"changed": text[:i] + string([]byte{other}) + text[i+1:],
				"added":   text[:i] + string([]byte{other}) + text[i:],
				"taken":   text[:i] + text[i+1:],
			} {
				if changed == text || lineEnd(other) && lineEnd(text[i]) && what == "changed" || other == '\r' {
					continue // how a line ends does not count
				}
				if what == "taken" && i == len(text)-1 || what == "added" && other == text[i] && text[i] == '\n' && i == len(text) {
					continue // nor whether the last one does
				}
				if got := inspect(t, rules, changed); got.State == Whole {
					t.Fatalf("byte %d (%q) %s (%q), and the seal is whole:\n%s", i, text[i], what, other, changed)
				}
			}
		}
	}
}

func TestLineEndsDoNotCount(t *testing.T) {
	rules := forms["brackets"]
	text := sealed(t, rules, "%\nN10 G21\n\n", "N30 M2\n%\n")
	for _, other := range []string{
		strings.ReplaceAll(text, "\n", "\r\n"), strings.ReplaceAll(text, "\n", "\r"), strings.TrimSuffix(text, "\n"),
		strings.TrimSuffix(strings.ReplaceAll(text, "\n", "\r\n"), "\r\n"),
	} {
		if in := inspect(t, rules, other); in.State != Whole {
			t.Errorf("%+v of %q", in, other)
		}
	}
	if in := inspect(t, rules, text+"\n"); in.State != Changed {
		t.Errorf("a blank line more: %+v", in)
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
	f.Fuzz(func(t *testing.T, text string) {
		rules := forms["brackets"]
		in := inspect(t, rules, text)
		if (in.State == None) != (in.First == 0) || in.First > in.Last {
			t.Errorf("%+v", in)
		}
		// What is sealed is whole, whatever it holds.
		body := strings.ReplaceAll(text, "\r", "")
		if body != "" && !strings.HasSuffix(body, "\n") {
			body += "\n"
		}
		if got := inspect(t, rules, sealed(t, rules, body, "end\n")); got.State != Whole || !reflect.DeepEqual(got.Seal.Stamp, stamp) {
			t.Errorf("sealed: %+v", got)
		}
	})
}
