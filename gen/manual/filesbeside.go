package manual

import "strings"

// filePages are about the files that a plan or a cell names, and what stands in tables.
func filePages() []Page {
	const tray = "part: block, filled: all}"
	const entry = `{from: "tray A1:A3", to: "rack A1:A3"}`
	with := func(table string) Example {
		return in(tray, "part: block, contents: tray.csv}") + beside("tray.csv", table)
	}
	list := func(table string) Example { return in(entry, "{list: list.csv}") + beside("list.csv", table) }
	const beyond = "Name a file that lies beside this one: what lies outside the plan's folder is not read."
	return []Page{
		found("cell-unreadable", "The cell's file cannot be read, or lies outside the plan's folder.", beyond, cellIn("none.cell.yaml")),
		found("measured-unreadable", "The file of measured values cannot be read.", beyond, in("  name: example bench", "  name: example bench\n  measured: none.yaml")),
		found("contents-unreadable", "The table of contents of a grid cannot be read.", beyond, in(tray, "part: block, contents: none.csv}")),
		found("list-unreadable", "A worklist cannot be read.", beyond, in(entry, "{list: none.csv}")),
		found("bad-table", "A table is no CSV: a field in quotes does not end, or goes on behind them.", "A field in quotes has one at its beginning, one at its end, and two for each inside of it.",
			list("from,to\n\"tray A1,rack A1")),
		found("bad-columns", "The first line of a table does not name the columns that it has to have.", "Name them as the message says, in any order; those in brackets may be left out.", with("slot,idd\nA1,P-1")),
		found("missing-field", "A line of a table has nothing in a column that it needs.", "Fill it in, or leave the line out.", with("slot,id\nA1,P-1\nA2,")),
		found("empty-worklist", "A worklist has no line below the names of its columns.", "Write a line for each part that is to go, or leave the entry out.", list("from,to")),
		found("bad-id", "An id has more than 64 bytes, or holds what ids do not.", "Shorten it; a note may be longer.", with("slot,id\nA1,"+"P-123456789012345678901234567890123456789012345678901234567890123456")),
		found("id-repeated", "Two parts have one id.", "Give every part of the plan an id of its own.", with("slot,id\nA1,P-1\nA2,P-1")),
		found("id-rounded", "An id looks like a long number that a spreadsheet has rounded.", "Set the column to text in the spreadsheet, fill in the numbers again, and save it.",
			with("slot,id\nA1,P-1\nA2,P-2\nA3,\"4,05E+12\"\nB1,P-3\nB2,P-4")).warning(),
		found("id-mismatch", "A line of a worklist names another part than the one that stands there then.", "Correct the slot or the id.",
			in(tray, "part: block, contents: tray.csv}")+in(entry, "{list: list.csv}")+beside("tray.csv", "slot,id\nA1,P-1\nA2,P-2\nB1,P-3\nB2,P-4")+beside("list.csv", "from,to,id\ntray A1,rack A1,P-2")),
		found("contents-differ", "What a table of contents lists, and what the grid says of itself, do not agree.", "Leave \"filled\" out: the slots that the table lists are filled.",
			in(tray, "part: block, filled: all, contents: tray.csv}")+beside("tray.csv", "slot,id\nA1,P-1")),
		found("part-unknown", "Neither the table nor the grid says which part stands in a slot.", "Add \"part\" to the grid, or a column \"part\" to the table.",
			in("part: block, filled: all}", "contents: tray.csv}")+beside("tray.csv", "slot,id,part\nA1,P-1,block\nA2,P-2,block\nA3,P-3,block\nB1,P-4,block\nB2,P-5,")),
	}
}

// cellIn is the example plan with its cell in a file.
func cellIn(file string) Example {
	_, rest, _ := strings.Cut(ExamplePlan, "cell:\n")
	cell, _, _ := strings.Cut(rest, "parts:\n")
	var b strings.Builder
	for line := range strings.Lines(cell) {
		b.WriteString("-" + line)
	}
	return Example(b.String() + "-cell:\n+cell: " + file + "\n")
}
