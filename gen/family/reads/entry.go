package reads

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gridferry/gen/move"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
	"gridferry/plan/schema"
)

// Reading is one entry of "reads": a pattern for whole lines or the columns of
// a row, and what such a line means.
type Entry struct {
	Place        diag.Place
	fieldsAt     map[Field]diag.Place // where fields are named
	Within, Then string               // the section that it holds in, "" for anywhere; the one that begins behind it
	Leaves       bool                 // behind it no section goes on

	source string         // the pattern as it is written
	Line   *regexp.Regexp // nil for a row
	Groups []Field        // of the pattern's groups, the whole line first
	scans  []scan         // the pattern in a quicker form; nil where there is none
	steady []int          // of each, or of the row; see tails
	whole  int            // stands for all ways of which whole lines are remembered
	lead   scan           // where there is none, how every line begins that fits; nil where that cannot be told
	single bool           // see SingleBlanks
	spent  *int           // steps of the family's readings so far
	left   bool           // it is not looked at: those before it cost too much
	Row    []Field
	comma  bool // before decimals; columns then stand between semicolons

	Means Means
	Kind  move.Kind             // of MeansMove
	Kinds map[float64]move.Kind // or by the column "kind"; 0 is none
	small smallKinds            // the same for small numbers
	When  string                // of a select: the change that the line is written for; "" for any
	Gives []Given               // what the line means without writing it
}

// Given is a field that a line means without writing it.
type Given struct {
	Found
	Text string
}

