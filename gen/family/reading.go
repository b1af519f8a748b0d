package family

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gridferry/gen/move"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Reading is one entry of "reads": a pattern for whole lines or the columns of
// a row, and what such a line means.
type Reading struct {
	Place        diag.Place
	fieldsAt     map[Field]diag.Place // where fields are named
	Within, Then string               // the section that it holds in, "" for anywhere; the one that begins behind it
	Leaves       bool                 // behind it no section goes on

	Line   *regexp.Regexp // nil for a row
	Prefix string         // every line that fits begins with it
	Groups []Field        // of the pattern's groups, the whole line first
	scans  []scan         // the pattern in a quicker form; nil where there is none
	single bool           // see SingleBlanks
	Row    []Field

	Means Means
	Kind  move.Kind             // of MeansMove
	Kinds map[float64]move.Kind // or by the column "kind"; 0 is none
	small smallKinds            // the same for small numbers
	When  string                // of a select: the change that the line is written for; "" for any
	Gives []Given               // what the line means without writing it
}

// Given is a field that a line means without writing it.
type Given struct {
	Field Field
	Text  string
}

// reads tells whether lines of this entry can be that kind of move.
func (e *Reading) reads(kind move.Kind) bool {
	if e.Means != MeansMove {
		return false
	}
	for _, k := range e.Kinds {
		if k == kind {
			return true
		}
	}
	return e.Kind == kind
}

// Behind is the section that goes on behind a line of this entry, which stands in one.
func (e *Reading) Behind(section string) string {
	if e.Then != "" || e.Leaves {
		return e.Then
	}
	return section
}

// KindOf is the kind of a line with that number in its column "kind", or of any line
// where there is no such column; false for a number that no kind has.
func (e *Reading) KindOf(number float64) (move.Kind, bool) {
	if e.Kinds == nil {
		return e.Kind, true
	}
	if s := e.small.at(number); s != nil && s.known {
		return s.kind, true
	}
	kind, known := e.Kinds[number]
	return kind, known
}

// smallKinds is the kinds with the numbers that families use, found without a map.
type smallKinds [16]smallKind

type smallKind struct {
	kind  move.Kind
	known bool
}

// at is where the kind with a number stands; nil for one that is not small.
func (s *smallKinds) at(number float64) *smallKind {
	if i := int(number); 0 <= i && i < len(s) && float64(i) == number {
		return &s[i]
	}
	return nil
}

func (e *Reading) fields() FieldSet {
	var set FieldSet
	for _, f := range slices.Concat(e.Groups, e.Row) {
		set = set.With(f)
	}
	for _, g := range e.Gives {
		set = set.With(g.Field)
	}
	return set
}

// leave is the section that is none.
const leave = "outside"

func readReading(d *decode.Reader, n decode.Node) (Reading, bool) {
	e := Reading{Place: n.Place()}
	before := d.List.Len()
	var line, within, then, when decode.Value[string]
	written := d.Object(n, "a reading",
		decode.May("line", d.Text(&line)),
		decode.May("row", e.readRow(d)),
		decode.Must("is", e.readMeaning(d)),
		decode.May("within", d.Text(&within)),
		decode.May("then", d.Text(&then)),
		decode.May("when", d.OneOf(&when, WhenFrame, WhenLoad, WhenTool)),
		decode.May("gives", e.readGives(d)),
	)
	e.Within, e.Then, e.When = within.V, then.V, when.V
	if e.Leaves = e.Then == leave; e.Leaves {
		e.Then = ""
	}
	if line.IsSet() {
		e.compile(d.List, line)
	}
	if d.List.Len() == before {
		e.check(d.List, written)
	}
	return e, d.List.Len() == before
}

// check refuses entries whose keys do not go together.
func (e *Reading) check(list *diag.List, written decode.Written) {
	switch {
	case written.Has("line") == written.Has("row"):
		list.Errorf("bad-reading", e.Place, "a reading has either \"line\" or \"row\"")
	case e.When != "" && e.Kind != move.Select:
		list.Errorf("bad-reading", e.Place, "\"when\" goes with \"is: select\" only")
	case (e.Kinds != nil) != slices.Contains(e.Row, ReadKind):
		list.Errorf("bad-reading", e.Place, "a column \"kind\" in \"row\" and a table of kinds under \"is\" go together")
	}
}

// compile turns what is written under "line" into a pattern for whole lines.
func (e *Reading) compile(list *diag.List, line decode.Value[string]) {
	if unknownFields(list, line) {
		return
	}
	source := withFields(line.V)
	re, err := regexp.Compile("^(?:" + source + ")$")
	if err != nil {
		list.Errorf("bad-reading", line.Place, "%q is no pattern: %v", line.V, strings.TrimPrefix(err.Error(), "error parsing regexp: ")).
			WithHint("write \\ before a bracket, a star, a plus or a full stop that stands for itself")
		return
	}
	for _, name := range re.SubexpNames() {
		at := placeIn(line, name)
		e.Groups = append(e.Groups, e.named(list, at, name))
	}
	e.Line, e.scans = re, scansOf(source)
	e.single = e.scans != nil && !slices.ContainsFunc(e.scans, func(s scan) bool { return !s.single() })
	// Without its anchors the pattern tells how every match begins.
	e.Prefix, _ = regexp.MustCompile(source).LiteralPrefix()
}

