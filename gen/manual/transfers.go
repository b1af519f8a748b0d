package manual

// transferPages are about the entries of "transfers".
func transferPages() []Page {
	first, feeder := `  - {from: "tray A1:A3", to: "rack A1:A3"}`, "part: block, filled: all}"
	return []Page{
		found("count-mismatch", "An entry takes more or fewer slots than it fills.", "Name as many slots on both sides, or say \"take\".", in(`to: "rack A1:A3"}`, `to: "rack A1:A2"}`)),
		found("count-unknown", "Both sides of an entry take and give as many parts as are asked for.", "Add \"take:\" with a number.",
			in(feeder, "part: block, flow: in}")+in("rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}", "rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, flow: out}")+
				in(first, "  - {from: tray, to: rack}")),
		found("against-flow", "A part is put where parts come from by themselves, or taken from where they go.", "Take from an infeed and fill a chute, or leave \"flow\" out.",
			in("rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}", "rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, flow: in}")),
		found("nothing-to-move", "An entry, or the whole plan, moves no part. A plan that moves none at all, and an entry whose parts have no slot that is free, have it as an error.",
			"Say with \"filled\" what stands there, name the slots, or leave the entry out.", in(first, "  - {from: pile, to: rack}\n"+first)).warning(),
		found("short-chain", "A chain has one stop.", "Name two or more, or write \"from\" and \"to\".", in(first, "  - {chain: [\"tray A1:A3\"]}")),
		found("single-slot-stop", "More parts than one are to stand in a single slot at the same time.", "Say \"advance: part\", so that each part goes through all stops before the next one\nstarts.",
			in(first, `  - {chain: ["tray A1:A3", "pile A2.1", "rack A1:A3"], advance: leg}`)),
		found("too-few-zones", "More parts are to be carried at once than the tool has zones.", "Say \"at_once\" with the number of zones, or fewer.",
			in("      mass: 0.8", `      mass: 0.8
      zones:
        a: {at: [0, 0, 0], grip: {output: 2, level: on, settle: 0.4}, release: {output: 2, level: off, settle: 0.3}}
        b: {at: [50, 0, 0], grip: {output: 3, level: on, settle: 0.4}, release: {output: 3, level: off, settle: 0.3}}`)+
				"-      grip:    {output: 1, level: on,  settle: 0.4}\n-      release: {output: 1, level: off, settle: 0.3}\n"+
				in(first, `  - {from: "tray A1:A3", to: "rack A1:A3", at_once: 3}`)),
		found("two-tools", "Parts are taken with one tool and put down with another one.", "Write into the entry which tool carries the part: \"motion: {tool: jaw}\".",
			cup()+in("rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}", "rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, motion: {tool: cup}}")),
		found("change-without-clear", "A tool is changed, and there is no clear pose to do that at.", "Name a pose of the cell as \"clear\" in the motion.",
			cup()+in("  clear: clear", "  clear: none")+in(`{from: "tray B1:B2", to: "pile A1.1, A1.2"}`, `{from: "tray B1:B2", to: "pile A1.1, A1.2", motion: {tool: cup}}`)),
		found("no-ring", "\"order: balanced\" is asked for, and no grid of the entry is a ring.", "Name a grid with \"ring\", or another order.", in(first, `  - {from: "tray A1:A3", to: "rack A1:A3", order: balanced}`)),
		found("order-without-effect", "An order is asked for where every order is as long.", "Leave \"order\" out.", in(first, `  - {from: "tray A1:A3", to: "rack A1:A3", order: shortest}`)).warning(),
		untold("order-not-searched", "An order is asked for, and not searched for: the entry goes through too many slots, or takes from slots that it also fills.", "Split the entry, or ask for \"serpentine\".",
			"It takes an entry of thousands of slots.").warning(),
		untold("too-many-transfers", "The plan makes more transfers than the limit allows.", "\"--limit\" raises it; \"take\" moves fewer parts.", "Its example would be a plan of millions of transfers, which is refused for that alone."),
		untold("too-many-moves", "The plan makes more moves than can be counted.", "Split the plan.", "Its example would be a plan of billions of moves."),
		untold("too-crowded", "So many parts stand so close that looking at all of them would take hours; the rules stopped looking.", "Split the plan, or leave out the sizes of what cannot be hit.", "Its example would be a plan of millions of parts."),
	}
}

// cup is a second tool.
func cup() Example {
	return in("  frames:", `    cup:
      tcp: {at: [0, 0, 110]}
      mass: 0.6
      centre_of_gravity: [0, 0, 50]
      grip:    {output: 4, level: on,  settle: 0.4}
      release: {output: 4, level: off, settle: 0.3}
  frames:`)
}
