package structuredtext

import (
	"strings"
	"unicode/utf8"
)

// A lexer cuts text into tokens and notes what the portable subset leaves out.
type lexer struct {
	text   []rune
	at     int
	here   Place
	tokens []token
	faults []error
	marks  []error // legal, but outside the portable subset
}

// lex gives the tokens, an end token last, and every lexical fault.
func lex(text string) *lexer {
	l := &lexer{text: []rune(text), here: Place{1, 1}}
	if !utf8.ValidString(text) {
		l.fault(l.here, iecCharacters, "the text is no valid UTF-8")
	}
	for l.space(); l.at < len(l.text); l.space() {
		l.token()
	}
	l.add(tokEnd, l.here, "", nil)
	return l
}

func (l *lexer) fault(at Place, source, format string, args ...any) {
	l.faults = append(l.faults, faultAt(at, source, format, args...))
}

func (l *lexer) mark(at Place, format string, args ...any) {
	l.marks = append(l.marks, faultAt(at, portable, format, args...))
}

func (l *lexer) add(kind tokenKind, at Place, text string, value any) {
	l.tokens = append(l.tokens, token{at, kind, text, value})
}

// peek gives the character n places on, or 0 past the end.
func (l *lexer) peek(n int) rune {
	if l.at+n < len(l.text) {
		return l.text[l.at+n]
	}
	return 0
}

func (l *lexer) next() rune {
	c := l.text[l.at]
	l.at++
	l.here.Column++
	if c == '\n' {
		l.here = Place{l.here.Line + 1, 1}
	}
	return c
}

func (l *lexer) starts(text string) bool {
	for i, c := range []rune(text) {
		if l.peek(i) != c {
			return false
		}
	}
	return true
}

func (l *lexer) skip(n int) {
	for range n {
		l.next()
	}
}

// space steps over white space, comments and pragmas.
func (l *lexer) space() {
	for l.at < len(l.text) {
		switch {
		case strings.ContainsRune(" \t\r\n", l.peek(0)):
			l.next()
		case l.starts("//"):
			for l.at < len(l.text) && l.peek(0) != '\n' {
				l.next()
			}
		case l.starts("(*"):
			l.enclosed("(*", "*)", "comment")
		case l.starts("/*"):
			l.mark(l.here, `a "/* */" comment is of edition 3 only: write "(* *)"`)
			l.enclosed("/*", "*/", "comment")
		case l.starts("{"):
			l.mark(l.here, "a pragma means something to one tool only")
			l.enclosed("{", "}", "pragma")
		default:
			return
		}
	}
}

// enclosed steps over a comment or a pragma. Nesting is an edition 3 feature
// that older tools refuse, so it is a fault here.
func (l *lexer) enclosed(open, end, what string) {
	begin := l.here
	l.skip(len(open))
	for l.at < len(l.text) {
		switch {
		case l.starts(end):
			l.skip(len(end))
			return
		case l.starts(open):
			l.fault(l.here, iecComments, "a %s inside another one, begun at %d:%d", what, begin.Line, begin.Column)
			l.skip(len(open))
		default:
			l.next()
		}
	}
	l.fault(begin, iecComments, "this %s is never closed", what)
}

func isLetter(c rune) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }
func isDigit(c rune) bool  { return c >= '0' && c <= '9' }

func (l *lexer) token() {
	switch c := l.peek(0); {
	case isLetter(c):
		l.word()
	case isDigit(c):
		l.number()
	case c == '.' && isDigit(l.peek(1)):
		l.fault(l.here, iecNumbers, "a real number wants digits on both sides of its point")
		l.next()
		l.digits()
	case c == '\'':
		l.quoted()
	case c == '%':
		l.direct()
	default:
		l.symbol()
	}
}

func (l *lexer) symbol() {
	for _, s := range symbols {
		if l.starts(s) {
			at := l.here
			l.skip(len(s))
			l.add(tokSymbol, at, s, nil)
			return
		}
	}
	l.fault(l.here, iecCharacters, "%q has no place in a program", l.peek(0))
	l.next()
}

// word reads a name, a keyword, or the type in front of a typed literal.
func (l *lexer) word() {
	at := l.here
	var b strings.Builder
	for isLetter(l.peek(0)) || isDigit(l.peek(0)) {
		b.WriteRune(l.next())
	}
	text := b.String()
	upper := strings.ToUpper(text)
	switch {
	case l.peek(0) == '#' && (upper == "T" || upper == "TIME"):
		l.next()
		l.duration(at)
	case l.peek(0) == '#':
		l.next()
		l.add(tokPrefix, at, text, nil)
	case keywords[upper]:
		l.add(tokKeyword, at, upper, nil)
	default:
		l.checkName(at, text)
		l.add(tokName, at, text, nil)
	}
}

func (l *lexer) checkName(at Place, name string) {
	switch {
	case strings.Contains(name, "__"):
		l.fault(at, iecNames, "name %q has two underscores in a row", name)
	case strings.HasSuffix(name, "_"):
		l.fault(at, iecNames, "name %q ends with an underscore", name)
	}
}

// direct reads a located variable such as %QX0.1 or %I*.
func (l *lexer) direct() {
	at := l.here
	var b strings.Builder
	b.WriteRune(l.next())
	for isLetter(l.peek(0)) || isDigit(l.peek(0)) || l.peek(0) == '.' && isDigit(l.peek(1)) || l.peek(0) == '*' {
		b.WriteRune(l.next())
	}
	text := strings.ToUpper(b.String())
	if !directForm.MatchString(text) {
		l.fault(at, "IEC 61131-3, Table 16", "%q is no direct address", text)
	}
	l.add(tokDirect, at, text, nil)
}

// quoted reads a single-byte string and holds its escapes to Table 7.
func (l *lexer) quoted() {
	at := l.here
	l.next()
	var b strings.Builder
	for l.at < len(l.text) && l.peek(0) != '\n' {
		c := l.next()
		switch {
		case c == '\'':
			l.add(tokString, at, "'"+b.String()+"'", b.String())
			return
		case c == '$':
			l.escape(&b)
		case c < ' ' || c > '~':
			l.fault(at, iecStrings, "%q may not stand in a STRING: write it as $ and two hex digits", c)
		default:
			b.WriteRune(c)
		}
	}
	l.fault(at, iecStrings, "this string is not closed on its line")
	l.add(tokString, at, "'", b.String())
}

var escapes = map[rune]string{'$': "$", '\'': "'", '"': `"`, 'L': "\n", 'N': "\n", 'P': "\f", 'R': "\r", 'T': "\t"}

func (l *lexer) escape(b *strings.Builder) {
	at := l.here
	c := l.peek(0)
	if plain, ok := escapes[upperRune(c)]; ok {
		l.next()
		b.WriteString(plain)
		return
	}
	high, low := hexValue(c), hexValue(l.peek(1))
	if high < 0 || low < 0 {
		l.fault(at, "IEC 61131-3, Table 7", `"$" begins no escape here`)
		return
	}
	l.skip(2)
	b.WriteRune(rune(high*16 + low))
}

func upperRune(c rune) rune {
	if c >= 'a' && c <= 'z' {
		return c - 'a' + 'A'
	}
	return c
}

func hexValue(c rune) int { return strings.IndexRune("0123456789ABCDEF", upperRune(c)) }
