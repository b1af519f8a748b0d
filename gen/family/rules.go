package family

import (
	"regexp"

	"gridferry/gen/move"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Format is the first line of every family.yaml.
const Format = "gridferry family 1"

// Rules is what family.yaml says: everything about a program's text that is not
// wording. What is told at length has a file of its own.
type Rules struct {
	Title     string
	Extension string // with its full stop
	FileNames *Names // how the stem of a program's file name is spelled; nil keeps the plan's
	LineEnd   string
	Encoding  Encoding
	Letters   *CharSet // what a program may hold beside blanks; nil for anything

	LongestLine int // characters, block number included; 0 for no limit
	MostLines   int // of one file; 0 for no limit

	Decimals Decimals
	SpeedAt  diag.Place // of the decimals of speeds
	Form     Form
	Units    Units

	Comment         Comment
	BlockNumbers    BlockNumbers
	Names           Names
	BaseCoordinates bool // otherwise each point in its own frame
	CoordinatesAt   diag.Place
	TravelSpeed     TravelSpeed
	Rotation        RotationForm

	Loops    bool              // nested loops instead of single moves
	Cannot   map[string]string // blocks that this family does not write, and why
	CannotAt map[string]diag.Place

	Reads Reads // how the family's own lines read

	rotationAt diag.Place
}

// defaultRules is what holds where family.yaml says nothing.
func defaultRules() Rules {
	return Rules{
		LineEnd: "\n", Names: defaultNames(), Comment: Comment{Otherwise: "?"}, Units: metric(),
		Cannot: map[string]string{}, CannotAt: map[string]diag.Place{},
	}
}

// readRules decodes family.yaml.
func readRules(file string, data []byte, list *diag.List) (Rules, bool) {
	rules := defaultRules()
	before := list.Len()
	root, ok := decode.File(file, data, list)
	if !ok {
		return rules, false
	}
	rules.read(&decode.Reader{List: list}, root)
	return rules, list.Len() == before
}

func (rules *Rules) read(r *decode.Reader, root decode.Node) {
	before := r.List.Len()
	keys := append(rules.fileKeys(r), rules.lineKeys(r)...)
	keys = append(keys, rules.figureKeys(r)...)
	keys = append(keys, rules.Units.keys(r)...)
	keys = append(keys, rules.wordKeys(r)...)
	written := r.Object(root, "a family", keys...)
	rules.Comment.encoding, rules.Comment.letters = rules.Encoding, rules.Letters
	rules.Comment.checkMarks(r.List, written["comment"])
	rules.checkNames(r.List, written["names"])
	if rules.Loops && rules.MostLines > 0 {
		r.List.Errorf("bad-writes", written["writes"], "loops cannot be cut into several files, which \"most_lines\" asks for").
			WithHint("leave \"most_lines\" out")
	}
	if rules.Rotation == Vertical && written.Has("coordinates") && !rules.BaseCoordinates {
		r.List.Errorf("bad-rotation", rules.rotationAt, "\"vertical\" is the base's vertical, so that it goes with \"coordinates: base\" only")
	}
	if r.List.Len() == before { // a rotation with a slip in it says nothing about the fields
		rules.Reads.checkFields(r.List, rules.Rotation, rules.rotationAt)
	}
}

// checkNames refuses letters of names that mean something else in a line: a
// name is the one thing beside a comment that is made of a plan's text.
func (rules *Rules) checkNames(list *diag.List, at diag.Place) {
	unfit := "\"'\\" + rules.Comment.Open + rules.Comment.Close
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
func (rules *Rules) fileKeys(r *decode.Reader) []decode.Key {
	var format decode.Value[string]
	return []decode.Key{
		decode.FirstLine(Format, r.OneOf(&format, Format)),
		decode.Must("title", readText(r, &rules.Title)),
		decode.Must("extension", rules.readExtension(r)),
		decode.May("file_names", func(n decode.Node) {
			names := fileNames()
			names.read(r, "file_names")(n)
			rules.FileNames = &names
		}),
		decode.May("line_end", readChoice(r, &rules.LineEnd, []string{"lf", "crlf", "cr"}, []string{"\n", "\r\n", "\r"})),
		decode.May("encoding", readChoice(r, &rules.Encoding, encodingWords, encodings)),
		decode.May("most_lines", readWhole(r, &rules.MostLines, 50, 1_000_000)),
	}
}

// lineKeys are about lines and what stands beside the wording in them.
func (rules *Rules) lineKeys(r *decode.Reader) []decode.Key {
	return []decode.Key{
		decode.May("longest_line", readWhole(r, &rules.LongestLine, shortestLine, 100_000)),
		decode.May("letters", func(n decode.Node) {
			var letters CharSet
			if readCharSet(r, &letters)(n); letters != (CharSet{}) {
				rules.Letters = &letters
			}
		}),
		decode.Must("comment", rules.Comment.read(r)),
		decode.May("block_numbers", rules.BlockNumbers.read(r)),
	}
}

// figureKeys are about numbers.
func (rules *Rules) figureKeys(r *decode.Reader) []decode.Key {
	return []decode.Key{
		decode.Must("decimals", rules.Decimals.read(r, &rules.SpeedAt)),
		decode.May("numbers", rules.Form.read(r)),
		decode.Must("coordinates", func(n decode.Node) {
			rules.CoordinatesAt = n.Place()
			readChoice(r, &rules.BaseCoordinates, []string{"base", "frame"}, []bool{true, false})(n)
		}),
		decode.Must("rotation", func(n decode.Node) {
			rules.rotationAt = n.Place()
			readChoice(r, &rules.Rotation, rotationWords, rotationForms)(n)
		}),
	}
}

// wordKeys are about names and what the family does not write.
func (rules *Rules) wordKeys(r *decode.Reader) []decode.Key {
	return []decode.Key{
		decode.May("names", rules.Names.read(r, "names")),
		decode.May("writes", readChoice(r, &rules.Loops, []string{"moves", "loops"}, []bool{false, true})),
		decode.May("cannot", rules.readCannot(r)),
		decode.May("reads", rules.Reads.read(r)),
		decode.May("travel_speed", rules.readTravelSpeed(r)),
	}
}

func readText(r *decode.Reader, dst *string) func(decode.Node) {
	return func(n decode.Node) {
		var text decode.Value[string]
		r.Text(&text)(n)
		*dst = text.V
	}
}

func readWhole(r *decode.Reader, dst *int, lo, hi int) func(decode.Node) {
	return func(n decode.Node) {
		var whole decode.Value[int]
		r.Whole(&whole, lo, hi)(n)
		*dst = whole.V
	}
}

// An extension becomes part of a file's name: it must not lead to another folder.
var goodExtension = regexp.MustCompile(`^\.[A-Za-z0-9]{1,12}$`)

func (rules *Rules) readExtension(r *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		var extension decode.Value[string]
		r.Text(&extension)(n)
		if extension.IsSet() && !goodExtension.MatchString(extension.V) {
			r.List.Errorf("bad-extension", extension.Place, "%q is no file extension, wanted a full stop and letters or digits", extension.V).
				WithHint("write it as in \".txt\"")
			return
		}
		rules.Extension = extension.V
	}
}

// readCannot reads the blocks that the family does not write, each with a reason.
func (rules *Rules) readCannot(r *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		var keys []decode.Key
		for _, b := range Blocks {
			if b.Kind == 0 && b.Name != Pause {
				continue
			}
			keys = append(keys, decode.May(b.Name, func(n decode.Node) {
				var reason decode.Value[string]
				r.Text(&reason)(n)
				rules.Cannot[b.Name], rules.CannotAt[b.Name] = reason.V, n.Place()
			}))
		}
		r.Object(n, "cannot", keys...)
	}
}

// CannotMove is why the family does not write a kind of move; "" when it does.
func (rules *Rules) CannotMove(kind move.Kind) string { return rules.Cannot[kind.String()] }
