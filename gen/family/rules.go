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
	Title           string
	Extension       string // with its full stop
	LineEnd         string
	ASCII           bool // otherwise UTF-8
	LongestLine     int  // characters, block number included; 0 for no limit
	Decimals        Decimals
	SpeedPerMinute  bool // speeds in mm/min instead of mm/s
	Comment         Comment
	BlockNumbers    BlockNumbers
	BaseCoordinates bool // otherwise each point in its own frame
	Vertical        bool // only a turn about the vertical, otherwise roll, pitch and yaw
	Names           Names
	Cannot          map[move.Kind]string // what this family does not write, and why
	CannotAt        map[move.Kind]diag.Place
}

// Decimals is how many digits stand behind the point.
type Decimals struct{ Length, Angle, Time, Speed, Mass int }

func (d *Decimals) read(r *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		var length, angle, time, speed, mass decode.Value[int]
		r.Object(n, "decimals",
			decode.Must("length", r.Whole(&length, 0, 9)),
			decode.Must("angle", r.Whole(&angle, 0, 9)),
			decode.Must("time", r.Whole(&time, 0, 9)),
			decode.Must("speed", r.Whole(&speed, 0, 9)),
			decode.Must("mass", r.Whole(&mass, 0, 9)),
		)
		*d = Decimals{length.V, angle.V, time.V, speed.V, mass.V}
	}
}

// readRules decodes family.yaml.
func readRules(file string, data []byte, list *diag.List) (Rules, bool) {
	rules := Rules{LineEnd: "\n", Names: defaultNames(), Cannot: map[move.Kind]string{}, CannotAt: map[move.Kind]diag.Place{}}
	before := list.Len()
	root, ok := decode.File(file, data, list)
	if !ok {
		return rules, false
	}
	r := &decode.Reader{List: list}
	rules.read(r, root)
	rules.Comment.ascii = rules.ASCII
	return rules, list.Len() == before
}

func (rules *Rules) read(r *decode.Reader, root decode.Node) {
	var title, extension, lineEnd, encoding, speed, coordinates, rotation, format decode.Value[string]
	var longest decode.Value[int]
	written := r.Object(root, "a family",
		decode.Must("format", r.OneOf(&format, Format)),
		decode.Must("title", r.Text(&title)),
		decode.Must("extension", r.Text(&extension)),
		decode.May("line_end", r.OneOf(&lineEnd, "lf", "crlf")),
		decode.May("encoding", r.OneOf(&encoding, "utf-8", "ascii")),
		decode.May("longest_line", r.Whole(&longest, 80, 100_000)),
		decode.Must("decimals", rules.Decimals.read(r)),
		decode.Must("speed_unit", r.OneOf(&speed, "mm/s", "mm/min")),
		decode.Must("comment", rules.Comment.read(r)),
		decode.May("block_numbers", rules.BlockNumbers.read(r)),
		decode.Must("coordinates", r.OneOf(&coordinates, "base", "frame")),
		decode.Must("rotation", r.OneOf(&rotation, "fixed-xyz", "vertical")),
		decode.May("names", rules.Names.read(r)),
		decode.May("cannot", rules.readCannot(r)),
	)
	rules.Comment.checkMarks(r.List, written["comment"])
	rules.Title, rules.Extension, rules.LongestLine = title.V, extension.V, longest.V
	if lineEnd.V == "crlf" {
		rules.LineEnd = "\r\n"
	}
	rules.ASCII = encoding.V == "ascii"
	rules.SpeedPerMinute = speed.V == "mm/min"
	rules.BaseCoordinates = coordinates.V == "base"
	rules.Vertical = rotation.V == "vertical"
	checkExtension(r.List, extension)
	if rules.Vertical && coordinates.V == "frame" {
		r.List.Errorf("bad-rotation", rotation.Place, "\"vertical\" is the base's vertical, so that it goes with \"coordinates: base\" only")
	}
}

// An extension becomes part of a file's name: it must not lead to another folder.
var goodExtension = regexp.MustCompile(`^\.[A-Za-z0-9]{1,12}$`)

func checkExtension(list *diag.List, extension decode.Value[string]) {
	if extension.IsSet() && !goodExtension.MatchString(extension.V) {
		list.Errorf("bad-extension", extension.Place, "%q is no file extension, wanted a full stop and letters or digits", extension.V).
			WithHint("write it as in \".txt\"")
	}
}

// readCannot reads the kinds that the family does not write, each with a reason.
func (rules *Rules) readCannot(r *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		keys := make([]decode.Key, len(move.Kinds))
		for i, kind := range move.Kinds {
			keys[i] = decode.May(kind.String(), func(n decode.Node) {
				var reason decode.Value[string]
				r.Text(&reason)(n)
				rules.Cannot[kind], rules.CannotAt[kind] = reason.V, n.Place()
			})
		}
		r.Object(n, "cannot", keys...)
	}
}
