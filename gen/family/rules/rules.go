package rules

import (
	"fmt"
	"slices"

	"gridferry/gen/move"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
	"gridferry/plan/schema"
)

// RulesFile is the name of a family's rules in its folder.
const File = "family.yaml"

// Format is the first line of every family.yaml.
const Format = "gridferry family 1"

// Rules is what family.yaml says: everything about a program's text that is not
// wording. The larger concepts have files of their own.
type Rules struct {
	Title     string
	Extension string // with its full stop
	FileNames *Names // how the stem of a program's file name is spelled; nil keeps the plan's
	LineEnd   string
	Encoding  Encoding
	Letters   *CharSet // what a program may hold beside blanks; nil for anything

	LongestLine int // characters, block number included; 0 for no limit
	MostLines   int // of one file; 0 for no limit

	Decimals   Decimals
	DecimalsAt [quantities]diag.Place // where each is given
	Form       Form
	Units      Units
	Tolerance  Tolerance

	Comment         Comment
	Quotes          Quotes
	BlockNumbers    BlockNumbers
	Names           Names
	BaseCoordinates bool // otherwise each point in its own frame
	CoordinatesAt   diag.Place
	TravelSpeed     TravelSpeed
	TravelPath      move.Path
	FlyBy           FlyBy
	Limits          Limits
	Tables          Tables
	Rotation        RotationForm

	Loops    bool              // nested loops instead of single moves
	Cannot   map[string]string // blocks that this family does not write, and why
	CannotAt map[string]diag.Place

	RotationAt diag.Place
}

// The blocks beside those of the kinds of moves that a family may say it cannot write: an
// optional stop, and a select at which the program stops for a person who changes the tool.
const (
	Pause  = "pause"
	Change = "change"
)

// BlockOf is the block that writes a move.
func BlockOf(m *move.Move) string {
	switch {
	case m.Pause:
		return Pause
	case m.ByHand:
		return Change
	}
	return m.Kind.String()
}

// Zones is likewise what a family cannot write that has words for one gripper only.
const Zones = "zones"

// Default is what holds where family.yaml says nothing.
func Default() Rules {
	return Rules{
		LineEnd: "\n", Names: defaultNames(), Comment: Comment{Otherwise: "?"}, Units: metric(), Tolerance: usualTolerance,
		Decimals: Decimals{Inertia: usualInertia, Quaternion: usualQuaternion}, Cannot: map[string]string{}, CannotAt: map[string]diag.Place{},
	}
}

// Coordinates is the point of a motion as the family writes it.
func (rules *Rules) Coordinates(m *move.Move) *move.Point {
	if rules.BaseCoordinates {
		return &m.Base
	}
	return &m.At
}

// FileForm is how family.yaml is written, as far as it says something; reads is its key of
// that name, which others read.
func (rules *Rules) FileForm(reads decode.Key) decode.Form {
	keys := slices.Concat(rules.fileKeys(), rules.lineKeys(), rules.figureKeys(), rules.Units.keys(), rules.wordKeys(), []decode.Key{reads, rules.travelSpeed(), rules.travelPath(), rules.flyBy(), rules.Tolerance.key(), rules.Limits.key(), rules.Tables.key()})
	return decode.Object{What: "a family", Keys: keys, Check: rules.check, Rules: togetherRules}
}

// check holds keys to each other.
func (rules *Rules) check(r *decode.Reader, written decode.Written) {
	rules.Comment.encoding, rules.Comment.letters, rules.Comment.quotes = rules.Encoding, rules.Letters, rules.Quotes
	rules.Comment.checkMarks(r.List, written["comment"])
	rules.checkQuotes(r.List, written["quotes"])
	rules.checkNames(r.List, written["names"])
	if rules.Loops && rules.MostLines > 0 {
		r.List.Errorf("bad-writes", written["writes"], "loops cannot be cut into several files, which \"most_lines\" asks for").
			WithHint("leave \"most_lines\" out")
	}
	if rules.Tables.Rows > 0 && (rules.Loops || rules.MostLines > 0) {
		r.List.Errorf("bad-writes", written["tables"], "\"tables\" divides single moves in one file, and goes neither with loops nor with \"most_lines\"")
	}
	if rules.Rotation == Vertical && written.Has("coordinates") && !rules.BaseCoordinates {
		r.List.Errorf("bad-rotation", rules.RotationAt, "\"vertical\" is the base's vertical, so that it goes with \"coordinates: base\" only")
	}
}

