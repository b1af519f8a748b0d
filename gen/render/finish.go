package render

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"unicode/utf8"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/plan/wording"
)

// finisher makes program lines of what blocks write: blanks at their ends trimmed,
// numbered, measured, ended.
type finisher struct {
	family *blocks.Blocks
	number int // the next block number
}

func newFinisher(f *blocks.Blocks) finisher { return finisher{f, f.BlockNumbers.Start} }

// fault is what is wrong with a line.
type fault struct{ rule, message, hint string }

// isLike reports whether two faults of a block are reported as one.
func (f fault) isLike(other fault) bool { return f.rule == other.rule }

// finish puts the lines of one block behind out, and reports how many they are and what
// is wrong with them: the first line under each rule, of what may be a hundred thousand.
func (l *finisher) finish(out, text []byte) (_ []byte, count int, faults []fault) {
	wrong := 0
	for len(text) > 0 {
		line := text
		if end := bytes.IndexByte(text, '\n'); end < 0 {
			text = nil
		} else {
			line, text = text[:end], text[end+1:]
		}
		at := len(out)
		out = l.build(out, trimmed(line))
		if made := out[at:]; !l.plain(made) {
			if f, bad := l.checkSome(made, &wrong); bad && !slices.ContainsFunc(faults, f.isLike) {
				faults = append(faults, f)
			}
			if l.family.Encoding == rules.Latin1 {
				out = l.family.Encoding.Append(out[:at], bytes.Clone(made))
			}
		}
		out = append(out, l.family.LineEnd...)
		count++
	}
	return out, count, faults
}

// trimmed is a line without the blanks at its end.
func trimmed(line []byte) []byte {
	for n := len(line); n > 0 && (line[n-1] == ' ' || line[n-1] == '\t'); n-- {
		line = line[:n-1]
	}
	return line
}

// build puts a line behind out, with its block number.
func (l *finisher) build(out, line []byte) []byte {
	if numbers := &l.family.BlockNumbers; numbers.On() && !numbers.Skips(line, &l.family.Comment) {
		out = numbers.Append(out, l.number)
		l.number = numbers.After(l.number)
	}
	return append(out, line...)
}

// plain reports at a glance that nothing can be wrong with a finished line: it is short
// enough and holds printable ASCII only, where the family allows all of that.
func (l *finisher) plain(line []byte) bool {
	return l.family.Letters == nil && (l.family.LongestLine == 0 || len(line) <= l.family.LongestLine) && printable(line)
}

// printable reports whether all bytes are printable ASCII, from the blank to "~"; eight at a time, since every line is looked at.
func printable(line []byte) bool {
	const each, high = 0x0101010101010101, 0x8080808080808080
	for ; len(line) >= 8; line = line[8:] {
		// A byte below 0x80 gets its high bit with 1 more where it is above "~", and loses a borrowed one where it is below the blank.
		w := binary.LittleEndian.Uint64(line)
		if (w|(w&^high+each*(0x7f-'~'))|^(w&^high|high-each*0x20))&high != 0 {
			return false
		}
	}
	for _, c := range line {
		if c < 0x20 || c > '~' {
			return false
		}
	}
	return true
}

// mostWrong is how many wrong lines of one block are looked at closely: a template can
// write a hundred thousand of them for a move.
const mostWrong = 100

// checkSome is check, as long as no more lines were wrong than that.
func (l *finisher) checkSome(line []byte, wrong *int) (fault, bool) {
	if *wrong >= mostWrong {
		return fault{}, false
	}
	f, bad := l.check(line)
	if bad {
		*wrong++
	}
	return f, bad
}

// check looks closely at a finished line.
func (l *finisher) check(line []byte) (fault, bool) {
	if n := utf8.RuneCount(line); l.family.LongestLine > 0 && n > l.family.LongestLine {
		return fault{ruleLong, fmt.Sprintf("a line of the program comes out %d characters long, at most %d fit: %q", n, l.family.LongestLine, wording.Brief(string(line))), l.lengthHint(line)}, true
	}
	for _, c := range line {
		if c < utf8.RuneSelf && rules.Unfit(rune(c)) {
			return fault{rule: ruleControl, message: fmt.Sprintf("a line of the program holds the control character %U: %q", rune(c), wording.Brief(string(line)))}, true
		}
		if c >= utf8.RuneSelf {
			return l.checkRunes(line)
		}
	}
	if l.family.Letters != nil {
		return l.checkRunes(line)
	}
	return fault{}, false
}

// lengthHint says what makes a line long: the comment that the template words itself, or
// the words before it. A comment that Gridferry makes is cut and never to blame.
func (l *finisher) lengthHint(line []byte) string {
	const advice = "write fewer decimals, make two lines of it in the template, or allow a longer \"longest_line\" if the controller does"
	words := line
	if mark := bytes.TrimSpace([]byte(l.family.Comment.Open)); len(mark) > 0 {
		words, _, _ = bytes.Cut(line, mark)
		words = bytes.TrimRight(words, " ")
	}
	if n := utf8.RuneCount(words); n <= l.family.LongestLine {
		return fmt.Sprintf("without its comment it has %d characters: write {{comment …}} in the template, which is cut to fit", n)
	}
	for word := range bytes.FieldsSeq(words) {
		if n := utf8.RuneCount(word); n > l.family.LongestLine/2 {
			return fmt.Sprintf("%q alone has %d characters: %s", wording.Brief(string(word)), n, advice)
		}
	}
	return advice
}

// checkRunes is check for the few lines that are not ASCII, and for families
// that allow only some characters.
func (l *finisher) checkRunes(line []byte) (fault, bool) {
	for _, c := range string(line) {
		switch {
		case !l.family.Encoding.Has(c):
			return fault{rule: ruleLetter, message: fmt.Sprintf("a line of the program contains %q, which is not representable in %s", c, l.family.Encoding)}, true
		case rules.Unfit(c):
			return fault{rule: ruleControl, message: fmt.Sprintf("a line of the program holds the control character %U", c)}, true
		case l.family.Letters != nil && !l.family.Letters.Has(c) && c != ' ' && c != '\t':
			return fault{rule: ruleAllowed, message: fmt.Sprintf("a line of the program holds %q, which is not among the family's \"letters\": %q", c, wording.Brief(string(line)))}, true
		}
	}
	return fault{}, false
}
