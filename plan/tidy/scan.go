package tidy

import "strings"

// scanned is a line, or what stands behind its dashes.
type scanned struct {
	code    string // tidied
	comment string // from its "#"
	quote   byte   // that is open at the end; 0 for none
	depth   int    // of brackets and braces
}

// scanner goes through the characters of a line. A quotation mark or a bracket means something only where a value or a key
// may begin: in the middle of a text it is a character as any other.
type scanner struct {
	scanned
	out   strings.Builder
	text  string
	at    int
	last  byte // that was written; 0 for none
	fresh bool // a value or a key may begin here
	named bool // what began last is an anchor or a tag, behind which the value comes
	keyed bool // there was a key outside of brackets
}

func scan(text string, quote byte, depth int) scanned {
	s := scanner{scanned: scanned{quote: quote, depth: depth}, text: text, fresh: true}
	for s.at < len(text) && s.comment == "" {
		s.step()
	}
	s.code = s.out.String()
	return s.scanned
}

func (s *scanner) write(c byte) {
	s.out.WriteByte(c)
	s.last = c
	s.at++
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

// next is the character behind the present one; 0 behind the last.
func (s *scanner) next() byte {
	if s.at+1 < len(s.text) {
		return s.text[s.at+1]
	}
	return 0
}

func (s *scanner) step() {
	c := s.text[s.at]
	switch {
	case s.quote != 0:
		s.quoted(c)
	case c == '#' && (s.at == 0 || isBlank(s.text[s.at-1])):
		s.comment = s.text[s.at:]
	case isBlank(c):
		s.blanks()
	case c == ':' && s.endsKey():
		s.write(c)
		s.fresh, s.keyed = true, s.keyed || s.depth == 0
	case s.depth > 0 && c == ',':
		if s.write(c); s.at < len(s.text) && !isBlank(s.text[s.at]) {
			s.out.WriteByte(' ')
		}
		s.fresh = true
	case (c == '[' || c == '{') && (s.fresh || s.depth > 0):
		s.write(c)
		s.depth, s.fresh = s.depth+1, true
	case (c == ']' || c == '}') && s.depth > 0:
		s.write(c)
		s.depth, s.fresh = s.depth-1, false
	case (c == '"' || c == '\'') && s.fresh:
		s.write(c)
		s.quote, s.fresh = c, false
	default:
		s.named = s.fresh && (c == '&' || c == '!') || s.named && !s.fresh
		s.fresh = false
		s.write(c)
	}
}

// quoted takes in a character between quotation marks.
func (s *scanner) quoted(c byte) {
	double := s.quote == '"' && c == '\\' || s.quote == '\'' && c == '\'' && s.next() == '\''
	s.write(c)
	switch {
	case double && s.at < len(s.text):
		s.write(s.text[s.at])
	case c == s.quote:
		s.quote = 0
	}
}

// endsKey reports whether a colon is that behind a key.
func (s *scanner) endsKey() bool {
	next := s.next()
	if s.depth == 0 {
		return !s.keyed && (next == 0 || isBlank(next))
	}
	return next == 0 || isBlank(next) || strings.IndexByte(",]}", next) >= 0
}

// blanks takes in all that stand together: none are left inside of brackets and at the end. Elsewhere they may line columns up, and stay.
func (s *scanner) blanks() {
	from := s.at
	for s.at < len(s.text) && isBlank(s.text[s.at]) {
		s.at++
	}
	if s.at == len(s.text) || s.text[s.at] == '#' || s.last == 0 {
		return
	}
	next := s.text[s.at]
	if s.named && !s.fresh {
		s.fresh, s.named = true, false
	}
	if s.depth == 0 || s.last != '[' && s.last != '{' && strings.IndexByte(",]}", next) < 0 {
		s.out.WriteString(s.text[from:s.at])
	}
}