// checkNames refuses letters of names that mean something else in a line: a
// name is the one thing beside a comment that is made of a plan's text.
func (rules *Rules) checkNames(list *diag.List, at diag.Place) {
	unfit := "\"'\\" + rules.Comment.Open + rules.Comment.Close + rules.Quotes.Open + rules.Quotes.Close
	for _, c := range unfit {
		if rules.Names.Letters.Has(c) || rules.Names.First.Has(c) {
			if isWordCharacter(c) {
				continue // a word such as REM needs its blank to be a mark
			}
			list.Errorf("bad-name-rule", at, "%q cannot stand in a name: it belongs to a comment's mark or to quotes", c)
			return
		}
	}
}

// fileKeys are about the files of a program.
func (rules *Rules) fileKeys() []decode.Key {
	names := fileNames()
	return []decode.Key{
		decode.FirstLine(Format, File),
		decode.Must("title", "One line that says what the family writes.", decode.Plain(&rules.Title, decode.Text)),
		decode.Must("extension", "Of the program's file: a full stop and letters or digits.", extension(&rules.Extension)),
		decode.May("file_names", "How the file's name is made from the plan's, with the keys of `names`. "+
			"`{longest: 8, case: upper}` with an extension of three letters is the old 8.3 form. "+
			"Where the name is too long, that of a prove-out ends in `P`, and that of a job resumed at transfer 3 in `R3`, or `R3H` where the gripper holds its part.",
			decode.Before(names.form("file_names", "A-Za-z0-9", "A-Za-z0-9_-"), func(*decode.Reader, decode.Node) { rules.FileNames = &names })).Else("the plan's own name"),
		decode.May("line_end", "How lines end.", decode.Choice(&rules.LineEnd, []string{"lf", "crlf", "cr"}, []string{"\n", "\r\n", "\r"})).Default("lf"),
		decode.May("encoding", "How characters become bytes; in texts, letters that it cannot represent lose their accents. "+
			"What has no spelling becomes what `otherwise` under `comment` says.", decode.Choice(&rules.Encoding, encodingWords, encodings)).Default(encodingWords[0]),
		decode.May("most_lines", "Of one file, 50 at least; a program that is longer comes in several files. "+
			"See [programs in several files](#programs-in-several-files).", whole(&rules.MostLines, 50, 1_000_000)).Else("no limit"),
	}
}

// lineKeys are about lines and what stands beside the wording in them.
func (rules *Rules) lineKeys() []decode.Key {
	var letters CharSet
	keepLetters := func(*decode.Reader, decode.Node) {
		if letters != (CharSet{}) {
			rules.Letters = &letters
		}
	}
	return []decode.Key{
		decode.May("longest_line", fmt.Sprintf("In characters, block number included, %d at least. ", shortestLine)+
			"A comment that does not fit is cut with `...`, or left out where nothing of it would remain; anything else that does not fit is an error.",
			whole(&rules.LongestLine, shortestLine, 100_000)).Else("no limit"),
		decode.May("letters", "The characters that may stand in a program beside blanks, such as `A-Z0-9.,:;()=+-`. "+
			"Texts in comments change case where only the other is allowed.", decode.Then(charSet(&letters), keepLetters)).Else("any"),
		decode.Must("comment", "The marks of a comment; `none` where the controller has no comments, `plain` where people read the text and no machine obeys it. "+
			"With `none` texts are left out, with `plain` they are printed as they are.", rules.Comment.form()),
		rules.Quotes.key(),
		decode.May("block_numbers", "How blocks are numbered. They begin again at `start` past `highest` and in every file. "+
			"Blank lines, lines that begin with a comment and those listed under `unnumbered` get none.", rules.BlockNumbers.form()).Else("not at all"),
	}
}

