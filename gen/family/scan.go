package family

import "strings"

// scan is a pattern for lines that is nothing but words and fields, taken apart: "x="
// and a number, " y=" and a number. What stands behind a field cannot belong to it,
// so that there is one way of matching and no need to search for it.
type scan []scanned

// scanned is a field with the words before it; the last one may have no field.
type scanned struct {
	before string
	field  bool
	part   func(text string) int // how much of a text the field takes; 0 for none
	inside func(c byte) bool     // tells the characters that the field may be made of
}

// parts is how fields are scanned, by their patterns.
var parts = map[string]scanned{
	aNumber: {field: true, part: number, inside: func(c byte) bool { return isDigit(c) || c == '-' || c == '+' || c == '.' }},
	aWhole:  {field: true, part: whole, inside: isDigit},
	aWord:   {field: true, part: word, inside: inWord},
}

// scanOf takes a pattern apart; nil where it is more than words and fields.
func scanOf(pattern string) scan {
	var s scan
	for pattern != "" {
		before, rest, found := strings.Cut(pattern, "{")
		if strings.ContainsAny(before, `\.+*?()[]{}|^$`) {
			return nil
		}
		if n := len(s); n > 0 && (before == "" && found || before != "" && s[n-1].inside(before[0])) {
			return nil // the end of the field before is not certain
		}
		if !found {
			return append(s, scanned{before: before})
		}
		name, behind, closed := strings.Cut(rest, "}")
		f, known := fieldNamed(name)
		p, simple := parts[readTable[f].pattern]
		if !closed || !known || !simple {
			return nil
		}
		p.before = before
		s, pattern = append(s, p), behind
	}
	return s
}

// match gives the place of the whole and of each field, as a regular expression
// does; nil where the text does not fit.
func (s scan) match(text string, at []int) []int {
	at = append(at[:0], 0, len(text))
	pos := 0
	for i := range s {
		p := &s[i]
		if !strings.HasPrefix(text[pos:], p.before) {
			return nil
		}
		pos += len(p.before)
		if !p.field {
			break
		}
		n := p.part(text[pos:])
		if n == 0 {
			return nil
		}
		at = append(at, pos, pos+n)
		pos += n
	}
	if pos != len(text) {
		return nil
	}
	return at
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func whole(text string) int {
	n := 0
	for n < len(text) && isDigit(text[n]) {
		n++
	}
	return n
}

// number takes a sign, digits and a point with or without more of them.
func number(text string) int {
	n := 0
	if text != "" && (text[0] == '-' || text[0] == '+') {
		n++
	}
	before := whole(text[n:])
	n += before
	if n == len(text) || text[n] != '.' {
		return n * min(before, 1)
	}
	behind := whole(text[n+1:])
	if before+behind == 0 {
		return 0
	}
	return n + 1 + behind
}

func inWord(c byte) bool { return !strings.ContainsRune(" \t\n\f\r,;", rune(c)) }

func word(text string) int {
	n := 0
	for n < len(text) && inWord(text[n]) {
		n++
	}
	return n
}

// Find gives the place of the whole line and of each group of the pattern, nil where
// it does not fit. It may use at for that.
func (e *Reading) Find(text string, at []int) []int {
	if e.scan != nil {
		return e.scan.match(text, at)
	}
	return e.Line.FindStringSubmatchIndex(text)
}
