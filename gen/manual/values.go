package manual

// valuePages are about single values: figures, units, words, texts.
func valuePages() []Page {
	return []Page{
		found("wrong-type", "A value is of another kind than the key takes: a list where a text belongs, a text where a mapping does.",
			"Write it as the table of keys in plan/FORMAT.md shows.", in("  clear: clear", "  clear: [clear]")),
		found("null-value", "A key has nothing behind its colon.", "Write a value, or leave the key out.", in("  approach: 60", "  approach:")),
		found("not-a-number", "A figure is wanted, and what is written is none.", "Write a bare number in the key's own unit, or one with a unit such as \"0.5 m/s\".",
			in("rated_load: 3", "rated_load: heavy")),
		found("not-finite", "A figure is infinite, or none at all (\".nan\").", "Write the figure that is meant.", in("rated_load: 3", "rated_load: .inf")),
		found("ambiguous-number", "A figure can be read as more than one number: with marks between thousands, a comma, or a leading zero.",
			"Write plain digits, with a decimal point where there is one.", in("rated_load: 3", "rated_load: \"3,5\"")),
		found("not-whole-number", "A whole number is wanted.", "Write it in decimal digits, such as 4.", in("tray: {frame: left,  rows: 2", "tray: {frame: left,  rows: 2.5")),
		found("out-of-range", "A figure is smaller or larger than it can be: an approach distance of less than nothing, a range that ends before it begins.",
			"Write a figure that the message allows.", in("  approach: 60", "  approach: -60")),
		found("unknown-unit", "A figure has a unit that is not known.", "Write a bare number in the key's own unit, or one of the units that the hint names.\nUpper and lower case make different units.",
			in("rated_load: 3", "rated_load: 3 stone")),
		found("wrong-dimension", "A figure has the unit of another quantity: a speed where a length belongs.", "Write a figure of the quantity that the key takes.",
			in("  approach: 60", "  approach: 60 mm/s")),
		found("wrong-length", "A list has more or fewer entries than it takes.", "Write as many as the message says; what is 0 is written, too.",
			in("pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0]", "pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0, 0]")),
		found("unknown-word", "A key takes one of a few words, and another one is written.", "Write one of those that the message names.",
			in("output: 1, level: on,", "output: 1, level: high,")),
		untold("text-too-long", "A text has more than 2000 bytes.", "Shorten it.", "Its example would be a page of text."),
		found("bad-name", "A name has a character that names do not have, or is one that stands for something else.", "Use letters, digits, \"_\" and \"-\", a letter or digit first.",
			in("  brick: {mass", "  -brick: {mass")),
		found("bad-quaternion", "The four figures of a quaternion are not of length 1, within 1 %.", "Write it as [w, x, y, z], w first.",
			in("    left:  {at: [250, 60, 40]}", "    left:  {at: [250, 60, 40], quaternion: [1, 1, 0, 0]}")),
		found("no-direction", "[0, 0, 0] is written where a direction belongs.", "Write where it points: [0, 0, 1] is +Z.", in("  approach: 60", "  approach: 60\n  along: [0, 0, 0]")),
	}
}
