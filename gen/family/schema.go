package family

import (
	"slices"

	"gridferry/gen/move"
	"gridferry/plan/schema"
)

// Schema is the form of family.yaml, in the words of templates/AUTHORING.md. A
// test holds it to what the reader takes and refuses.
func Schema() schema.Schema {
	keys := slices.Concat(fileSchemaKeys(), lineSchemaKeys(), figureSchemaKeys(), unitSchemaKeys(), wordSchemaKeys())
	return schema.Object(keys...).
		When(whereIs("rotation", Vertical.String()), whereIs("coordinates", "base")).
		With("dependentSchemas", schema.Schema{{Name: "most_lines", Value: whereIs("writes", "moves")}})
}

// whereIs holds where a key says a certain word, or is not written.
func whereIs(key, word string) schema.Schema {
	return schema.Schema{{Name: "properties", Value: schema.Schema{{Name: key, Value: schema.Format(word)}}}}
}

func fileSchemaKeys() []schema.Key {
	return []schema.Key{
		schema.Must("format", "The first line of every family.yaml.", schema.Format(Format)),
		schema.Must("title", "One line that says what the family writes.", schema.Text()),
		schema.Must("extension", "Of the program's file: a full stop and letters or digits.", schema.Matching(goodExtension.String())),
		schema.May("file_names", "How the file's name is made from the plan's; left out, it is the plan's own name.", namesSchema(fileNames(), "A-Za-z0-9", "A-Za-z0-9_-")),
		schema.May("line_end", "How lines end.", schema.OneOf("lf", "crlf", "cr").Default("lf")),
		schema.May("encoding", "How characters become bytes; what the encoding has not loses its accents in texts.", schema.OneOf(encodingWords...).Default(encodingWords[0])),
		schema.May("most_lines", "Of one file; a program that is longer comes in several files.", schema.Whole(50, 1_000_000)),
	}
}

func lineSchemaKeys() []schema.Key {
	return []schema.Key{
		schema.May("longest_line", "In characters, block number included.", schema.Whole(shortestLine, 100_000)),
		schema.May("letters", "The characters that may stand in a program beside blanks, such as A-Z0-9.,; left out: any.", charSetSchema()),
		schema.Must("comment", "The marks of a comment; none where the controller has no comments, plain where people read the text and no machine obeys it.",
			schema.Or(schema.OneOf("plain", "none"), commentSchema())),
		schema.May("block_numbers", "How blocks are numbered; left out: not at all.", blockNumbersSchema()),
	}
}

func commentSchema() schema.Schema {
	return schema.Object(
		schema.Must("open", "The mark that opens a comment.", schema.Matching(`\S`)),
		schema.May("close", "The mark that closes it; without one a comment runs to the end of its line.", schema.Text()),
		schema.May("replace", "Texts that must not stand in a comment, each with what stands there instead.", schema.Texts(schema.Text())),
		schema.May("otherwise", "What stands for a character that no program may hold.", schema.Text().With("maxLength", 1).Default("?")),
	)
}

func blockNumbersSchema() schema.Schema {
	return schema.Object(
		schema.Must("prefix", "What stands before the number, such as N.", schema.Matching("^[ -~]*$")),
		schema.Must("start", "The first number.", schema.Whole(0, 1_000_000_000)),
		schema.Must("step", "From one number to the next.", schema.Whole(1, 1_000_000)),
		schema.Must("highest", "The highest number; past it they begin again at start.", schema.Whole(1, 1_000_000_000)),
		schema.May("width", "The least number of digits, with zeros in front.", schema.Whole(1, 10)),
		schema.May("unnumbered", "Lines that get no number.", schema.Each(schema.Text())),
	)
}

func figureSchemaKeys() []schema.Key {
	return []schema.Key{
		schema.Must("decimals", "How many digits stand behind the point of each quantity.", decimalsSchema()),
		schema.May("numbers", "How figures are set.", numbersSchema()),
		schema.Must("coordinates", "Every point in base coordinates, or each point in its own frame.", schema.OneOf("base", "frame")),
		schema.Must("rotation", "How the turn of a tool is written; vertical is one turn about the vertical, for a tool that points straight down.", schema.OneOf(rotationWords...)),
	}
}

func decimalsSchema() schema.Schema {
	digits := schema.Whole(0, MostDecimals)
	return schema.Object(
		schema.Must("length", "Of lengths.", digits),
		schema.Must("angle", "Of angles.", digits),
		schema.Must("time", "Of times.", digits),
		schema.Must("speed", "Of speeds.", digits),
		schema.Must("mass", "Of masses.", digits),
		schema.May("quaternion", "Of the components of a quaternion.", schema.Whole(1, MostDecimals).Default(usualQuaternion)),
	)
}

