package render

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"unicode"
	"unicode/utf8"

	"gridferry/gen/family"
)

// lines takes what blocks write and makes program lines of it: blanks at their
// ends trimmed, numbered, measured, ended.
type lines struct {
	below  io.Writer
	out    *bufio.Writer
	family *family.Family
	budget *budget

	count  int // lines written
	number int // the next block number
	line   []byte
	bytes  []byte // the line in the family's encoding
}

func newLines(w io.Writer, f *family.Family, b *budget) *lines {
	return &lines{below: w, out: bufio.NewWriterSize(w, 64<<10), family: f, budget: b, number: f.BlockNumbers.Start}
}

// flush gives the first error that writing met.
func (l *lines) flush() error { return l.out.Flush() }

// ends tells whoever writes the file below that the lines from here on are its
// end: a seal stands before them.
func (l *lines) ends() {
	_ = l.out.Flush() // bufio keeps the error for flush
	if below, ok := l.below.(interface{ BeforeEnd() }); ok {
		below.BeforeEnd()
	}
}

// fault is what is wrong with a line.
type fault struct{ rule, message string }

// add writes the lines of one block and tells what is wrong with them.
func (l *lines) add(text []byte) (faults []fault) {
	for len(text) > 0 {
		var line []byte
		line, text, _ = bytes.Cut(text, []byte("\n"))
		l.build(bytes.TrimRight(line, " \t"))
		if f, bad := l.check(); bad {
			faults = append(faults, f)
		}
		l.count++
		if l.budget.spend(len(l.line) + len(l.family.LineEnd)); l.budget.bytes > l.budget.most {
			return faults // the rest is not wanted any more
		}
		if l.family.Encoding == family.Latin1 {
			l.bytes = l.family.Encoding.Append(l.bytes[:0], l.line)
		} else {
			l.bytes = l.line
		}
		// bufio keeps the first error for flush.
		_, _ = l.out.Write(l.bytes)
		_, _ = l.out.WriteString(l.family.LineEnd)
	}
	return faults
}

// build puts the block number before a line.
func (l *lines) build(line []byte) {
	l.line = l.line[:0]
	if numbers := &l.family.BlockNumbers; numbers.On() && !numbers.Skips(string(line), &l.family.Comment) {
		l.line = numbers.Append(l.line, l.number)
		l.number = numbers.After(l.number)
	}
	l.line = append(l.line, line...)
}

// check looks at the finished line.
func (l *lines) check() (fault, bool) {
	if n := utf8.RuneCount(l.line); l.family.LongestLine > 0 && n > l.family.LongestLine {
		return fault{ruleLong, fmt.Sprintf("a line of the program comes out %d characters long, at most %d fit: %q", n, l.family.LongestLine, start(l.line))}, true
	}
	for _, c := range l.line {
		if c < ' ' && c != '\t' || c == 0x7f {
			return fault{ruleControl, fmt.Sprintf("a line of the program holds the control character %U: %q", rune(c), start(l.line))}, true
		}
		if c >= utf8.RuneSelf {
			return l.checkRunes()
		}
	}
	if l.family.Letters != nil {
		return l.checkRunes()
	}
	return fault{}, false
}

// checkRunes is check for the few lines that are not ASCII, and for families
// that allow only some characters.
func (l *lines) checkRunes() (fault, bool) {
	for _, c := range string(l.line) {
		switch {
		case !l.family.Encoding.Has(c):
			return fault{ruleLetter, fmt.Sprintf("a line of the program holds %q, which %s has not", c, l.family.Encoding)}, true
		case unicode.IsControl(c) && c != '\t' || unicode.In(c, unicode.Zl, unicode.Zp, unicode.Bidi_Control):
			return fault{ruleControl, fmt.Sprintf("a line of the program holds the control character %U", c)}, true
		case l.family.Letters != nil && !l.family.Letters.Has(c) && c != ' ' && c != '\t':
			return fault{ruleAllowed, fmt.Sprintf("a line of the program holds %q, which is not among the family's \"letters\": %q", c, start(l.line))}, true
		}
	}
	return fault{}, false
}

// start is enough of a line to know it by.
func start(line []byte) string {
	const most = 40
	runes := []rune(string(line))
	if len(runes) <= most {
		return string(line)
	}
	return string(runes[:most]) + "…"
}
