package blocks

import (
	"path"
	"strings"
	"text/template/parse"

	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// unparsed finds what is wrong with a template that cannot be parsed. The parser gives the
// line on which it gave up; what people have to correct is mostly further up: braces that
// were opened and not closed, or a block that lacks its {{end}}.
type unparsed struct {
	label string
	file  source
	list  *diag.List
	open  []action // those that wait for their {{end}}
}

// action is what stands between double braces, these included.
type action struct {
	from, to int
	word     string // its first one
}

// tellSyntax reports the mistake that keeps a file from being parsed, one only: what
// follows it means nothing.
func tellSyntax(label string, file source, err error, list *diag.List) {
	s := unparsed{label: label, file: file, list: list}
	if !s.braces() {
		s.other(err)
	}
}

func (s *unparsed) errorf(at int, format string, args ...any) *diag.Finding {
	return s.list.Errorf("template-syntax", placeAt(s.label, s.file, at), format, args...)
}

// braces goes through the file and reports whether it found what is wrong with its braces,
// its quotes or its ends.
func (s *unparsed) braces() bool {
	for from := 0; ; {
		a, mistake, found := nextAction(s.file.Text, from)
		switch {
		case mistake != "":
			s.errorf(a.from, "%s", mistake).WithHint("close what begins here: braces with }}, a comment with */ before them, quotes with their like")
			return true
		case !found:
			return s.unended(-1)
		case s.nests(a):
			return true
		}
		from = a.to
	}
}

// nests keeps track of what waits for an {{end}}, and reports whether it found one that
// lacks, or one that is too many.
func (s *unparsed) nests(a action) bool {
	switch a.word {
	case "define":
		if s.unended(a.from) {
			return true
		}
		s.open = append(s.open, a)
	case "if", "range", "with", "block":
		s.open = append(s.open, a)
	case "end":
		if len(s.open) == 0 {
			s.errorf(a.from, "this {{end}} ends nothing").
				WithHint("each {{define}}, {{if}}, {{range}} and {{with}} has one {{end}}: take this one out, or look for one too many above")
			return true
		}
		s.open = s.open[:len(s.open)-1]
	}
	return false
}

// unended reports what is still open where the next block begins, or at the file's end.
func (s *unparsed) unended(next int) bool {
	if len(s.open) == 0 {
		return false
	}
	a := s.open[len(s.open)-1]
	where := "at the end of the file"
	if next >= 0 {
		where = "where the next block begins"
	}
	f := s.errorf(a.from, "%s is still open %s: an {{end}} is missing", s.file.Text[a.from:a.to], where).
		WithHint("each {{define}}, {{if}}, {{range}} and {{with}} has one {{end}}: count them from here on")
	if next >= 0 {
		f.WithNote(placeAt(s.label, s.file, next), "the next block")
	}
	return true
}

// commentBegins fits a template's comment behind its opening braces, commentEnds behind its text.
var (
	commentBegins = lazy.Regexp(`^(?:-\s+)?/\*`)
	commentEnds   = lazy.Regexp(`^(?:\s+-)?\}\}`)
	firstWord     = lazy.Regexp(`^(?:-\s)?\s*([a-z]+)`)
)

// nextAction finds the next action from a place on. A mistake is put in words; the
// action is then only where it begins.
func nextAction(text string, from int) (a action, mistake string, found bool) {
	at := strings.Index(text[from:], "{{")
	if at < 0 {
		return a, "", false
	}
	a.from = from + at
	inside := a.from + len("{{")
	if begins := commentBegins().FindString(text[inside:]); begins != "" {
		length := strings.Index(text[inside+len(begins):], "*/")
		if length < 0 {
			return a, "this comment is not closed", true
		}
		behind := inside + len(begins) + length + len("*/")
		ends := commentEnds().FindString(text[behind:])
		if ends == "" {
			return a, "behind the */ of this comment there are no }}", true
		}
		a.to = behind + len(ends)
		return a, "", true
	}
	if m := firstWord().FindStringSubmatch(text[inside:]); m != nil {
		a.word = m[1]
	}
	for i := inside; i < len(text); i++ {
		switch {
		case strings.HasPrefix(text[i:], "}}"):
			a.to = i + len("}}")
			return a, "", true
		case strings.HasPrefix(text[i:], "{{"):
			return a, "these braces are not closed before the next ones open", true
		case strings.IndexByte("\"'`", text[i]) >= 0:
			length := quotation(text[i:])
			if length == 0 {
				return action{from: i}, "this quotation is not closed", true
			}
			i += length - 1
		}
	}
	return a, "these braces are not closed", true
}

// quotation is the length of the quotation that a text begins with; 0 where it does not
// end, on its line but for a quotation in backquotes.
func quotation(text string) int {
	for i := 1; i < len(text); i++ {
		switch {
		case text[i] == text[0]:
			return i + 1
		case text[0] == '`':
		case text[i] == '\n':
			return 0
		case text[i] == '\\':
			i++
		}
	}
	return 0
}

// other reports the parser's own words at the action that they are about: the first of
// its line that the parser says the same of alone, or at all.
func (s *unparsed) other(err error) {
	at, message := splitParseError(s.label, s.file.Name, err)
	message = strings.TrimPrefix(message, "template: ")
	var first *action
	for from := 0; ; {
		a, _, found := nextAction(s.file.Text, from)
		if !found {
			break
		}
		from = a.to
		begins, ends := placeAt(s.label, s.file, a.from), placeAt(s.label, s.file, a.to)
		if at.Line < begins.Line || ends.Line < at.Line {
			continue
		}
		if first == nil || a.word == "else" && strings.HasSuffix(message, "{{else}}") {
			first = &a
		}
		if alone := s.alone(a); alone == message {
			first = &a
			break
		}
	}
	if first == nil {
		s.list.Errorf("template-syntax", diag.Place{File: path.Join(s.label, s.file.Name), Line: at.Line}, "%s", message)
		return
	}
	s.errorf(first.from, "invalid template action: %s", message).
		WithHint("%s", syntaxHint(message))
}

// syntaxHint is what to write instead of what the parser could not read.
func syntaxHint(message string) string {
	if strings.Contains(message, "number syntax") || strings.HasPrefix(message, `unexpected "," in operand`) {
		return "write a number with digits alone, such as 9, and blanks, no commas, between what a function is given"
	}
	return "a field begins with a full stop, a text stands in quotes, and a function stands before what it is given"
}

// alone is what the parser says of one action.
func (s *unparsed) alone(a action) string {
	text := s.file.Text[a.from:a.to]
	switch a.word {
	case "if", "range", "with", "define", "block":
		text += "{{end}}"
	case "else":
		text = "{{if 1}}" + text + "{{end}}"
	case "end":
		return ""
	}
	tree := parse.New(s.file.Name)
	tree.Mode = parse.SkipFuncCheck
	_, err := tree.Parse(text, "", "", map[string]*parse.Tree{})
	if err == nil {
		return ""
	}
	_, message := splitParseError(s.label, s.file.Name, err)
	return strings.TrimPrefix(message, "template: ")
}
