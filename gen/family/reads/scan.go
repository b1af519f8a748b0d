package reads

import (
	"bytes"
	"regexp/syntax"
	"slices"
	"strings"
	"unicode/utf8"
)

// scan is a pattern for lines that is nothing but words and fields, some of which may
// be left out: "x=" and a number, then perhaps " y=" and a number. What stands behind
// a field cannot belong to it, and no other step begins as one that may be left out,
// so that there is one way of matching and no need to search for it; but for one text in it
// that may hold anything, which ends as late as what follows it fits. By regular
// expressions alone, reading back makes a "write" 1.6 to 2.2 times the work.
type scan []scanned

// scanned is a field with the words before it, or words alone.
type scanned struct {
	before string
	skip   int // where before does not stand, so many steps are left out with this one; 0 for none
	part   part
	mark   byte  // before the decimals of a numberPart
	field  Field // NoField for one that does not matter
}

// part is what a field is made of.
type part uint8

const (
	noPart part = iota
	numberPart
	wholePart
	wordPart
	namePart // of two words; one of a single word is a wordPart
	textPart // anything, before other words
	restPart // anything or nothing, to the end
)

// partOf is the part that a field's pattern stands for; none for those that can hold
// anything.
func partOf(f Field) part {
	switch readTable[f].pattern {
	case aNumber:
		return numberPart
	case aWhole:
		return wholePart
	case aWord:
		return wordPart
	case aName:
		return namePart
	case aText:
		return textPart
	}
	return noPart
}

// inside reports whether a part may contain a character.
func (p *scanned) inside(c byte) bool {
	switch p.part {
	case numberPart:
		return isDigit(c) || c == '-' || c == '+' || c == p.mark
	case wholePart:
		return isDigit(c)
	case wordPart, namePart, noPart, textPart, restPart:
	}
	return inWord(c)
}

// Found is one field that a pattern found in a line, and where. Where it is a number
// in figures, that is its value, infinite for one that is too large.
type Found struct {
	Field    Field
	Figure   bool
	From, To int
	Number   float64
}

// match adds the fields that it finds; false where the text does not fit. Behind a step from which on the text was met before,
// nothing is looked for.
func (s scan) match(text []byte, found []Found, met *tails, steady int) ([]Found, bool) {
	rest := text
	var end *tail
	var from, before int
	for i := 0; i < len(s); i++ {
		p := &s[i]
		if i == steady && met != nil {
			if end = met.place(rest); met.has(end, rest) {
				met.hit(end, len(found))
				return found, true
			}
			from, before = len(text)-len(rest), len(found)
		}
		if !beginsWith(rest, p.before) {
			if p.skip == 0 {
				return found, false
			}
			i += p.skip - 1
			continue
		}
		rest = rest[len(p.before):]
		switch p.part {
		case noPart:
			continue
		case textPart:
			return s[i+1:].behindText(p.field, text, len(text)-len(rest), found, met, steady-i-1)
		case restPart:
			return found, bytes.IndexByte(rest, '\n') < 0
		case numberPart, wholePart, wordPart, namePart:
		}
		number, n := p.take(rest)
		if n == 0 {
			return found, false
		}
		if p.field != NoField {
			// Filled in place: a copy of what was just put together has to wait for it.
			found = append(found, Found{})
			f, at := &found[len(found)-1], len(text)-len(rest)
			f.Field, f.Figure, f.From, f.To, f.Number = p.field, p.part == numberPart || p.part == wholePart, at, at+n, number
		}
		rest = rest[n:]
	}
	if len(rest) > 0 {
		return found, false
	}
	if end != nil {
		met.miss(end, text[from:], before)
	}
	return found, true
}

// behindText is match behind a text that may hold anything and begins at a place.
func (s scan) behindText(f Field, text []byte, at int, found []Found, met *tails, steady int) ([]Found, bool) {
	before, next := len(found), []byte(s[0].before)
	for end := at + bytes.LastIndex(text[at:], next); end > at; end = at + bytes.LastIndex(text[at:end+len(next)-1], next) {
		found = append(found[:before], Found{Field: f, From: at, To: end})
		all, fits := s.match(text[end:], found, met, steady)
		if !fits {
			continue
		}
		for i := before + 1; i < len(all); i++ {
			all[i].From, all[i].To = all[i].From+end, all[i].To+end
		}
		return all, bytes.IndexByte(text[at:end], '\n') < 0
	}
	return found[:before], false
}

