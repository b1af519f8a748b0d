package manual

// familyPages are about the files of a family, which are looked at before anything is written.
func familyPages() []Page {
	const try = "families try ./family"
	rule := func(name, doc, do, was, is string) Page {
		return found(name, doc, do, inFamily("family.yaml", was, is)).by(try)
	}
	block := func(name, doc, do, was, is string) Page {
		return found(name, doc, do, inFamily("program.tmpl", was, is)).by(try)
	}
	return []Page{
		rule("bad-extension", "The end of the program's file name is none.", "Write a full stop and letters or digits.", "extension: .prog", "extension: prog"),
		rule("bad-comment-mark", "A comment's mark cannot be one.", "Write one or more printable ASCII characters.", "comment: {open: \"# \"}", "comment: {open: \"# \", otherwise: ab}"),
		rule("bad-name-rule", "A character of names belongs to a comment's mark or to quotes.", "Take it out of one of the two.", "letters: A-Za-z0-9_,", "letters: \"A-Za-z0-9_#\","),
		rule("bad-quotes", "A quotation mark of the family is no single sign, or one that words and figures have.", "Write the sign that your controller reads.", "speed_unit: mm/s", "speed_unit: mm/s\nquotes: {open: a, close: a}"),
		rule("bad-rotation", "The turn about the vertical goes with base coordinates only.", "Write \"coordinates: base\", or another \"rotation\".", "rotation: fixed-xyz", "rotation: vertical"),
		rule("bad-block-numbers", "The prefix of block numbers is no printable ASCII.", "Write the word before the number, such as N.", "speed_unit: mm/s", "speed_unit: mm/s\nblock_numbers: {prefix: é, start: 10, step: 10, highest: 9990}"),
		untold("bad-writes", "A family of loops is asked for what loops cannot do.", "Leave \"most_lines\" out.", "It takes a family of loops."),
		rule("bad-reading", "A reading under \"reads\" cannot be used.", "Correct what the message names; templates/AUTHORING.md has the form.", "'dwell seconds={time}', is: dwell", "'dwell seconds={tme}', is: dwell"),
		untold("reading-too-costly", "A reading could take very long on some lines.", "Write it without nested choices.", "Its example would be a line of brackets."),
		block("template-syntax", "A template does not read as one.", "Look at the braces at that place.", "dwell seconds={{.Seconds}}", "dwell seconds={{.Seconds}"),
		untold("missing-block", "A block is missing that the moves need.", "Define it, or say under \"cannot\" why your controller has no such move.", "A missing block is one that is called otherwise, too."),
		block("unknown-block", "A block has a name that Gridferry never writes, and no other block uses.", "Give it the name of a block, or use it.", "{{define \"point\"}}", "{{define \"dot\"}}x{{end}}{{define \"point\"}}"),
		untold("block-twice", "A block is defined twice.", "Take one of the two out.", "It takes two files of templates."),
		rule("cannot-but-defined", "A kind is listed under \"cannot\", and has a block all the same.", "Take it out of one of the two.", "speed_unit: mm/s", "speed_unit: mm/s\ncannot: {await: it has no inputs}"),
		untold("unused-block", "A block is for programs in several files, and the family writes one.", "Say \"most_lines\", or take the block out.", "It takes a block for several files."),
		block("text-outside-block", "Text stands outside of any block, and would never be written.", "Put it into a block, or into a comment of the template.", "{{define \"point\"}}", "point{{define \"point\"}}"),
		block("unknown-field", "A block has no such field.", "\"gridferry families fields\" lists them.", "dwell seconds={{.Seconds}}", "dwell seconds={{.Secs}}"),
		block("field-not-filled", "A field is empty in this family: it goes with another rule in family.yaml.", "Use the field that goes with the family's rules.", "yaw={{.Yaw}}{{end}}", "yaw={{.QW}}{{end}}"),
		block("unknown-function", "There is no such function.", "templates/AUTHORING.md lists them.", "begin {{.Program}}", "begin {{uper .Program}}"),
		block("unknown-template", "A block is called that is not defined.", "Define it, or call another one.", "stop {{comment .Text}}", "stop {{template \"halt\" .}}"),
		block("template-recursion", "A block leads back to itself and would never end.", "Write it without calling itself.", "x={{.X}} y", "{{template \"point\" .}}x={{.X}} y"),
		untold("template-too-deep", "Blocks that call blocks lead too deep.", "Write what they say in fewer of them.", "Its example would be a hundred blocks."),
		untold("too-many-blocks", "The templates define too many blocks.", "Take out those that nothing uses.", "Its example would be thousands of blocks."),
		untold("too-many-variables", "A template declares too many variables.", "Write it without them.", "Its example would be hundreds of variables."),
		untold("constant-too-long", "A word in a template is longer than any line can be.", "Shorten it.", "Its example would be a page of letters."),
		untold("always-true", "An \"if\" asks something that always counts as true.", "Ask a field that is true or false.", "It depends on the type of a field."),
		block("never-a-level", "A level is compared with a word that no level is.", "Ask .IsOn, or compare with the family's words.", "{{if .IsOn}}", "{{if eq .Level \"high\"}}"),
		block("not-printable", "What is to be printed is no word, no whole number and no text.", "Print a field of it.", "begin {{.Program}}", "begin {{.Cautions}}"),
		block("text-in-function", "A function is given a text of the plan, which may only become a comment, a name or a quoted text.", "Use \"comment\", \"name\" or \"quote\".", "begin {{.Program}}", "begin {{upper .Title}}"),
		block("no-quotes", "A template writes the family's quotation marks, and family.yaml does not name them.", "Write \"quotes\" into family.yaml.", "begin {{.Program}}", "begin {{quote .Title}}"),
		untold("unreadable-family", "A file of the family cannot be read.", "Look whether it may be read, and is a plain file.", "It takes a file that cannot be read."),
		untold("bad-file-name", "A file of the family has a name that not every system takes.", "Use letters, digits, \".\", \"_\" and \"-\".", "It takes a file of another name."),
	}
}