// braced is a name in braces, with the backslash before it that makes the brace stand
// for itself, or that makes it a class of characters or a character's number.
var braced = regexp.MustCompile(`(\\[pPx]?)?\{([A-Za-z_][A-Za-z0-9_]*)\}`)

// unknownFields reports names in braces that are no fields: to a pattern they would be
// letters that stand in no line.
func unknownFields(list *diag.List, line decode.Value[string]) bool {
	before := list.Len()
	for _, m := range braced.FindAllStringSubmatchIndex(line.V, -1) {
		name := line.V[m[4]:m[5]]
		if _, known := fieldNamed(name); known || m[2] >= 0 {
			continue
		}
		f := list.Errorf("bad-reading", placeIn(line, name), "no field %q can be read", name)
		suggest(f, name, fieldNames(), "a brace that stands for itself has a \\ before it; there are: ")
	}
	return list.Len() > before
}

// placeIn is where a field is named in a pattern; the pattern's own place where its
// quotes hide that.
func placeIn(line decode.Value[string], name string) diag.Place {
	at := line.Place
	word := "{" + name + "}"
	before, _, found := strings.Cut(line.V, word)
	if !found {
		word = "(?P<" + name + ">"
		before, _, found = strings.Cut(line.V, word)
	}
	quotes := at.Width - utf8.RuneCountInString(line.V)
	if name == "" || !found || quotes != 0 && quotes != 2 {
		return at
	}
	return diag.Place{File: at.File, Line: at.Line, Col: at.Col + quotes/2 + utf8.RuneCountInString(before), Width: utf8.RuneCountInString(word)}
}

// named is knownField that keeps where the field is named.
func (e *Reading) named(list *diag.List, at diag.Place, name string) Field {
	f := knownField(list, at, name)
	if e.fieldsAt == nil {
		e.fieldsAt = map[Field]diag.Place{}
	}
	if _, before := e.fieldsAt[f]; !before {
		e.fieldsAt[f] = at
	}
	return f
}

// placeOf is where an entry names a field.
func (e *Reading) placeOf(f Field) diag.Place {
	if at, known := e.fieldsAt[f]; known {
		return at
	}
	return e.Place
}

// knownField finds a field; a name that is none is reported.
func knownField(list *diag.List, at diag.Place, name string) Field {
	if name == "" {
		return NoField
	}
	f, known := fieldNamed(name)
	if !known {
		suggest(list.Errorf("bad-reading", at, "no field %q can be read", name), name, fieldNames(), "there are: ")
	}
	return f
}

func (e *Reading) readRow(d *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		d.Each(n, "columns", func(n decode.Node) {
			var word decode.Value[string]
			d.Text(&word)(n)
			e.Row = append(e.Row, e.named(d.List, n.Place(), strings.TrimPrefix(word.V, "-")))
		})
	}
}

// readMeaning takes a word, or a table from the column "kind" to words.
func (e *Reading) readMeaning(d *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		if !decode.IsMap(n) {
			e.Means, e.Kind = meaning(d, n)
			return
		}
		e.Means, e.Kinds = MeansMove, map[float64]move.Kind{}
		for _, entry := range n.Entries() {
			number, err := strconv.ParseFloat(entry.Key.Text(), 64)
			if err != nil {
				d.List.Errorf("bad-reading", entry.Key.Place(), "%q is no number of the column \"kind\"", entry.Key.Text())
				continue
			}
			_, kind := meaning(d, entry.Value)
			e.Kinds[number] = kind
			if s := e.small.at(number); s != nil {
				*s = smallKind{kind, true}
			}
		}
	}
}

func meaning(d *decode.Reader, n decode.Node) (Means, move.Kind) {
	var word decode.Value[string]
	d.OneOf(&word, meaningWords()...)(n)
	for _, kind := range move.Kinds {
		if word.V == kind.String() {
			return MeansMove, kind
		}
	}
	return otherMeanings[word.V], 0
}

// meaningWords is what a line can be: otherMeanings and the kinds of moves.
func meaningWords() []string {
	words := []string{"text", "mode", "frame", "tool"}
	for _, kind := range move.Kinds {
		words = append(words, kind.String())
	}
	return words
}

func (e *Reading) readGives(d *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		if !decode.IsMap(n) {
			d.WrongType(n, "fields, each with what the line means")
			return
		}
		for _, entry := range n.Entries() {
			var value decode.Value[string]
			d.Text(&value)(entry.Value)
			e.Gives = append(e.Gives, Given{e.named(d.List, entry.Key.Place(), entry.Key.Text()), value.V})
		}
	}
}
