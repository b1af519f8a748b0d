package reads

import (
	"testing"

	"gridferry/gen/family/rules"
)

// cleaners are those of families with every sort of comment and of numbers.
func cleaners() []*Cleaner {
	marked := func(open, end string) rules.Comment {
		return rules.Comment{Form: rules.Marked, Open: open, Close: end}
	}
	numbered := func(prefix string) rules.BlockNumbers {
		return rules.BlockNumbers{Prefix: prefix, Start: 1, Step: 1, Highest: 9}
	}
	var all []*Cleaner
	for _, r := range []rules.Rules{
		{Comment: rules.Comment{Form: rules.None}},
		{Comment: rules.Comment{Form: rules.None}, BlockNumbers: numbered("")},
		{Comment: rules.Comment{Form: rules.Plain}},
		{Comment: rules.Comment{Form: rules.Plain}, BlockNumbers: numbered("N")},
		{Comment: marked("# ", "")},
		{Comment: marked("(* ", " *)"), BlockNumbers: numbered("N")},
		{Comment: marked("(", ")"), Encoding: rules.Latin1},
		{Comment: marked("'", "")},
		{Comment: marked("# ", ""), Quotes: rules.Quotes{Open: "<", Close: ">", Escape: `\`}},
		{Comment: marked("(", ")"), Quotes: rules.Quotes{Open: `"`, Close: `"`, Escape: `"`}},
		{Comment: marked(";", ""), Encoding: rules.UTF8, BlockNumbers: numbered("N ")},
		{Comment: marked("(", ")"), BlockNumbers: rules.BlockNumbers{Prefix: "N", Start: 1, Step: 1, Highest: 9, Unnumbered: map[string]bool{"%": true}}},
	} {
		all = append(all, NewCleaner(&r))
	}
	return all
}

// FuzzClean: what is spared a copy is what the copy would be.
func FuzzClean(f *testing.F) {
	all := cleaners()
	for _, line := range []string{
		"", " ", "G0 X1", "N10 G0 X1 (a)", "N10  G0\tX1", "x  y # a", `x "#" y # b`, "x '(*' (* a *) ", "(* a *) x", "x (* a *) y (* b *)", "x (* a", "12 x", "12x", "N 1 x",
		"caf\xe9 (x)", "caf\u00e9 ;x", " \u00a0x\u00a0 ", "\tx\t", "a \t b", "it's # x", `<a \> # b> # c`, `"a ""(" x (c)`, "((a))", "x # (", "N1\tx", "N1", "%", "% (a)", "(a) %", "12", "12\t x",
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, text string) {
		line := []byte(text)
		for _, c := range all {
			given, closed := c.Clean(line)
			got := string(given)
			copied, wantClosed := c.copied(line)
			want := string(copied)
			if got != want || closed != wantClosed {
				t.Errorf("open %q: %q is %q (%v), wanted %q (%v)", c.open, line, got, closed, want, wantClosed)
			}
			if text, plain := c.plainly(line); plain && c.isClean(text) && string(text) != want {
				t.Errorf("open %q: %q is plainly %q, wanted %q", c.open, line, text, want)
			}
		}
	})
}

// TestQuotesAreLookedForOnce: a mark that the line does not close is not looked for again,
// and what stands behind it is read all the same.
func TestQuotesAreLookedForOnce(t *testing.T) {
	for _, c := range []struct {
		quotes     rules.Quotes
		line, want string
	}{
		{rules.Quotes{Open: "<", Close: ">"}, "< < a (x) < b", "< < a < b"},
		{rules.Quotes{Open: "<", Close: ">"}, "' (w) < (x) <(z)> '", "' (w) < (x) <(z)> '"},
		{rules.Quotes{Open: "<", Close: ">", Escape: "!"}, "< !> (x) !< (y)", "< !> !<"},
		{rules.Quotes{Open: `"`, Close: `"`, Escape: `"`}, `"" "(x)" a`, `"" "(x)" a`},
		{rules.Quotes{Open: `"`, Close: `"`, Escape: `"`}, `"a""(x)"" (y)`, `"a"" ""`}, // nothing closes the first mark, and the next two are a text without a letter
	} {
		cleaner := NewCleaner(&rules.Rules{Comment: rules.Comment{Form: rules.Marked, Open: "(", Close: ")"}, Quotes: c.quotes})
		for range 2 { // what one line does not close, the next one may
			if got, closed := cleaner.copied([]byte(c.line)); string(got) != c.want || !closed {
				t.Errorf("%q is %q (%v), wanted %q", c.line, got, closed, c.want)
			}
		}
	}
}

// TestNumbersStandFirst: what looks like a number behind a comment is a word of the line, and
// a line that has no number has no comment either ("%": NISTIR 6556, 3.1).
func TestNumbersStandFirst(t *testing.T) {
	c := NewCleaner(&rules.Rules{Comment: rules.Comment{Form: rules.Marked, Open: "(", Close: ")"}, BlockNumbers: rules.BlockNumbers{Prefix: "N", Start: 1, Step: 1, Highest: 9, Unnumbered: map[string]bool{"%": true}}})
	for line, want := range map[string]string{"%": "%", "% ": "%", "% (a)": "% (a)", "(a) %": "(a) %", "N1 G0 X1 (a)": "G0 X1", " N1 (a) G0 X1": "G0 X1", "(a) N1 G0 X1": "N1 G0 X1", "(a)": "", "(a) G0 X1": "G0 X1"} {
		if got, closed := c.Clean([]byte(line)); string(got) != want || !closed {
			t.Errorf("%q is %q (%v), wanted %q", line, got, closed, want)
		}
	}
}
