package seal

import (
	"fmt"
	"unicode/utf8"

	"gridferry/gen/family/rules"
)

// OtherEnd is the first line of a program that ends otherwise than the family's lines do,
// or holds a character at which only some readers end a line. What one of them takes for a
// remark another one takes for a remark and a move.
type OtherEnd struct {
	Line int    // from 1; 0 for none
	Says string // what the line does: "ends in CR and not in LF"
}

// String says it in words.
func (o *OtherEnd) String() string { return fmt.Sprintf("line %d %s", o.Line, o.Says) }

var endNames = map[string]string{"": "nothing", "\n": "LF", "\r\n": "CR LF", "\r": "CR"}

// look takes a line, counted from 0.
func (o *OtherEnd) look(number int, line, end []byte, rules *rules.Rules) {
	if o.Line > 0 {
		return
	}
	says := ""
	if foreign := unfit(line, rules.Encoding); foreign != "" {
		says = fmt.Sprintf("holds the character %+q, which no program may hold", foreign)
	} else if string(end) != rules.LineEnd {
		says = fmt.Sprintf("ends in %s and not in %s", endNames[string(end)], endNames[rules.LineEnd])
	}
	if says != "" {
		*o = OtherEnd{number + 1, says}
	}
}

// unfit is the first character of a line that no program may hold; "" for none.
func unfit(line []byte, in rules.Encoding) string {
	for at := 0; at < len(line); {
		c, size := rune(line[at]), 1
		if c >= utf8.RuneSelf && in != rules.Latin1 {
			c, size = utf8.DecodeRune(line[at:])
		}
		if rules.Unfit(c) || c == utf8.RuneError && size == 1 {
			return string(line[at : at+size])
		}
		at += size
	}
	return ""
}
