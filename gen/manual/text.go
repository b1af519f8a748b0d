package manual

// textPages are about files that are no text, or no YAML that means one thing only.
func textPages() []Page {
	return []Page{
		found("yaml-syntax", "The file is no YAML: a sign stands where none can stand, or the file ends in the middle of something.",
			"Look at the sign and at the line before it: indents, brackets and quotes. A text with \": \" or\n\" #\" in it stands in quotes.",
			in("title: Blocks from the tray to the rack", "title: Blocks: from the tray to the rack")),
		untold("not-utf8", "The file holds a byte that is no UTF-8 text.", "Save the file as UTF-8, as editors do unless told otherwise.", "Such a byte cannot be shown in a text."),
		found("control-character", "The file holds a control character where none can stand.", "Take it out; in double quotes it can be written as an escape such as \"\\u0007\".",
			in("Blocks from", "Blocks\x07 from")),
		found("hidden-character", "A text holds a character that does not show, or that would reorder what is around it.", "Write the text again without it.",
			in("title: Blocks from the tray to the rack", "title: \"Blocks\\e[31m from the tray to the rack\"")),
		found("curly-quotes", "A value stands in the bent quotes of a word processor, which YAML takes for letters.", "Write straight quotes, or none.",
			in("part: block, filled: all}", "part: block, filled: “all”}")),
		found("empty-document", "There is nothing in the file, or comments only.", "Write the plan; \"gridferry new\" makes one to start from.",
			in("  name: example bench", "  name: example bench\n  measured: bench.measured.yaml")+beside("bench.measured.yaml", "# nothing yet")),
		found("second-document", "A line \"---\" begins a second document, and one file is one document.", "Put it in a file of its own, or take out the line.",
			in(`to: "pile A1.1, A1.2"}`, "to: \"pile A1.1, A1.2\"}\n---\ntitle: another one")),
		found("custom-tag", "A tag such as \"!!int\" stands before a value, and has no meaning here.", "Leave it out; a text that begins with \"!\" stands in quotes.",
			in("rated_load: 3", "rated_load: !!float 3")),
		found("unknown-anchor", "An alias such as \"*pitch\" has no anchor before it to stand for.", "Write \"&pitch\" before the value further up, or put the text in quotes.",
			in("pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0]", "pile: {frame: right, rows: 1, columns: 2, pitch: *pitch")),
		found("alias-cycle", "An alias stands inside the value that it repeats, which would never end.", "Write out what is meant.",
			in("title: Blocks from the tray to the rack", "title: Blocks from the tray to the rack\nbegin: &steps\n  - *steps")),
		untold("alias-bomb", "Aliases of aliases stand for more than 500,000 values in all.", "Let aliases stand for less.", "Its example would be thousands of values for one mistake."),
		found("bad-merge", "\"<<\" takes in what is neither a mapping nor a list of mappings.", "Write an alias of a mapping behind it: \"<<: *common\".",
			in("  fly_by: 10", "  fly_by: 10\n  <<: [1, 2]")),
		found("bad-key", "A key is a list or a mapping, and a key has to be a text.", "Put a text that begins with \"[\" or \"{\" in quotes.",
			in("  clear: clear", "  clear: clear\n  [a, b]: 1")),
		found("duplicate-key", "A key stands in a mapping twice, so that nobody knows which of the two holds.", "Take one of the two out.",
			in("  fly_by: 10", "  fly_by: 10\n  fly_by: 12")),
		untold("nested-too-deep", "Lists and mappings stand more than 100 deep inside each other.", "Write the file without so many brackets.", "Its example would be a hundred brackets in a row."),
		untold("file-too-big", "A file has more than 16 MiB.", "Split the job into several plans, or its table into several.", "Its example would be 16 MiB long."),
		untold("too-many-values", "A file holds more values than are read.", "Split it into several.", "Its example would be half a million values."),
		untold("too-many-findings", "There are more than 10,000 findings, and the others are not shown.", "Mend these first: most are likely to be one mistake.", "Its example would be ten thousand mistakes."),
	}
}
