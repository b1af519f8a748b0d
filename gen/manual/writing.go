package manual

import "slices"

// Writing is the pages of what is found on the way to a program: in a family, in what it writes, in
// other runs of a job, and where files are there already.
func Writing() []Page {
	return slices.Concat(familyPages(), programPages(), runPages(), recordedPages())
}

// programPages are about what a family makes of a plan.
func programPages() []Page {
	with := func(family string) string { return "write " + PlanName + " --family " + family + " -o -" }
	own := with("./family")
	rule := func(was, is string) Example { return inFamily("family.yaml", was, is) }
	block := func(was, is string) Example { return inFamily("program.tmpl", was, is) }
	return []Page{
		found("kind-not-possible", "The plan asks for a kind of move that the family does not write.", "Leave it out, or copy the family and write the word that your controller reads.",
			in("motion:", "end:\n  - set: {output: 7, level: on}\nmotion:")).by(with("iso6983")),
		found("tool-tilted", "The tool leans from straight down, and the family writes only the turn about the vertical.", "Point the tool straight down there, or choose a family that writes whole orientations.",
			in("    left:  {at: [250, 60, 40]}", "    left:  {at: [250, 60, 40], rpy: [10, 0, 0]}")).by(with("iso6983")),
		untold("turn-out-of-range", "The tool is turned farther about the vertical than the axis goes.", "Turn the grid or the pose, or say how far the axis goes: \"machine.rotation.range\".", "It takes a gantry with a turning axis."),
		untold("axis-turns-back", "The axis that turns the tool goes the long way round, since it ends on the short one.", "Give the tool room to turn there; where the axis goes further, say so in the cell.", "It takes a gantry with a turning axis.").warning(),
		found("figure-too-wide", "A figure is wider than the family's field for it.", "Give the field more characters in family.yaml, or fewer decimals.", rule("speed_unit: mm/s", "speed_unit: mm/s\nnumbers: {width: {length: 6}}")).by(own),
		found("rounds-to-nothing", "A figure that is not 0 is written as 0, with the family's decimals.", "Give that quantity more decimals in family.yaml.",
			in("settle: 0.4}", "settle: 0.0001}")).by(with("iso6983")),
		untold("rounds-too-coarsely", "Rounding moves a point farther than the family allows.", "Give the quantity more decimals in family.yaml.", "It takes a family with a tolerance."),
		untold("speed-cut-short", "A speed is written a good deal lower than it is in the plan, since the family's decimals round it down.", "Give speeds more decimals in family.yaml, or choose speeds that need no more.", "It takes a family with few decimals.").warning(),
		untold("machine-speed-unknown", "The family writes speeds in percent of the machine's, and the cell does not give that.", "Write \"machine.speed\" into the cell.", "A cell without \"machine.speed\" has limits-unknown as well."),
		found("line-too-long", "A line of the program is longer than the controller reads, without its comment.", "Write fewer decimals, or make two lines of it in the template.", rule("longest_line: 120", "longest_line: 40")).by(own),
		found("letter-not-allowed", "A line of the program has a character that the family does not allow.", "Replace it in the template with a function such as \"upper\", or add it to \"letters\".",
			rule("speed_unit: mm/s", "speed_unit: mm/s\nletters: '!-<>-~'")).by(own),
		untold("not-in-encoding", "A line of the program has a character that the family's encoding lacks.", "Name another encoding in family.yaml, or replace it.", "The shipped families replace such letters."),
		untold("number-not-finite", "A figure of a move is infinite.", "Tell the people who make Gridferry: this is a mistake in the program, not in your plan.", Guards),
		untold("output-too-large", "The program is longer than it may be.", "Take out of the template what repeats itself; if the family is sound, allow more with --max-output.", "It takes a program of gigabytes."),
		untold("transfer-too-long", "One transfer has more lines than a file of the program may have.", "Raise \"most_lines\" in family.yaml.", "It takes a family that writes several files."),
		untold("too-many-parts", "The program needs more files than a program may have, or than its main text has room to call.", "Raise \"most_lines\" in family.yaml, or split the plan.", "It takes a family that writes several files."),
		untold("too-many-tables", "The moves have no room in the tables that the family may have.", "Split the plan, or allow more tables in family.yaml.", "It takes a plan of hundreds of thousands of moves."),
		untold("name-not-unique", "Two names become one identifier in the program.", "Rename one of the two, or allow longer names in family.yaml.", "It takes a family that names every point."),
		found("template-failed", "A template fails while the program is written.", "Look at the place in the template that the message names.", block("begin {{.Program}}", "begin {{index .Cautions 99}}")).by(own),
		found("arm-needed", "The family writes how the arm's joints stand, and the cell does not say what the arm is.", "Write \"arm\" into the cell, or choose another family.", block("travel {{template", "travel {{.Configuration}} {{template")).by(own),
		found("frame-beside-base", "A block names the frame, and the family writes all points in base coordinates.", "Take the frame out of the block, or write \"coordinates: frame\".", rule("coordinates: frame", "coordinates: base")).by("families try ./family").warning(),
		found("read-back-differs", "A line that was written says something else than the move that it was written for.", "Mend the template or its reading under \"reads\".", block("travel {{template \"point\" .}} speed={{.Speed}}", "travel {{template \"point\" .}} speed={{.FlyBy}}")).by(own),
		found("unread-line", "A line that was written reads as nothing by the family's \"reads\".", "Add a reading for it.", block("dwell seconds={{.Seconds}}", "wait seconds={{.Seconds}}")).by(own),
		untold("no-read-back", "Nothing, or not all, of what the family writes is read back.", "Say under \"reads\" how its lines read.", "It takes a family without \"reads\".").warning(),
		untold("no-seal", "Programs of the family carry no seal, since its comment rules do not let one through: nobody sees whether one was changed.", "Allow the letters of a seal in comments.", "It takes a family without comments.").warning(),
	}
}

