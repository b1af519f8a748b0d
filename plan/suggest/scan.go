package suggest

import (
	"strconv"
	"strings"
)

// This file finds out among which keys a line stands, by indentation and brackets alone,
// so that it works where a text is half written and cannot be parsed.

type kind uint8

const (
	mapping  kind = iota
	list          // of dashes
	braces        // a mapping on a line
	brackets      // a list on a line
	pair          // one key with its value in brackets, without braces
)

// level is a mapping or a list that is not closed yet.
type level struct {
	kind   kind
	indent int      // of its keys or dashes; in braces and brackets, of what they stand in
	key    string   // the last one, "" where the next may come
	item   int      // the number of the last one, from 1
	filled bool     // something stands behind the last key, dash or comma
	keys   []string // all but the one at the cursor
}

func (l *level) isFlow() bool { return l.kind >= braces }

// part is the part of a path that leads on from here.
func (l *level) part() string {
	if l.kind == list || l.kind == brackets {
		return strconv.Itoa(l.item)
	}
	return l.key
}

// spot is what a cursor stands at: a key that is written, or a value.
type spot struct {
	path  []string // to the mapping of the key, or to the value
	level *level   // in which the key is, or would be; nil for a value
	below bool     // of a value: the keys of a mapping may begin here, too
	dash  bool     // of a value: it is an item that has no dash yet
	flow  bool     // in braces or brackets
	colon bool     // behind the key there is one
	tight bool     // right behind a colon
	word  string   // what stands there, up to the cursor
	start int      // of it, in bytes of the line
	end   int
}

// deepest bounds the levels: no table of keys is nearly as deep.
const deepest = 64

// scanner goes through a text line by line.
type scanner struct {
	levels  []*level
	literal int // lines that stand further in are a block of text; -1 outside of one
	number  int // of the line
	cursor  int // in bytes of the line; -1 on other lines
	found   *spot

	onKey   func(levels []*level, name string, at span)
	onValue func(levels []*level, text string, at span)
}

// span is a part of a line, in bytes.
type span struct{ line, start, end int }

func newScanner() *scanner { return &scanner{literal: -1, cursor: -1} }

// line takes in one line; false where the text is deeper than any that is understood.
func (s *scanner) line(text string) bool {
	s.number++
	in := indent(text)
	blank := strings.TrimLeft(text[in:], " \t") == ""
	if s.literal >= 0 {
		if in > s.literal || blank && s.cursor < 0 {
			return true
		}
		s.literal = -1
	}
	if s.inFlow() && !(s.endsFlow(text, in)) {
		s.flow(text, 0)
		return len(s.levels) <= deepest
	}
	s.leaveFlow()
	switch {
	case blank:
		if s.cursor >= 0 {
			s.begin(text, s.cursor, s.cursor, s.cursor)
		}
	case text[in] != '#':
		s.block(text, in, false)
	}
	return len(s.levels) <= deepest
}

func (s *scanner) top() *level {
	if len(s.levels) == 0 {
		return nil
	}
	return s.levels[len(s.levels)-1]
}

func (s *scanner) pop() { s.levels = s.levels[:len(s.levels)-1] }

func (s *scanner) push(l *level) *level {
	if top := s.top(); top != nil {
		top.filled = true
	}
	s.levels = append(s.levels, l)
	return l
}

func (s *scanner) inFlow() bool { top := s.top(); return top != nil && top.isFlow() }

func (s *scanner) leaveFlow() {
	for s.inFlow() {
		s.pop()
	}
}

// endsFlow reports whether a line shows that a bracket above was forgotten: a key or a dash, or
// where one may be begun, that stands no further in than the key before the bracket.
func (s *scanner) endsFlow(text string, in int) bool {
	if blank := in == len(text); blank || s.cursor >= 0 {
		begun := s.cursor >= 0 && (blank || strings.IndexByte("{}[],", text[in]) < 0)
		return begun && min(in, s.cursor) <= s.top().indent
	}
	if in > s.top().indent {
		return false
	}
	_, _, _, isKey := keyAt(text, in)
	return isKey || isDash(text, in)
}

// path leads to what is behind the last keys of the first n levels.
func (s *scanner) path(n int) []string {
	parts := make([]string, n)
	for i, l := range s.levels[:n] {
		parts[i] = l.part()
	}
	return parts
}

// touches reports whether the cursor is in or at the end of what stands on the line.
func (s *scanner) touches(start, end int) bool {
	return s.found == nil && start <= s.cursor && s.cursor <= end
}

// enter is the level whose keys or dashes stand at an indent.
func (s *scanner) enter(k kind, at int) *level {
	for top := s.top(); top != nil && top.indent > at; top = s.top() {
		s.pop()
	}
	top := s.top()
	if k == mapping && top != nil && top.indent == at && top.kind == list {
		s.pop() // a list may stand no further in than its key
		if top = s.top(); top != nil && top.indent < at {
			top = nil
		}
	}
	switch {
	case top == nil || top.indent < at:
		return s.push(&level{kind: k, indent: at})
	case k == list && top.kind == mapping && top.key == "" && len(top.keys) == 0:
		top.kind = list // the cursor's line could not show yet what it is
	case k == list && top.kind == mapping:
		return s.push(&level{kind: k, indent: at})
	}
	return top
}

