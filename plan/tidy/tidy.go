// Package tidy makes the layout of a YAML file even: two blanks for each level, at least one behind a comma, none inside of brackets and at the
// end of a line, no three empty lines together. Comments stay, and stay in their column where there is room; so do columns that
// blanks line up. Nothing changes that the file says: what is tidied is read again and compared.
//
// It goes by the text, line by line. To write the tree of the library anew would lose empty lines, move comments and
// break lines elsewhere.
package tidy

import (
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// Text is a text with an even layout. One that is no YAML, or whose meaning would change, stays as it is.
func Text(text string) string {
	body, marked := strings.CutPrefix(text, "\ufeff")
	end := "\n"
	if strings.Contains(body, "\r\n") {
		end = "\r\n"
	}
	t := tidier{levels: []level{{-1, -2, false}}}
	for _, line := range diag.SplitLines(body) {
		t.line(line)
	}
	tidied := strings.Join(t.ended(), end)
	if marked {
		tidied = "\ufeff" + tidied
	}
	if !same(text, tidied) {
		return text
	}
	return tidied
}

// level is a mapping or a list: where its keys or dashes stand, and where they will.
type level struct {
	was, is int
	dashes  bool
}

// tidier goes through the lines.
type tidier struct {
	out     []string
	waiting []waiting
	levels  []level
	shift   int // of the last line with something in it

	block int  // a line that stands further in than this belongs to a block of text
	text  bool // in which we are
	quote byte // that is open at the end of the last line; 0 for none
	depth int  // of brackets and braces that are open there
	done  bool // what follows stays as it is
}

// waiting is a comment or an empty line: it will stand as what is behind it does or, where it stands further in, as its level.
type waiting struct {
	line  string
	in    int
	shift int
}

var (
	blockHead  = lazy.Regexp(`(?:^|: )(?:[&!]\S+ )*[|>][-+0-9]*$`)
	isDocument = lazy.Regexp(`^(?:---|\.\.\.|%)`)
)

// line takes in one line.
func (t *tidier) line(line string) {
	bare := strings.TrimLeft(line, " ")
	in := len(line) - len(bare)
	blank := strings.TrimSpace(line) == ""
	switch {
	case t.text && (blank || in > t.block):
		t.out = append(t.out, moved(line, t.shift))
		return
	case t.quote != 0: // blanks may count
		s := scan(line, t.quote, t.depth)
		t.quote, t.depth = s.quote, s.depth
		t.out = append(t.out, line)
		return
	case blank || bare[0] == '#':
		t.text = false
		t.waiting = append(t.waiting, waiting{strings.TrimRight(line, " \t"), in, t.shift})
		return
	}
	t.text = false
	t.done = t.done || isDocument().MatchString(line) || bare[0] == '\t'
	switch {
	case t.done:
		t.flush()
		t.out = append(t.out, line)
	case t.depth > 0:
		t.flush()
		t.put(line, strings.Repeat(" ", max(in+t.shift, 0)), bare)
	default:
		t.leave(in)
		is, dashes, rest := t.place(in, bare)
		t.shift = is - in
		for i := range t.waiting {
			if w := &t.waiting[i]; w.in <= in {
				w.shift = t.shift
			}
		}
		t.flush()
		t.put(line, strings.Repeat(" ", is)+dashes, rest)
	}
}

// leave moves comments that stand further in than the next line with their levels, which end there.
func (t *tidier) leave(in int) {
	for i := range t.waiting {
		w := &t.waiting[i]
		for _, l := range t.levels {
			if w.in > in && l.was <= w.in {
				w.shift = l.is - l.was
			}
		}
	}
}

// place finds where a line of a mapping or a list will stand, and what stands behind its dashes.
func (t *tidier) place(in int, bare string) (is int, dashes, rest string) {
	is = t.enter(in, isDash(bare))
	for at := in; isDash(bare); {
		behind := strings.TrimLeft(bare[1:], " ")
		if at += len(bare) - len(behind); behind == "" || behind[0] == '#' {
			return is, dashes + "-", bare[1:]
		}
		dashes, bare = dashes+"- ", behind
		t.levels = append(t.levels, level{at, is + len(dashes), isDash(bare)})
	}
	return is, dashes, bare
}

func isDash(bare string) bool { return bare == "-" || strings.HasPrefix(bare, "- ") }

// enter goes to the level of an indentation, which may be a new one.
func (t *tidier) enter(in int, dash bool) (is int) {
	for t.top().was > in || t.top().was == in && t.top().dashes && !dash {
		t.levels = t.levels[:len(t.levels)-1]
	}
	if top := t.top(); top.was < in || dash && !top.dashes {
		t.levels = append(t.levels, level{in, top.is + 2, dash})
	}
	return t.top().is
}

func (t *tidier) top() level { return t.levels[len(t.levels)-1] }

// flush puts what waits; of empty lines two at a time, and none at the beginning.
func (t *tidier) flush() {
	for _, w := range t.waiting {
		if n := len(t.out); w.line != "" || n > 0 && t.out[n-1] != "" || n > 1 && t.out[n-2] != "" {
			t.out = append(t.out, moved(w.line, w.shift))
		}
	}
	t.waiting = nil
}

// ended is all lines, with an end behind the last.
func (t *tidier) ended() []string {
	t.flush()
	for len(t.out) > 0 && t.out[len(t.out)-1] == "" {
		t.out = t.out[:len(t.out)-1]
	}
	return append(t.out, "")
}

// moved is a line further in, or further out as far as it has blanks.
func moved(line string, by int) string {
	bare := strings.TrimLeft(line, " ")
	if bare == "" {
		return line
	}
	return strings.Repeat(" ", max(len(line)-len(bare)+by, 0)) + bare
}

// put writes a line behind what is before it, its comment in the column where it was if there is room.
func (t *tidier) put(was, before, bare string) {
	s := scan(bare, 0, t.depth)
	t.quote, t.depth = s.quote, s.depth
	line := before + s.code
	if s.quote != 0 {
		line = before + bare // blanks at the end of the line may count
	}
	if t.depth == 0 && s.quote == 0 && blockHead().MatchString(s.code) {
		t.block, t.text = t.top().was, true
	}
	if s.comment != "" {
		column := utf8.RuneCountInString(was) - utf8.RuneCountInString(s.comment)
		line += strings.Repeat(" ", max(column-utf8.RuneCountInString(line), 1)) + strings.TrimRight(s.comment, " \t")
	}
	t.out = append(t.out, line)
}

// same reports whether two texts are YAML and say the same.
func same(a, b string) bool {
	before, ok := decode.File("", a, new(diag.List))
	after, also := decode.File("", b, new(diag.List))
	return ok && also && alike(before, after)
}

func alike(a, b decode.Node) bool {
	return a.Kind() == b.Kind() && a.Text() == b.Text() && a.Quoted() == b.Quoted() &&
		slices.EqualFunc(a.Items(), b.Items(), alike) &&
		slices.EqualFunc(a.Entries(), b.Entries(), func(a, b decode.Entry) bool { return alike(a.Key, b.Key) && alike(a.Value, b.Value) })
}