// runPages are about prove-outs and resumed jobs.
func runPages() []Page {
	return []Page{
		untold("resume-state", "A resumed job says what it takes to be true: which slots are full, and what the gripper holds.", "Look at the bench, and compare, before it runs.", "Every resumed job has it; \"gridferry check PLAN --from 2\" shows it.").warning(),
		untold("resume-steps", "The steps of \"begin\" are not done again in a resumed job.", "Do by hand what is missing, or say --begin.", "It comes with others of a resumed job.").warning(),
		untold("resume-outputs", "A resumed job begins with outputs as the steps before it leave them.", "See that nothing moves when they are switched.", "It comes with others of a resumed job.").warning(),
		untold("resume-in-group", "The job is to resume at a transfer whose part is carried together with others.", "Resume at the first of them.", "It takes a tool with several zones."),
		untold("no-such-transfer", "The job has no transfer of that number.", "\"gridferry moves PLAN\" shows the numbers.", "The command line refuses it before."),
		untold("slots-differ", "The slots that a file says are full are not those that are full before this transfer. Where it can be done all the same, that is a warning.", "Look at the bench, and name the transfer that is next, or correct the file.", "It takes a file of slots."),
		untold("part-unaccounted", "The file of slots has a part less, or more, than the job has.", "Look where it is: in the gripper, say --holding.", "It takes a file of slots."),
		untold("lift-below-parts", "In a prove-out the tool is not lifted above all parts that stand there.", "Lift it farther with --lift, or take the parts away.", "It comes with a prove-out: --prove-out --lift 5.").warning(),
		untold("prove-out-holding", "A prove-out without parts cannot begin with one in the gripper.", "Leave --holding out, or --prove-out.", "It comes with a prove-out that is resumed."),
		untold("travel-on-a-line", "In a prove-out the travels become straight lines, and some of these are out of reach or blocked.", "Add poses to pass on the way.", "It takes an arm that cannot go straight."),
	}
}

// recordedPages are about files that are there already, and about recorded cases.
func recordedPages() []Page {
	const there = "It takes a program that is there already."
	return []Page{
		untold("changed-by-hand", "The program that would be replaced was changed by hand since Gridferry wrote it.", "Take the change over into plan or family, then use --replace, which keeps the old one.", there),
		untold("not-sealed", "A file would be replaced, and nothing shows whether it was changed by hand: it has no seal, or its family writes none.", "Use --replace, which keeps the old one.", there),
		untold("shard-missing", "A shard of the variants has no table that can be read, so that not all can be merged.", "Run that shard, to its end.", "It is found by \"vary --merge\"."),
		untold("shard-outdated", "The table of a shard lacks a variant of the plan as it is now, or was made for other values or families.", "Run that shard again, with what the others got.", "It is found by \"vary --merge\"."),
		untold("plan-gone", "The plan that a live page follows cannot be read any more.", "Put it back, or save it anew from the page.", "It is found by \"live\"."),
		untold("family-fails", "A family cannot be tried in the editor: something beside its text is wrong.", "\"gridferry families try\" says what.", "It is found by \"lsp\"."),
		untold("not-ours", "A file of that name exists that Gridferry did not write.", "Name another folder, or move it away.", there),
		untold("case-unreadable", "A case of \"golden\" cannot be read.", "Look whether the file may be read.", "It takes a file that cannot be read."),
		untold("plan-unreadable", "The plan of a case cannot be read, or lies outside the folder.", "Name one in the folder that golden is given.", "It is found by \"golden\", in a case."),
		untold("family-unreadable", "The family of a case cannot be read, or lies outside the folder.", "Name one in the folder that golden is given.", "It is found by \"golden\", in a case."),
		untold("expected-unreadable", "The folder of recorded programs cannot be read.", "Look whether it may be read.", "It takes a folder that cannot be read."),
		untold("bad-setting", "A setting of a case is not written as the flags are.", "Write it like \"grids.tray.rows=5\".", "It is found by \"golden\", in a case."),
	}
}