// block takes in what stands at an indent: a dash with its item, or a key with its value.
func (s *scanner) block(text string, at int, item bool) {
	if isDash(text, at) {
		l := s.enter(list, at)
		l.item++
		l.filled = false
		next := skipBlanks(text, at+1)
		if isEnd(text, next) {
			if s.touches(at+1, next) {
				s.found = &spot{path: s.path(len(s.levels)), below: true, start: s.cursor, end: s.cursor, tight: s.cursor == at+1}
			}
			return
		}
		s.block(text, next, true)
		return
	}
	name, end, colon, isKey := keyAt(text, at)
	switch {
	case isKey:
		s.key(s.enter(mapping, at), text, name, at, end, colon)
		s.value(text, colon+1, false)
	case item || strings.IndexByte("{[", text[at]) >= 0:
		s.value(text, at, item)
	default:
		if end := scalarEnd(text, at, false); s.touches(at, end) {
			s.begin(text, at, at, end)
		}
	}
}

// key takes in a key of a level.
func (s *scanner) key(l *level, text, name string, start, end, colon int) {
	l.key, l.filled = name, false
	if s.touches(start, colon) {
		quoted := 0
		if text[start] == '"' || text[start] == '\'' {
			quoted = 1
		}
		start, end = start+quoted, end-quoted
		s.found = &spot{path: s.path(len(s.levels) - 1), level: l, flow: l.isFlow(), colon: true, word: text[start:min(max(s.cursor, start), end)], start: start, end: end}
		return
	}
	l.keys = append(l.keys, name)
	if s.onKey != nil {
		s.onKey(s.levels, name, span{s.number, start, end})
	}
}

// begin is a line on which something is begun: nothing stands there yet, or one word.
func (s *scanner) begin(text string, at, start, end int) {
	for top := s.top(); top != nil && top.indent > at; top = s.top() {
		s.pop()
	}
	if n := len(s.levels); n > 1 && s.levels[n-1].kind == list && s.levels[n-2].indent == at {
		s.pop()
	}
	here := spot{word: text[start:s.cursor], start: start, end: end}
	switch top := s.top(); {
	case top == nil:
		here.level = s.push(&level{indent: at})
		here.path = []string{}
	case top.indent == at && top.kind == mapping:
		here.level, here.path = top, s.path(len(s.levels)-1)
	case top.indent == at:
		here.path, here.below, here.dash = append(s.path(len(s.levels)-1), strconv.Itoa(top.item+1)), true, true
	case top.filled || top.part() == "":
		return
	default:
		here.path, here.below = s.path(len(s.levels)), true
		here.level = s.push(&level{indent: at})
	}
	s.found = &here
}

// value takes in what stands behind a colon or a dash.
func (s *scanner) value(text string, behind int, item bool) {
	at := skipBlanks(text, behind)
	for at < len(text) && (text[at] == '&' || text[at] == '!') {
		for at < len(text) && text[at] != ' ' {
			at++
		}
		at = skipBlanks(text, at)
	}
	top := s.top()
	if isEnd(text, at) {
		if s.touches(behind, at) {
			s.found = &spot{path: s.path(len(s.levels)), start: s.cursor, end: s.cursor, tight: s.cursor == behind}
		}
		return
	}
	if top != nil {
		top.filled = true
	}
	switch text[at] {
	case '{', '[':
		s.flow(text, at)
	case '|', '>':
		s.literal = -1
		if top != nil {
			s.literal = top.indent
		}
	default:
		s.scalar(text, at, scalarEnd(text, at, false), item)
	}
}

// scalar takes in a value that is a text.
func (s *scanner) scalar(text string, start, end int, item bool) {
	if s.onValue != nil {
		s.onValue(s.levels, unquoted(text[start:end]), span{s.number, start, end})
	}
	reach := end
	if next := skipBlanks(text, end); next == len(text) || strings.IndexByte(",]}#", text[next]) >= 0 {
		reach = next
	}
	if next := text[start]; next == '"' || next == '\'' {
		start++
		if end > start && text[end-1] == next {
			end--
		}
		reach = end
	}
	if s.touches(start, reach) {
		s.found = &spot{path: s.path(len(s.levels)), below: item, flow: s.inFlow(), word: text[start:s.cursor], start: start, end: max(end, s.cursor)}
	}
}

// flow takes in what stands in braces and brackets, up to their end or that of the line.
func (s *scanner) flow(text string, at int) {
	for {
		from := at
		at = skipBlanks(text, at)
		if s.inFlow() && s.touches(from, at) && (at == len(text) || strings.IndexByte(",]}#", text[at]) >= 0) {
			s.found = s.inside()
		}
		if at == len(text) || isEnd(text, at) {
			return
		}
		switch c := text[at]; c {
		case '{':
			s.push(&level{kind: braces, indent: s.indent()})
		case '[':
			s.push(&level{kind: brackets, indent: s.indent(), item: 1})
		case ',', '}', ']':
			if top := s.top(); top != nil && top.kind == pair {
				s.pop()
			}
			if !s.inFlow() {
				return
			}
			if c != ',' {
				s.pop()
				if !s.inFlow() {
					return
				}
				break
			}
			top := s.top()
			top.item, top.key, top.filled = top.item+1, "", false
		default:
			at = s.token(text, at)
			continue
		}
		if at++; len(s.levels) > deepest {
			return
		}
	}
}

