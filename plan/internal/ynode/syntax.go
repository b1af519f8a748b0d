package ynode

import (
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// explanation says in our words what one of the library's problems means.
type explanation struct {
	problem string // what the library's problem begins with
	rule    string // yaml-syntax if empty
	message string
	hint    string
	begin   bool   // the finding stands where the thing begins, not where the reader gave up
	note    string // for the place where the thing begins, if the finding stands elsewhere
}

// explanations covers what people run into. Any other problem is passed on in the library's words.
var explanations = []explanation{
	{problem: "mapping values are not allowed in this context",
		message: `a ":" cannot stand here`,
		hint:    `put a text that holds ": " in quotes; check that the keys of one mapping are indented alike`},
	{problem: "could not find expected ':'",
		message: `a ":" and a value are missing after this`, begin: true,
		hint: `write "key: value"; check that the line is indented like its neighbours`},
	{problem: "did not find expected key",
		message: "this does not go on with the mapping above it", note: "the mapping begins here",
		hint: "indent the keys of one mapping alike, with blanks; put a text with quotes inside in quotes as a whole"},
	{problem: "did not find expected '-' indicator",
		message: "this does not go on with the list above it", note: "the list begins here",
		hint: `indent the "-" of one list alike, with blanks`},
	{problem: "did not find expected ',' or ']'",
		message: `a "," or "]" is missing before this`, note: `the list opens here`},
	{problem: "did not find expected ',' or '}'",
		message: `a "," or "}" is missing before this`, note: `the mapping opens here`},
	{problem: "did not find expected node content",
		message: "a value is missing before this"},
	{problem: "block sequence entries are not allowed in this context",
		message: `a list with "-" cannot begin here`,
		hint:    "begin the list on a line of its own, or write [ , ]"},
	{problem: "mapping keys are not allowed in this context",
		message: "a key cannot stand here"},
	{problem: "found unexpected end of stream",
		message: "the quotes that open here are never closed", begin: true,
		hint: "write the same quotes at the end of the text, or none at all"},
	{problem: "found unexpected document indicator",
		message: "the quotes that open here are not closed before the end of the document", begin: true},
	{problem: "found unknown escape character",
		message: `this is no escape that double quotes know`,
		hint:    `write "\\" for a backslash, or use single quotes`},
	{problem: "did not find expected hexdecimal number",
		message: "hexadecimal digits are missing in an escape"},
	{problem: "found invalid Unicode character escape code",
		message: "this escape stands for no character",
		hint:    `write the character itself, or "\U" and eight hexadecimal digits`},
	{problem: "found a tab character",
		message: "a tab cannot indent a line", hint: "indent with blanks"},
	{problem: "did not find expected alphabetic or numeric character",
		message: "a name is missing after this mark", begin: true,
		hint: `"&" names a value and "*" stands for a named one: put a text that begins so in quotes`},
	{problem: "did not find expected <document start>",
		message: "this does not belong to the document above it", hint: "a file holds one document"},
	{problem: "found undefined tag handle", rule: "custom-tag",
		message: "the tag here has no meaning", begin: true, hint: tagHint},
}

// reportSyntax turns what the library says into a finding at the right place.
func reportSyntax(src *source, f fault, list *diag.List) {
	if name, ok := strings.CutPrefix(f.problem, unknownAnchor); ok {
		at := src.markPlace(f.at)
		at.Width = 1 + utf8.RuneCountInString(name)
		list.Errorf("unknown-anchor", at, "there is no %q before this, wanted an anchor to stand for", "&"+name).
			WithHint(`name a value with "&%s" further up, or put the text in quotes`, name)
		return
	}
	if strings.HasPrefix(f.problem, "exceeded max depth") {
		list.Errorf("nested-too-deep", src.markPlace(f.at), tooDeep, maxDepth)
		return
	}
	e := explain(src, f)
	at := f.at
	if e.begin && f.begin != (mark{}) {
		at = f.begin
	}
	if better, moved, ok := nearBlank(src.rest(at.line, at.col), f.problem); ok {
		at, e = mark{at.line, at.col + moved}, better
	}
	if src.isEnd(at) {
		at = src.end()
		e = explanation{message: "the file ends here, in the middle of something", hint: "check that all brackets and quotes are closed", note: e.note}
	}
	finding := list.Errorf(cmp.Or(e.rule, "yaml-syntax"), src.markPlace(at), "%s", e.message)
	if e.hint != "" {
		finding.WithHint("%s", e.hint)
	}
	if e.note != "" && f.begin != (mark{}) && f.begin != at {
		finding.WithNote(src.markPlace(f.begin), "%s", e.note)
	}
}

func explain(src *source, f fault) explanation {
	if f.problem == "found character that cannot start any token" {
		return explainCharacter(src.rest(f.at.line, f.at.col))
	}
	for _, e := range explanations {
		if strings.HasPrefix(f.problem, e.problem) {
			return e
		}
	}
	return explanation{message: f.problem}
}

var (
	// tightColon is a key whose colon has no blank behind it.
	tightColon = lazy.Regexp(`^([\pL\pN_-]+):([^\s:]\S*)`)
	// tightDash is an entry of a list whose dash has no blank behind it.
	tightDash = lazy.Regexp(`^-([^\s-][^\s:]*):`)
)

// nearBlank recognises, in what stands where the reader gave up, a blank that is missing or is none. moved is how many
// characters further on the mistake stands.
func nearBlank(rest, problem string) (e explanation, moved int, ok bool) {
	const noBreak = "\u00a0"
	before, _, odd := strings.Cut(rest, noBreak)
	colon, dash := tightColon().FindStringSubmatch(rest), tightDash().FindStringSubmatch(rest)
	switch {
	case odd && strings.Contains(problem, "find expected"): // and nothing "unexpected", such as quotes that stay open
		return explanation{message: "the no-break space U+00A0 stands here, which is no blank", hint: "write an ordinary blank in its place"},
			utf8.RuneCountInString(before), true
	case colon != nil && strings.HasPrefix(problem, "could not find expected ':'"):
		return explanation{message: `a blank is missing behind this ":"`, hint: fmt.Sprintf("write \"%s: %s\"", colon[1], colon[2])},
			utf8.RuneCountInString(colon[1]), true
	case dash != nil && strings.HasPrefix(problem, "did not find expected '-' indicator"):
		return explanation{message: `a blank is missing behind this "-"`, hint: fmt.Sprintf("write \"- %s\"", dash[1])}, 0, true
	case strings.HasPrefix(rest, "- ") && strings.HasPrefix(problem, "did not find expected key"):
		return explanation{message: "an entry of a list stands here, in the mapping above it", note: "the mapping begins here",
			hint: `write "- " before the first entry as well`}, 0, true
	}
	return explanation{}, 0, false
}

func explainCharacter(rest string) explanation {
	if strings.HasPrefix(rest, "\t") {
		return explanation{message: "a tab cannot indent a line", hint: "indent with blanks"}
	}
	r, _ := utf8.DecodeRuneInString(rest)
	return explanation{message: `no text can begin with "` + string(r) + `"`, hint: "put the text in quotes"}
}

// isEnd reports whether nothing but blanks follows a mark that is known.
func (s *source) isEnd(m mark) bool {
	last := s.end()
	return m.line > last.line || m.line == last.line && m.col > last.col
}

// end is the mark of the last character that is no blank.
func (s *source) end() mark {
	for i := len(s.lines) - 1; i >= 0; i-- {
		if text := strings.TrimRight(s.line(i), " \t"); text != "" {
			return mark{i + 1, utf8.RuneCountInString(text)}
		}
	}
	return mark{1, 1}
}

// markPlace is the place of a mark, the whole file if it is unknown.
func (s *source) markPlace(m mark) diag.Place {
	if m.line < 1 || m.col < 1 {
		return diag.Place{File: s.file}
	}
	return s.at(m.line, m.col, 0)
}