// reads reports whether lines of this entry can be that kind of move.
func (e *Entry) reads(kind move.Kind) bool {
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
func (e *Entry) Behind(section string) string {
	if e.Then != "" || e.Leaves {
		return e.Then
	}
	return section
}

// KindOf is the kind of a line with that number in its column "kind", or of any line
// where there is no such column; false for a number that no kind has.
func (e *Entry) KindOf(number float64) (move.Kind, bool) {
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

func (e *Entry) fields() FieldSet {
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

// form is one entry; good is called for one that has no mistake in it.
func (e *Entry) form(good func()) decode.Form {
	var line, then decode.Value[string]
	before := 0
	entry := decode.Object{What: "a reading", Rules: readingRules, Keys: e.keys(&line, &then), Check: func(d *decode.Reader, written decode.Written) {
		if e.Then, e.Leaves = then.V, then.V == leave; e.Leaves {
			e.Then = ""
		}
		if line.IsSet() {
			e.compile(d.List, line)
		} else {
			e.spend(d.List, e.Place, len(e.Row))
			e.steady = []int{steady(e.Row)}
		}
		if e.left {
			return
		}
		if d.List.Len() == before {
			e.check(d.List, written)
		}
		if d.List.Len() == before {
			good()
		}
	}}
	return decode.Before(entry, func(d *decode.Reader, n decode.Node) { e.Place, before = n.Place(), d.List.Len() })
}

func (e *Entry) keys(line, then *decode.Value[string]) []decode.Key {
	return []decode.Key{
		decode.May("line", "The pattern of a whole line, a regular expression in which `{x}` stands for a number.", decode.Text(line)),
		decode.May("row", "The columns between commas (semicolons with `decimal_mark: comma`), for families that keep a table: names of fields, `-` for a column that does not matter. "+
			"It stands instead of `line`.", decode.List{What: "columns", Each: e.column}),
		decode.Must("is", "A kind of move (`travel`, `grip`, …), or what else the line is. `text`: the line moves nothing; `mode`: its values hold from here on "+
			"(an output, a level and a target do not: a move's own line has to say them); `begun`: the line begins a motion, and the next line has the rest of it; `frame`, `tool`, `point`: an item of those tables. "+
			"With a column `kind` in `row`, a table from its numbers to those words: `{0: text, 1: select}`.", e.is()),
		decode.May("within", "The section that the entry fits in.", decode.Plain(&e.Within, decode.Text)).Else("it fits anywhere"),
		decode.May("then", "The section that begins behind the line; `outside` ends it.", decode.Text(then)),
		decode.May("when", "Of a select that is written in several lines: the change that this line is written for; `by-hand` is the line at which a person changes the tool.",
			decode.Plain(&e.When, func(v *decode.Value[string]) decode.Form {
				return decode.OneOf(v, WhenFrame, WhenLoad, WhenTool, WhenHand)
			})),
		decode.May("gives", "Fields that the line means without writing them; a figure with a decimal point, a level as on or off.", decode.Under(
			decode.Texts{What: "fields, each with what the line means", Each: e.given},
			schema.With("propertyNames", schema.Schema{}.With("enum", fieldNames())))),
	}
}

// check refuses entries whose keys do not go together.
func (e *Entry) check(list *diag.List, written decode.Written) {
	switch {
	case written.Has("line") == written.Has("row"):
		list.Errorf("bad-reading", e.Place, "a reading has either \"line\" or \"row\"")
	case e.When != "" && e.Kind != move.Select:
		list.Errorf("bad-reading", e.Place, "\"when\" goes with \"is: select\" only")
	case (e.Kinds != nil) != slices.Contains(e.Row, Kind):
		list.Errorf("bad-reading", e.Place, "a column \"kind\" in \"row\" and a table of kinds under \"is\" go together")
	}
}

// compile turns what is written under "line" into a pattern for whole lines.
func (e *Entry) compile(list *diag.List, line decode.Value[string]) {
	if unknownFields(list, line) {
		return
	}
	e.source = line.V
	if e.refused(list, line, withFields(line.V, '.')) {
		return
	}
	if err := e.build('.'); err != nil {
		notPattern(list, line, err)
		return
	}
	for _, name := range e.Line.SubexpNames() {
		at := placeIn(line, name)
		e.Groups = append(e.Groups, e.named(list, at, name))
	}
}

func notPattern(list *diag.List, line decode.Value[string], err error) {
	list.Errorf("bad-reading", line.Place, "%q is no pattern: %v", line.V, strings.TrimPrefix(err.Error(), "error parsing regexp: ")).
		WithHint("write \\ before a bracket, a star, a plus or a full stop that stands for itself")
}

// build makes the pattern for figures with that decimal mark.
func (e *Entry) build(mark byte) error {
	source := withFields(e.source, mark)
	re, err := regexp.Compile("^(?:" + source + ")$")
	if err != nil {
		return err
	}
	if e.Line, e.scans = re, scansOf(source, mark); e.scans == nil {
		e.lead = leadOf(source, mark)
	}
	e.steady = nil
	for _, s := range e.scans {
		e.steady = append(e.steady, s.steady())
	}
	e.single = e.scans != nil && !slices.ContainsFunc(e.scans, func(s scan) bool { return !s.single() })
	return nil
}

// braced is a name in braces, with the backslash before it that makes the brace stand
// for itself, or that makes it a class of characters or a character's number.
var braced = lazy.Regexp(`(\\[pPx]?)?\{([A-Za-z_][A-Za-z0-9_]*)\}`)

// unknownFields reports names in braces that are no fields: to a pattern they would be
// letters that stand in no line.
func unknownFields(list *diag.List, line decode.Value[string]) bool {
	before := list.Len()
	for _, m := range braced().FindAllStringSubmatchIndex(line.V, -1) {
		name := line.V[m[4]:m[5]]
		if _, known := fieldNamed(name); known || m[2] >= 0 {
			continue
		}
		f := list.Errorf("bad-reading", placeIn(line, name), "no field %q can be read", name)
		f.Suggest(name, fieldNames(), "a brace that stands for itself has a \\ before it; there are: ")
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
func (e *Entry) named(list *diag.List, at diag.Place, name string) Field {
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
func (e *Entry) placeOf(f Field) diag.Place {
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
		list.Errorf("bad-reading", at, "no field %q can be read", name).Suggest(name, fieldNames(), "there are: ")
	}
	return f
}

// column reads a column of a row.
func (e *Entry) column() decode.Form {
	var word decode.Value[string]
	return decode.Own(decode.OneOf(nil, append(fieldNames(), "-")...).Schema, func(d *decode.Reader, n decode.Node) {
		decode.Text(&word).Read(d, n)
		e.Row = append(e.Row, e.named(d.List, n.Place(), strings.TrimPrefix(word.V, "-")))
	})
}

// is reads a word, or a table from the column "kind" to words.
func (e *Entry) is() decode.Form {
	word := meaning(func(_ *decode.Reader, means Means, kind move.Kind) { e.Means, e.Kind = means, kind })
	table := decode.Texts{Each: func(number decode.Node) decode.Form {
		return meaning(func(d *decode.Reader, _ Means, kind move.Kind) { e.addKind(d, number, kind) })
	}}
	return decode.OrMapping(word, decode.Before(table, func(*decode.Reader, decode.Node) {
		e.Means, e.Kinds = MeansMove, map[float64]move.Kind{}
	}))
}

// addKind adds a number of the column "kind".
func (e *Entry) addKind(d *decode.Reader, key decode.Node, kind move.Kind) {
	number, err := strconv.ParseFloat(key.Text(), 64)
	if err != nil {
		d.List.Errorf("bad-reading", key.Place(), "%q is no number of the column \"kind\"", key.Text()).
			WithHint("write the number that stands in that column, as in {1: travel, 2: straight}")
		return
	}
	e.Kinds[number] = kind
	if s := e.small.at(number); s != nil {
		*s = smallKind{kind, true}
	}
}

// meaning reads what a line can be.
func meaning(take func(*decode.Reader, Means, move.Kind)) decode.Form {
	var word decode.Value[string]
	return decode.Then(decode.OneOf(&word, meaningWords()...), func(d *decode.Reader, _ decode.Node) {
		for _, kind := range move.Kinds {
			if word.V == kind.String() {
				take(d, MeansMove, kind)
				return
			}
		}
		take(d, otherMeanings[word.V], 0)
	})
}

// meaningWords is what a line can be: otherMeanings and the kinds of moves.
func meaningWords() []string {
	words := []string{"text", "mode", "begun", "frame", "tool", "point"}
	for _, kind := range move.Kinds {
		words = append(words, kind.String())
	}
	return words
}

// given reads what a field is where a line does not write it.
func (e *Entry) given(field decode.Node) decode.Form {
	var value decode.Value[string]
	return decode.Then(decode.Text(&value), func(d *decode.Reader, _ decode.Node) {
		f := e.named(d.List, field.Place(), field.Text())
		given := Given{Found{Field: f, To: len(value.V)}, value.V}
		if wanted, ok := given.read(); f != NoField && value.IsSet() && !ok {
			d.List.Errorf("bad-reading", value.Place, "the field %q cannot be %q", f, value.V).WithHint("write %s", wanted)
		}
		e.Gives = append(e.Gives, given)
	})
}

// read keeps the figure that is given, which has a point, whatever the family's decimal
// mark. It is not ok for what no line could mean, and an entry with it would never fit.
func (g *Given) read() (wanted string, ok bool) {
	n := 0
	switch part := partOf(g.Field); {
	case g.Field == Level || g.Field == GoOn || g.Field == ByHand || Posture.Has(g.Field) && part == wordPart:
		wanted = "on for a signal that is high, off for one that is low"
		switch g.Field {
		case Shoulder:
			wanted = "front or back"
		case Elbow, Wrist:
			wanted = "up or down"
		case GoOn:
			wanted = "go-on or stop"
		case ByHand:
			wanted = "yes or no"
		}
		_, known := truthOf(g.Text)
		return wanted, known || g.Text == "0" || g.Text == "1"
	case part == numberPart:
		wanted = "a number alone, such as 1.5"
		g.Number, n = Decimal([]byte(g.Text), '.')
	case part == wholePart:
		wanted = "a whole number, such as 4"
		g.Number, n = wholeDecimal([]byte(g.Text))
	default:
		return "", true
	}
	g.Figure = true
	return wanted, n > 0 && n == len(g.Text)
}

// readingRules is what the keys of an entry ask of each other.
var readingRules = []schema.Rule{
	schema.OneOf("line", "row"),
	schema.With("dependentSchemas", schema.Schema{}.With("when", schema.WhereIs("is", move.Select.String()))),
}