// figureKeys are about numbers.
func (rules *Rules) figureKeys() []decode.Key {
	return []decode.Key{
		decode.Must("decimals", "How many digits stand behind the point of each quantity, 0 to 9.",
			rules.Decimals.form(&rules.DecimalsAt)),
		decode.May("decimal_mark", "What stands before the decimals. With `comma`, a figure with a point is no number where a program is read back, "+
			"and columns of a `row` stand between semicolons.",
			decode.Choice(&rules.Form.Comma, []string{"point", "comma"}, []bool{false, true})).Default("point"),
		decode.May("numbers", "How figures are set. See [figures](#figures).", rules.Form.form()).
			Else("digits on both sides of the point, a sign only where it is a minus, no width"),
		decode.Must("coordinates", "Every point in `base` coordinates, or each point in its own `frame`. "+
			"The block `select` tells the controller the frame, and with `base` must not choose one (`frame-beside-base`).",
			decode.At(&rules.CoordinatesAt, decode.Choice(&rules.BaseCoordinates, []string{"base", "frame"}, []bool{true, false}))),
		decode.Must("rotation", "How the turn of a tool is written; vertical is one turn about the vertical, for a tool that points straight down. "+
			"A tool that leans by more than 0.01 degrees is a warning then, by more than 0.5 degrees an error. See [the turn of a pose](#the-turn-of-a-pose).",
			decode.At(&rules.RotationAt, decode.Choice(&rules.Rotation, rotationWords, rotationForms))),
	}
}

// wordKeys are about names and what the family does not write.
func (rules *Rules) wordKeys() []decode.Key {
	return []decode.Key{
		decode.May("names", "What an identifier is made of. See [names](#names).", rules.Names.form("names", "A-Za-z", "A-Za-z0-9_")),
		decode.May("writes", "Every move (`moves`), or the plan's entries as nested loops (`loops`). See [families that write loops](#families-that-write-loops).",
			decode.Choice(&rules.Loops, []string{"moves", "loops"}, []bool{false, true})).Default("moves"),
		decode.May("cannot", "Kinds of moves, and `pause`, `change` and `zones`, that this controller cannot do, each with the reason, which is reported.",
			decode.Object{What: "cannot", Keys: rules.cannotKeys()}),
	}
}

// whole keeps a whole number without its place.
func whole(dst *int, lo, hi int) decode.Form {
	return decode.Plain(dst, func(v *decode.Value[int]) decode.Form { return decode.Whole(v, lo, hi) })
}

// An extension becomes part of a file's name: it must not lead to another folder.
var goodExtension = lazy.Regexp(`^\.[A-Za-z0-9]{1,12}$`)

func extension(dst *string) decode.Form {
	var extension decode.Value[string]
	return decode.Under(decode.Then(decode.Text(&extension), func(r *decode.Reader, _ decode.Node) {
		if extension.IsSet() && !goodExtension().MatchString(extension.V) {
			r.List.Errorf("bad-extension", extension.Place, "%q is no file extension, wanted a full stop and letters or digits", extension.V).
				WithHint("write it as in \".txt\"")
			return
		}
		*dst = extension.V
	}), schema.With("pattern", goodExtension().String()))
}

// cannotKeys are the blocks that the family may not write, each with a reason.
func (rules *Rules) cannotKeys() []decode.Key {
	var keys []decode.Key
	add := func(block string) {
		var reason string
		keys = append(keys, decode.May(block, "Why the family has no words for "+block+".",
			decode.Then(decode.Plain(&reason, decode.Text), func(_ *decode.Reader, n decode.Node) {
				rules.Cannot[block], rules.CannotAt[block] = reason, n.Place()
			})))
	}
	for _, kind := range move.Kinds {
		add(kind.String())
	}
	add(Pause)
	add(Change)
	add(Zones)
	return keys
}

// togetherRules is what keys of family.yaml ask of each other.
var togetherRules = []schema.Rule{
	func(s schema.Schema) schema.Schema {
		return s.When(schema.WhereIs("rotation", Vertical.String()), schema.WhereIs("coordinates", "base"))
	},
	schema.With("dependentSchemas", schema.Schema{}.With("most_lines", schema.WhereIs("writes", "moves"))),
}