func beginsWith(text []byte, word string) bool {
	return len(text) >= len(word) && string(text[:len(word)]) == word
}

// take reads the field that a text begins with: its value if it is a number, and how
// much of the text it is; 0 for none.
func (p *scanned) take(text []byte) (number float64, n int) {
	switch p.part {
	case numberPart:
		return Decimal(text, p.mark)
	case wholePart:
		return wholeDecimal(text)
	case namePart:
		return 0, name(text)
	case wordPart, noPart, textPart, restPart:
	}
	return 0, word(text)
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func inWord(c byte) bool {
	switch c {
	case ' ', '\t', '\n', '\f', '\r', ',', ';':
		return false
	}
	return true
}

func word(text []byte) int {
	n := 0
	for n < len(text) && inWord(text[n]) {
		n++
	}
	return n
}

// name is two words with a blank between them.
func name(text []byte) int {
	n := word(text)
	if n == 0 || n == len(text) || text[n] != ' ' {
		return 0
	}
	second := word(text[n+1:])
	if second == 0 {
		return 0
	}
	return n + 1 + second
}

// mostScans bounds in how many ways a pattern may be written out.
const mostScans = 16

// scansOf takes a regular expression apart into scans, of which the first that fits
// is what the expression finds; nil where it is more than words and fields.
func scansOf(source string, mark byte) []scan {
	re, err := syntax.Parse(source, syntax.Perl)
	if err != nil {
		return nil
	}
	ways, ok := marked(mark).waysOf(re)
	if !ok {
		return nil
	}
	scans := make([]scan, len(ways))
	for i, steps := range ways {
		if scans[i] = scanWith(steps); !scans[i].certain() {
			return nil
		}
	}
	if partBehindText(scans) {
		return nil
	}
	return scans
}

// leadOf is the steps with which every line begins that an expression fits, the last of them words alone; none where that cannot
// be told.
func leadOf(source string, mark byte) scan {
	re, err := syntax.Parse(source, syntax.Perl)
	if err != nil || re.Op != syntax.OpConcat {
		return nil
	}
	var steps scan
	for _, part := range re.Sub {
		ways, ok := marked(mark).waysOf(part)
		if !ok || len(ways) != 1 || len(ways[0]) != 1 || ways[0][0].skip > 0 || ways[0].hasText() {
			break
		}
		steps = append(steps, ways[0]...)
	}
	lead := scanWith(steps)
	if len(lead) == 0 || !lead.certain() {
		return nil
	}
	lead[len(lead)-1].part = noPart
	return lead
}

// leads reports whether a text begins with these steps.
func (s scan) leads(text []byte) bool {
	for i := range s {
		p := &s[i]
		if !beginsWith(text, p.before) {
			return false
		}
		if text = text[len(p.before):]; p.part == noPart {
			continue
		}
		_, n := p.take(text)
		if n == 0 {
			return false
		}
		text = text[n:]
	}
	return true
}

// partBehindText reports whether two ways are the same up to a text that may hold anything and part behind it: where that text
// ends would come before which way it is.
func partBehindText(scans []scan) bool {
	for i, s := range scans {
		at := slices.IndexFunc(s, func(p scanned) bool { return p.part == textPart })
		for _, other := range scans[:i] {
			if at >= 0 && len(other) > at && slices.Equal(s[:at+1], other[:at+1]) {
				return true
			}
		}
	}
	return false
}

// marked is the decimal mark of the numbers in patterns.
type marked byte

// waysOf writes an expression out: every way of taking its choices, the preferred one
// first. What may be left out behind words stays a choice of the steps; single words
// do not, because they may begin as what follows them, like the first zero of "00".
func (m marked) waysOf(re *syntax.Regexp) (ways []scan, ok bool) {
	switch re.Op {
	case syntax.OpEmptyMatch:
		return []scan{nil}, true
	case syntax.OpLiteral:
		// The rune of bytes that are no UTF-8 stands for any of them.
		return []scan{{{before: string(re.Rune)}}}, re.Flags&syntax.FoldCase == 0 && !slices.Contains(re.Rune, utf8.RuneError)
	case syntax.OpCapture:
		return m.waysOfGroup(re)
	case syntax.OpPlus:
		return []scan{{{part: wholePart}}}, re.Equal(wholeNumber)
	case syntax.OpStar:
		return []scan{{{part: restPart}}}, re.Equal(anything)
	case syntax.OpCharClass:
		for i := 0; i < len(re.Rune); i += 2 {
			for r := re.Rune[i]; r <= re.Rune[i+1] && len(ways) <= mostScans; r++ {
				ways = append(ways, scan{{before: string(r)}})
			}
		}
		return ways, len(ways) <= mostScans && !slices.Contains(re.Rune, utf8.RuneError)
	case syntax.OpAlternate:
		for _, sub := range re.Sub {
			more, ok := m.waysOf(sub)
			if ways = append(ways, more...); !ok || len(ways) > mostScans {
				return nil, false
			}
		}
		return ways, true
	case syntax.OpConcat:
		return m.waysInTurn(re.Sub)
	case syntax.OpQuest:
		return m.waysOfChoice(re)
	}
	return nil, false
}

var (
	wholeNumber, _ = syntax.Parse(aWhole, syntax.Perl)
	anything, _    = syntax.Parse(".*", syntax.Perl)
)

// waysOfGroup knows the fields, and groups without a name.
func (m marked) waysOfGroup(re *syntax.Regexp) ([]scan, bool) {
	if re.Name == "" {
		return m.waysOf(re.Sub[0])
	}
	f, known := fieldNamed(re.Name)
	if !known || partOf(f) == noPart {
		return nil, false
	}
	usual, err := syntax.Parse(f.pattern(byte(m)), syntax.Perl)
	ways := []scan{{{part: partOf(f), mark: byte(m), field: f}}}
	if partOf(f) == namePart {
		ways = append(ways, scan{{part: wordPart, field: f}})
	}
	return ways, err == nil && usual.Equal(re.Sub[0])
}

// waysInTurn goes through every way of each for every way of those before it.
func (m marked) waysInTurn(parts []*syntax.Regexp) ([]scan, bool) {
	ways := []scan{nil}
	for _, part := range parts {
		more, ok := m.waysOf(part)
		if !ok || len(ways)*len(more) > mostScans {
			return nil, false
		}
		var longer []scan
		for _, way := range ways {
			for _, next := range more {
				longer = append(longer, slices.Concat(way, next))
			}
		}
		ways = longer
	}
	return ways, true
}

// waysOfChoice is for what may be left out, and is only where it does not fit.
func (m marked) waysOfChoice(re *syntax.Regexp) ([]scan, bool) {
	ways, ok := m.waysOf(re.Sub[0])
	if !ok || re.Flags&syntax.NonGreedy != 0 {
		return nil, false
	}
	if len(ways) > 1 || len(ways[0]) < 2 || ways[0][0].before == "" {
		return append(ways, nil), true
	}
	group := scanWith(ways[0])
	for i := range group {
		if group[i].skip > 0 {
			return nil, false // a choice within a choice
		}
	}
	group[0].skip = len(group)
	return []scan{group}, true
}

// scanWith puts words in front of the field that follows them.
func scanWith(steps scan) scan {
	var s scan
	whole := 0 // so many of them stay as they are: those of groups that may be left out
	for _, step := range steps {
		switch last := len(s) - 1; {
		case step.skip > 0:
			whole = len(s) + step.skip
			s = append(s, step)
		case last >= whole && s[last].part == noPart:
			step.before = s[last].before + step.before
			s[last] = step
		default:
			s = append(s, step)
		}
	}
	return s
}

// certain reports whether there is one way of matching: a field ends before whatever
// may follow it, and a step that may be left out differs from what may follow then.
func (s scan) certain() bool {
	for i := range s {
		p := &s[i]
		if p.part == textPart || p.part == restPart {
			if !s.isOpen(i) {
				return false
			}
			continue
		}
		for k := range s.follows(i + 1) {
			if p.part != noPart && (k.before == "" || p.inside(k.before[0])) {
				return false
			}
		}
		if p.skip == 0 {
			continue
		}
		for k := range s.follows(i + p.skip) {
			if k.before == "" || strings.HasPrefix(k.before, p.before) || strings.HasPrefix(p.before, k.before) {
				return false
			}
		}
	}
	return true
}

// isOpen reports whether a text that may hold anything stands where its end can be told: behind steps that are all there, and at
// the end of the line, or before words and with no other such text behind it.
func (s scan) isOpen(i int) bool {
	for k := range s[:i+1] {
		if s[k].skip > i-k {
			return false
		}
	}
	if s[i].skip > 0 || s[i].part == restPart {
		return s[i].skip == 0 && i == len(s)-1
	}
	return i+1 < len(s) && s[i+1].before != "" && s[i+1].skip == 0 && !s[i+1:].hasText()
}

// hasText reports whether there is a text that may hold anything.
func (s scan) hasText() bool {
	return slices.ContainsFunc(s, func(p scanned) bool { return p.part == textPart || p.part == restPart })
}

// follows goes through the steps that may come next where the one at i would be: that
// one, and those behind it if it may be left out.
func (s scan) follows(i int) func(yield func(*scanned) bool) {
	return func(yield func(*scanned) bool) {
		for i < len(s) && yield(&s[i]) && s[i].skip > 0 {
			i += s[i].skip
		}
	}
}

// Find adds the fields of the pattern or the row that it finds in a line; false where that
// does not fit.
func (e *Entry) Find(text []byte, found []Found) ([]Found, bool) {
	return e.find(text, found, nil)
}

// find is Find for rows too, and with the ends of the lines before, if there are some: what stands in an end that
// was met is not among the fields.
func (e *Entry) find(text []byte, found []Found, met *tails) ([]Found, bool) {
	if e.Line == nil {
		met.begin(&e.steady[0])
		return e.findColumns(text, found, met, e.steady[0])
	}
	if e.scans == nil {
		met.begin(nil)
		return e.search(text, found)
	}
	before := len(found)
	for i, s := range e.scans {
		if way := &e.steady[i]; *way > 0 {
			met.begin(way)
		} else {
			met.begin(&e.whole)
		}
		if found, fits := s.match(text, found[:before], met, e.steady[i]); fits {
			return found, true
		}
	}
	return found[:before], false
}

// search is Find by the regular expression.
func (e *Entry) search(text []byte, found []Found) ([]Found, bool) {
	if len(e.Groups) == 1 {
		return found, e.Line.Match(text)
	}
	at := e.Line.FindSubmatchIndex(text)
	if at == nil {
		return found, false
	}
	for i, f := range e.Groups {
		if f != NoField && at[2*i] >= 0 {
			found = append(found, Found{Field: f, From: at[2*i], To: at[2*i+1]})
		}
	}
	return found, true
}

// IsQuick reports whether a line is compared with the entry without a search.
func (e *Entry) IsQuick() bool { return e.scans != nil || e.Line == nil }

// SingleBlanks reports whether a line that fits has no blanks in a row, no tabs and
// none of either at its ends, whichever way it fits.
func (e *Entry) SingleBlanks() bool { return e.single }

// single is SingleBlanks for a scan. Fields hold no blanks, or one between two words.
func (s scan) single() bool {
	for i := range s {
		before := s[i].before
		if strings.Contains(before, "  ") || strings.Contains(before, "\t") || s[i].part == noPart && strings.HasSuffix(before, " ") ||
			i == 0 && strings.HasPrefix(before, " ") {
			return false
		}
	}
	return s != nil && !s.hasText()
}

// CanBegin reports whether a line that begins with a byte could fit the entry.
func (e *Entry) CanBegin(c byte) bool {
	if e.Line == nil {
		return true // rows may begin with blanks and commas
	}
	if e.scans == nil {
		return e.lead == nil || e.lead[0].before == "" || e.lead[0].before[0] == c
	}
	for _, s := range e.scans {
		if len(s) == 0 || s[0].before == "" || s[0].before[0] == c || s[0].skip > 0 {
			return true
		}
	}
	return false
}
