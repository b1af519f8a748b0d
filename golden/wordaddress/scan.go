package wordaddress

import (
	"strconv"
	"strings"
)

// letters are those that may begin a word (3.3.2, Table 3); N is not among
// them, and E, O, U, V, W are not in the language at all.
const letters = "ABCDFGHIJKLMPQRSTXYZ"

// A scanner walks one line.
type scanner struct {
	text []rune
	at   int
	line int
}

// blanks steps over spaces and tabs, which mean nothing outside comments (3.3).
func (s *scanner) blanks() {
	for s.at < len(s.text) && (s.text[s.at] == ' ' || s.text[s.at] == '\t') {
		s.at++
	}
}

// end is what peek gives past the last character; no character has this value.
const end rune = -1

// peek gives the next character that is not a blank, upper case, or end.
func (s *scanner) peek() rune {
	s.blanks()
	if s.at == len(s.text) {
		return end
	}
	if c := s.text[s.at]; c >= 'a' && c <= 'z' {
		return c - 'a' + 'A'
	}
	return s.text[s.at]
}

func (s *scanner) column() int { return s.at + 1 }

func (s *scanner) fault(clause, format string, args ...any) *Error {
	return fault(s.line, s.column(), clause, format, args...)
}

// block reads the whole line: block delete, line number, then items (3.3).
func (s *scanner) block() (Block, *Error) {
	b := Block{Line: s.line, Number: -1}
	if s.peek() == '/' {
		b.Deleted = true
		s.at++
	}
	if s.peek() == 'N' {
		number, err := s.lineNumber()
		if err != nil {
			return b, err
		}
		b.Number = number
	}
	for s.peek() != end {
		if err := s.item(&b); err != nil {
			return b, err
		}
	}
	return b, nil
}

// item reads one word or one comment into the block.
func (s *scanner) item(b *Block) *Error {
	c := s.peek()
	switch {
	case c == '(':
		return s.comment(b)
	case c == 'N':
		return s.fault("3.3.1", `a line number must come first on its line, "N" found after other items`)
	case c == '/':
		return s.fault("3.3", `block delete "/" must be the first character of its line`)
	case c == '%':
		return s.fault("3.1", `"%%" must stand alone on its line`)
	case c == '#':
		return s.fault("3.3.3", `parameters ("#") are in the language but not read here`)
	case c >= 0 && c < 128 && strings.ContainsRune(letters, c):
		return s.word(b)
	case c >= 'A' && c <= 'Z':
		return s.fault("3.3.2", "no word begins with %q", c)
	}
	return s.fault("3.3", "a word or a comment was wanted, %q found", c)
}

// lineNumber reads N and one to five digits (3.3.1).
func (s *scanner) lineNumber() (int, *Error) {
	column := s.column()
	s.at++
	digits := s.digits()
	switch {
	case digits == "":
		return 0, s.fault("3.3.1", `"N" wants an unsigned whole number`)
	case len(digits) > 5:
		return 0, fault(s.line, column, "3.3.1", "line number %q has more than five digits", digits)
	}
	number, _ := strconv.Atoi(digits) // five digits always fit
	return number, nil
}

// comment reads one comment; a later one on the same line takes its place (3.3.5).
func (s *scanner) comment(b *Block) *Error {
	open := s.column()
	s.at++
	from := s.at
	for ; s.at < len(s.text); s.at++ {
		switch c := s.text[s.at]; {
		case c == ')':
			b.Comment = string(s.text[from:s.at])
			b.Message = isMessage(b.Comment)
			s.at++
			return nil
		case c == '(':
			return s.fault("3.3.4", "a comment may not hold another one")
		case c != '\t' && (c < ' ' || c > '~'):
			return s.fault("3.3.4", "%q may not stand in a comment: only printable ASCII, space and tab", c)
		}
	}
	return fault(s.line, open, "3.3.4", "this comment is not closed on its own line")
}

// isMessage reports whether the first printing characters are MSG, in any case,
// blanks between them allowed (3.3.4).
func isMessage(comment string) bool {
	packed := strings.NewReplacer(" ", "", "\t", "").Replace(comment)
	return len(packed) >= 4 && strings.EqualFold(packed[:4], "MSG,")
}

// word reads a letter and a real number (3.3.2).
func (s *scanner) word(b *Block) *Error {
	w := Word{Letter: byte(s.peek()), Column: s.column()}
	s.at++
	text, err := s.number(w.Letter)
	if err != nil {
		return err
	}
	w.Text = text
	w.Value, _ = strconv.ParseFloat(text, 64) // the form was checked; overflow gives an infinity
	if w.Value > 1e15 || w.Value < -1e15 {
		return fault(s.line, w.Column, "3.3.2.1", "%s keeps no accuracy: about 17 figures are held", w)
	}
	b.Words = append(b.Words, w)
	return nil
}

// number reads an optional sign, digits and at most one point, with at least
// one digit; there is no exponent (3.3.2.1). Blanks inside are dropped.
func (s *scanner) number(letter byte) (string, *Error) {
	text := ""
	if c := s.peek(); c == '+' || c == '-' {
		text = string(c)
		s.at++
	}
	whole := s.digits()
	text += whole
	part := ""
	if s.peek() == '.' {
		s.at++
		part = s.digits()
		text += "." + part
	}
	if whole == "" && part == "" {
		return "", s.noNumber(letter)
	}
	return text, nil
}

// noNumber says what stands where a number was wanted.
func (s *scanner) noNumber(letter byte) *Error {
	switch c := s.peek(); c {
	case end:
		return s.fault("3.3.2.1", "%q wants a number, the line ends", letter)
	case '[', '#':
		return s.fault("3.3.2", "expressions and parameters are in the language but not read here")
	default:
		return s.fault("3.3.2.1", "%q wants a number with at least one digit, %q found", letter, c)
	}
}

// digits reads a run of digits, blanks between them dropped.
func (s *scanner) digits() string {
	var run []rune
	for c := s.peek(); c >= '0' && c <= '9'; c = s.peek() {
		run = append(run, c)
		s.at++
	}
	return string(run)
}
