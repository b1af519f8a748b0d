package golden

import (
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// editor changes a text a little, as hands, editors, transfers and people who mean harm do.
// One seed, one result.
type editor struct {
	*rand.Rand
	words []string // that it puts in, beside oddWords
}

func newEditor(seed uint64, words ...string) editor {
	return editor{rand.New(rand.NewPCG(seed, 6983)), append(words, oddWords...)}
}

// edited is a text with one to four changes.
func (e editor) edited(text string) string {
	for range 1 + e.IntN(4) {
		text = edits[e.IntN(len(edits))](e, text)
	}
	return text
}

// oddWords are what a reader of text may stumble over.
var oddWords = append([]string{
	"0", "-1", "-0", "0.0005", "1e9", "1e-320", "999999999999999999999", ".inf", "NaN", "0x10", "1_000", "1,5", "1.2.3", "\u0663", "\uff11",
	"[", "]", "{", "}", ": ", "- ", "? ", "# ", "&a ", "*a", "<<: ", "!!binary ", "~", "\"", "'", "|\n", "---\n", "...\n", "null", "yes", "all", "none", "A1:Z99", "A0",
	"{{", "}}", "{{range .}}", "{{end}}", "{{define \"x\"}}", "(", ")", "(*", "*)", "\t", "\x00", "\x1b[2K", "\x7f", "\u009b", "\u202e", "\u200b", "\ufeff", "\u0430", "\xff", "e\u0301", "../", "/", "\\",
}, otherEnds...)

// edits are the single changes.
var edits = []func(editor, string) string{
	editor.turnByte, editor.cut, editor.copySpan, editor.otherEnd, editor.otherNumber, editor.otherToken, editor.putWord, editor.putLine, editor.dropLine, editor.repeatLine,
	editor.swapLines, editor.otherCase, editor.otherBlanks,
}

// span is a piece of a text of at most so many bytes.
func (e editor) span(text string, most int) (from, to int) {
	from = e.IntN(len(text) + 1)
	return from, min(len(text), from+e.IntN(most))
}

func (e editor) turnByte(text string) string {
	if text == "" {
		return text
	}
	all := []byte(text)
	all[e.IntN(len(all))] ^= 1 << e.IntN(8)
	return string(all)
}

func (e editor) cut(text string) string {
	from, to := e.span(text, 20)
	return text[:from] + text[to:]
}

func (e editor) copySpan(text string) string {
	from, to := e.span(text, 60)
	at := e.IntN(len(text) + 1)
	return text[:at] + text[from:to] + text[at:]
}

// near is the place of the first of some characters behind a random one; len(text) for none.
func (e editor) near(text, chars string) int {
	from := e.IntN(len(text) + 1)
	if at := strings.IndexAny(text[from:], chars); at >= 0 {
		return from + at
	}
	return len(text)
}

func (e editor) otherEnd(text string) string {
	at := e.near(text, "\n")
	return text[:at] + otherEnds[e.IntN(len(otherEnds))] + text[min(len(text), at+1):]
}

func (e editor) otherNumber(text string) string {
	const digits = "0123456789"
	at := e.near(text, digits)
	end := at + len(text[at:]) - len(strings.TrimLeft(text[at:], digits+"."))
	if number := text[at:end]; number != "" && e.IntN(2) == 0 {
		k := e.IntN(len(number))
		return text[:at] + number[:k] + digits[e.IntN(10):][:1] + number[k+e.IntN(2):] + text[end:]
	}
	return text[:at] + oddWords[e.IntN(15)] + text[end:]
}

// token is a run of what is no blank, behind a random place.
func (e editor) token(text string) (from, to int) {
	const blanks = " \n\t"
	from = e.near(text, blanks)
	from += len(text[from:]) - len(strings.TrimLeft(text[from:], blanks))
	if to = strings.IndexAny(text[from:], blanks); to < 0 {
		return from, len(text)
	}
	return from, from + to
}

func (e editor) otherToken(text string) string {
	from, to := e.token(text)
	a, b := e.token(text)
	return text[:from] + text[a:b] + text[to:]
}

// putWord puts one in anywhere, often where a token ends.
func (e editor) putWord(text string) string {
	at := e.IntN(len(text) + 1)
	if e.IntN(2) == 0 {
		_, at = e.token(text)
	}
	return text[:at] + e.words[e.IntN(len(e.words))] + text[at:]
}

func (e editor) putLine(text string) string {
	at := e.near(text, "\n")
	return text[:at] + "\n" + e.words[e.IntN(len(e.words))] + text[at:]
}

// lines is a text in lines, of which changes may be kept, and a random one of them.
func (e editor) lines(text string) (all []string, at int) {
	all = strings.SplitAfter(text, "\n")
	return all, e.IntN(len(all))
}

func (e editor) dropLine(text string) string {
	all, at := e.lines(text)
	return strings.Join(slices.Delete(all, at, at+1), "")
}

func (e editor) repeatLine(text string) string {
	all, at := e.lines(text)
	return strings.Join(slices.Insert(all, e.IntN(len(all)), all[at]), "")
}

func (e editor) swapLines(text string) string {
	all, at := e.lines(text)
	to := e.IntN(len(all))
	all[at], all[to] = all[to], all[at]
	return strings.Join(all, "")
}

func (e editor) otherCase(text string) string {
	at := e.IntN(len(text) + 1)
	end := min(len(text), at+1+e.IntN(8))
	if e.IntN(2) == 0 {
		return text[:at] + strings.ToUpper(text[at:end]) + text[end:]
	}
	return text[:at] + strings.ToLower(text[at:end]) + text[end:]
}

func (e editor) otherBlanks(text string) string {
	at := e.near(text, " \n")
	if e.IntN(2) == 0 {
		return text[:at] + "  "[e.IntN(2):] + text[at:]
	}
	return text[:at] + text[min(len(text), at+1):]
}

// Environment variables of the tests that edit anyhow: how many texts each of them takes,
// and the seed of the first. A seed gives the same text on every machine.
const (
	anyhowCount = "GRIDFERRY_ANYHOW"
	anyhowFrom  = "GRIDFERRY_ANYHOW_FROM"
)

// anyhow is how many texts a test takes, usual if nothing else is asked, and the first seed.
func anyhow(t *testing.T, usual uint64) (count, from uint64) {
	t.Helper()
	if testing.Short() {
		usual /= 20
	}
	count, from = usual, 1
	for name, value := range map[string]*uint64{anyhowCount: &count, anyhowFrom: &from} {
		if text := os.Getenv(name); text != "" {
			n, err := strconv.ParseUint(text, 10, 64)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			*value = n
		}
	}
	return count, from
}

// TestEditor: one seed gives one result, every change happens, and nearly all results differ.
func TestEditor(t *testing.T) {
	const text = "N10 G1 X400.000 Y0.000\n(to clear)\nN20 M2\n"
	results := map[string]bool{}
	for seed := range uint64(2000) {
		one := newEditor(seed, "word").edited(text)
		if one != newEditor(seed, "word").edited(text) {
			t.Fatalf("seed %d gives two results", seed)
		}
		results[one] = true
	}
	if len(results) < 1500 {
		t.Errorf("2000 seeds give %d results", len(results))
	}
	for i, edit := range edits {
		changed := 0
		for seed := range uint64(100) {
			e := newEditor(seed, "word")
			edit(e, "") // nothing to change is no reason to panic
			if edit(e, text) != text {
				changed++
			}
		}
		if changed < 30 {
			t.Errorf("change %d of the list changes %d texts in 100", i+1, changed)
		}
	}
}