// indent is that of the block in which something on a line stands.
func (s *scanner) indent() int {
	if top := s.top(); top != nil {
		return top.indent
	}
	return -1
}

// inside is the place where the next thing in braces or brackets would stand; nil behind one.
func (s *scanner) inside() *spot {
	top := s.top()
	here := &spot{flow: true, start: s.cursor, end: s.cursor, path: s.path(len(s.levels))}
	switch {
	case top.filled:
		return nil
	case top.kind == braces && top.key == "":
		here.level, here.path = top, here.path[:len(here.path)-1]
	case top.kind == brackets:
		here.below = true
	}
	return here
}

// token takes in a key or a text in braces or brackets, and gives what is behind it.
func (s *scanner) token(text string, at int) int {
	end := scalarEnd(text, at, true)
	if end == at { // a stray colon, or the like
		return at + 1
	}
	top := s.top()
	colon := skipBlanks(text, end)
	isQuoted := text[at] == '"' || text[at] == '\''
	if top.key == "" && colon < len(text) && text[colon] == ':' && (isQuoted || colon+1 == len(text) || strings.IndexByte(" \t,[]{}", text[colon+1]) >= 0) {
		if top.kind == brackets {
			top = s.push(&level{kind: pair, indent: top.indent})
		}
		s.key(top, text, unquoted(text[at:end]), at, end, colon)
		if s.touches(colon+1, colon+1) && isEnd(text, skipBlanks(text, colon+1)) {
			s.found = s.inside()
			s.found.tight = true
		}
		return colon + 1
	}
	if top.kind == braces && top.key == "" { // a key without its colon
		top.filled = true
		if s.touches(at, end) {
			s.found = &spot{path: s.path(len(s.levels) - 1), level: top, flow: true, word: text[at:s.cursor], start: at, end: end}
		}
		return end
	}
	top.filled = true
	s.scalar(text, at, end, top.kind == brackets)
	return end
}

func indent(text string) int { return len(text) - len(strings.TrimLeft(text, " ")) }

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

func skipBlanks(text string, at int) int {
	for at < len(text) && isBlank(text[at]) {
		at++
	}
	return at
}

// isEnd reports whether nothing but a comment follows.
func isEnd(text string, at int) bool {
	return at >= len(text) || text[at] == '#' && (at == 0 || isBlank(text[at-1]))
}

func isDash(text string, at int) bool {
	return at < len(text) && text[at] == '-' && (at+1 == len(text) || isBlank(text[at+1]))
}

// keyAt reads a key with its colon.
func keyAt(text string, at int) (name string, end, colon int, ok bool) {
	switch text[at] {
	case '{', '}', '[', ']', ',', '#', '|', '>', '@', '%', '&', '*', '!', '?':
		return "", 0, 0, false
	case '"', '\'':
		end = quotedEnd(text, at)
		colon = skipBlanks(text, end)
	default:
		for colon = at; colon < len(text) && !(text[colon] == ':' && (colon+1 == len(text) || isBlank(text[colon+1]))); colon++ {
			if isEnd(text, colon) {
				return "", 0, 0, false
			}
		}
		end = at + len(strings.TrimRight(text[at:min(colon, len(text))], " \t"))
	}
	if colon >= len(text) || text[colon] != ':' || colon+1 < len(text) && !isBlank(text[colon+1]) || end == at {
		return "", 0, 0, false
	}
	return unquoted(text[at:end]), end, colon, true
}

// scalarEnd is where a text ends that begins at a place.
func scalarEnd(text string, at int, flow bool) int {
	if text[at] == '"' || text[at] == '\'' {
		return quotedEnd(text, at)
	}
	i := at
	for ; i < len(text) && !isEnd(text, i); i++ {
		if flow && strings.IndexByte(",[]{}", text[i]) >= 0 {
			break
		}
		if flow && text[i] == ':' && (i+1 == len(text) || strings.IndexByte(" \t,[]{}", text[i+1]) >= 0) {
			break
		}
	}
	return at + len(strings.TrimRight(text[at:i], " \t"))
}

// quotedEnd is behind the closing quote, or where the line ends.
func quotedEnd(text string, at int) int {
	for i := at + 1; i < len(text); i++ {
		switch {
		case text[i] == '\\' && text[at] == '"':
			i++
		case text[i] == text[at]:
			return i + 1
		}
	}
	return len(text)
}

func unquoted(text string) string {
	if n := len(text); n > 1 && (text[0] == '"' || text[0] == '\'') && text[n-1] == text[0] {
		return text[1 : n-1]
	}
	return text
}