func numbersSchema() schema.Schema {
	width := schema.Whole(1, 40)
	return schema.Object(
		schema.May("point", "The decimal point: only where digits follow it, always, or always and one digit behind it.", schema.OneOf("as-needed", "always", "with-digit").Default("as-needed")),
		schema.May("trailing_zeros", "Whether zeros at the end of a fraction stay.", schema.OneOf("keep", "drop").Default("keep")),
		schema.May("sign", "A sign only where it is a minus, or always.", schema.OneOf("negative", "always").Default("negative")),
		schema.May("fill", "Blanks before the figure, or zeros behind its sign.", schema.OneOf("blanks", "zeros").Default("blanks")),
		schema.May("width", "So many characters, no more and no less.", schema.Object(
			schema.May("length", "Of lengths.", width),
			schema.May("angle", "Of angles.", width),
			schema.May("time", "Of times.", width),
			schema.May("speed", "Of speeds.", width),
			schema.May("mass", "Of masses.", width),
			schema.May("quaternion", "Of the components of a quaternion.", width),
		)),
	)
}

func unitSchemaKeys() []schema.Key {
	words := func(units []Unit) schema.Schema {
		var names []string
		for _, u := range units {
			names = append(names, u.Name)
		}
		return schema.OneOf(names...)
	}
	usual := metric()
	return []schema.Key{
		schema.Must("speed_unit", "The unit of speeds; percent is of the machine's own speed, which the cell then has to give.", words(speedUnits)),
		schema.May("length_unit", "The unit of lengths; accelerations follow it.", words(lengthUnits).Default(usual[Length].Name)),
		schema.May("angle_unit", "The unit of angles.", words(angleUnits).Default(usual[Angle].Name)),
		schema.May("time_unit", "The unit of times.", words(timeUnits).Default(usual[Time].Name)),
		schema.May("mass_unit", "The unit of masses.", words(massUnits).Default(usual[Mass].Name)),
	}
}

func wordSchemaKeys() []schema.Key {
	return []schema.Key{
		schema.May("names", "What an identifier is made of.", namesSchema(defaultNames(), "A-Za-z", "A-Za-z0-9_")),
		schema.May("writes", "Every move, or the plan's entries as nested loops.", schema.OneOf("moves", "loops").Default("moves")),
		schema.May("cannot", "Kinds of moves that this controller cannot do, each with the reason that people are told.", cannotSchema()),
		schema.May("reads", "How the family's own lines read; a line is what the first entry says that fits it.", schema.Each(readingSchema())),
		schema.May("travel_speed", "Who chooses how fast a travel goes; left out: the program if the block travel uses the field .Speed.", schema.OneOf("program", "controller")),
	}
}

// namesSchema is a table of name rules; first and letters are how the usual sets
// of characters are written.
func namesSchema(usual Names, first, letters string) schema.Schema {
	return schema.Object(
		schema.May("first", "What it may begin with.", charSetSchema().Default(first)),
		schema.May("letters", "What else it may be made of.", charSetSchema().Default(letters)),
		schema.May("replace", "What stands for anything else; may be empty.", schema.Text().With("maxLength", 1).Default(usual.Replace)),
		schema.May("longest", "How long it may be.", schema.Whole(4, 255).Default(usual.Longest)),
		schema.May("case", "Whether letters change case.", schema.OneOf("keep", "upper", "lower").Default(usual.Case)),
		schema.May("reserved", "The words that it must not be.", schema.Each(schema.Text())),
	)
}

// charSetSchema is characters and ranges such as "A-Z0-9".
func charSetSchema() schema.Schema { return schema.Matching("^[!-~]+$") }

func cannotSchema() schema.Schema {
	var keys []schema.Key
	for _, b := range Blocks {
		if b.Kind != 0 || b.Name == Pause {
			keys = append(keys, schema.May(b.Name, "Why the family has no words for "+b.Name+".", schema.Text()))
		}
	}
	return schema.Object(keys...)
}

func readingSchema() schema.Schema {
	meaning := schema.OneOf(meaningWords()...)
	s := schema.Object(
		schema.May("line", "The pattern of a whole line, a regular expression in which {x} stands for a number.", schema.Text()),
		schema.May("row", "The columns between commas: names of fields, - for a column that does not matter.", schema.Each(schema.OneOf(append(fieldNames(), "-")...))),
		schema.Must("is", "A kind of move, or what else the line is; with a column kind, a table from its numbers to those words.",
			schema.Or(meaning, schema.Texts(meaning))),
		schema.May("within", "The section that the entry fits in.", schema.Text()),
		schema.May("then", "The section that begins behind the line; outside ends it.", schema.Text()),
		schema.May("when", "Of a select that is told in several lines: the change that this line is written for.", schema.OneOf(WhenFrame, WhenLoad, WhenTool)),
		schema.May("gives", "Fields that the line means without writing them.", givenSchema()),
	)
	return s.OneWay([]string{"line"}, []string{"row"}).
		With("dependentSchemas", schema.Schema{{Name: "when", Value: whereIs("is", move.Select.String())}})
}

func givenSchema() schema.Schema {
	return schema.Texts(schema.Text()).With("propertyNames", schema.Schema{{Name: "enum", Value: fieldNames()}})
}
