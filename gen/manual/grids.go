package manual

// gridPages are about grids, their slots and what stands in them.
func gridPages() []Page {
	pile := "rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15]"
	return []Page{
		found("slots-coincide", "Two slots of a grid are one place, since the pitch between them is 0.", "Write the pitch: from column to column, then from row to row.",
			in("pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0]", "pile: {frame: right, rows: 1, columns: 2, pitch: [0, 50]")),
		found("bad-selection", "Slots are not written as slots are.", "Row letters, then the column number, a layer behind a dot: \"A1\", \"A1:B6\", \"B2.3\"; a\nwhole row is \"A\".",
			in(`{from: "tray A1:A3"`, `{from: "tray 1A:3A"`)),
		found("slot-outside-grid", "A slot is named that is outside its grid.", "Name one of the grid's, or correct its rows and columns.", in(`{from: "tray B1:B2"`, `{from: "tray C1:C2"`)),
		found("slot-missing", "A slot is named that the grid does not have: it is listed under \"missing\".", "Name another one, or take it out of \"missing\".",
			in("part: block, filled: all}", "part: block, filled: all, missing: A2}")+in(`{from: "tray A1:A3"`, `{from: "tray A1, A2, A3"`)),
		found("slot-repeated", "A slot is named twice.", "Name every slot once.", in(`to: "rack A1:A3"}`, `to: "rack A1, A2, A2"}`)),
		found("bad-ring", "The circles of a ring do not have as many figures as there are.", "Write one figure for each circle.",
			in(pile, "ring: {radius: [60, 90], places: [6, 9, 12]}, first: [30, 160, 15]")),
		found("bad-balance", "A ring's \"balance\" is so wide that a whole part may be missing.", "Write what the rotor's manual allows to be lacking, such as \"0.1 g\".",
			in("  pile: {frame: right, "+pile+", part: block}", "  pile: {frame: right, "+pile+", part: block}\n  disc: {frame: right, ring: {radius: 60, places: 6, balance: 5}, first: [30, 160, 15], part: block}")),
		found("bad-row", "Rows of \"places\" are not lettered in order, from A.", "Call them A, B, C.",
			in("  pile: {frame: right, "+pile+", part: block}", "  pile: {frame: right, "+pile+", part: block}\n  odd: {frame: right, places: {front: [[30, 160, 15]]}, part: block}")),
		found("no-standard-positions", "No published standard says where the wells of such a plate are.", "Measure this plate, and give \"corners\", or \"first\" and \"pitch\".",
			in("  pile: {frame: right, "+pile+", part: block}", "  pile: {frame: right, "+pile+", part: block}\n  wells: {frame: right, standard: ansi-slas-48, height: 10, part: block}")),
		untold("too-many-slots", "The grids have more slots than the limit allows, or a layer more boxes.", "\"--limit\" raises it.", "Its example would be a plan of millions of slots, which is refused for that alone."),
		untold("too-much-choice", "To choose slots, or to lay boxes in layers, takes more looks than a plan may cost.", "Write fewer and smaller selections, or larger boxes, fewer stacks or \"pattern: columns\".", "It takes grids of millions of slots, or pallets of thousands of boxes."),
		found("box-over-edge", "A box of a written layer stands over the edge of its pallet, or not one fits.", "\"at\" is the middle of a box, from the corner of the pallet.",
			boxes("{pattern: [{at: [10, 20]}]}", "[100, 100]")),
		found("boxes-overlap", "Two boxes of a written layer reach into each other.", "\"at\" is the middle of a box; set them farther apart.",
			boxes("{pattern: [{at: [15, 30]}, {at: [35, 30]}]}", "[100, 100]")),
		found("no-pattern", "The boxes do not make that pattern on that pallet.", "Write \"pattern: best\", which finds as many as five blocks hold.",
			boxes("{pattern: pinwheel}", "[70, 65]")),
		found("feeder-filled", "A grid is a feeder and says what stands in it: its slots fill or empty by themselves.", "Keep one of the two.",
			in("part: block, filled: all}", "part: block, filled: all, flow: in}")),
		found("feeder-layers", "A feeder has several layers.", "A feeder has one layer; parts that stand on each other are a grid with \"filled\".",
			in("layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block}", "layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block, flow: out}")),
	}
}

// boxes is one more grid, a stack of bricks.
func boxes(layer, pallet string) Example {
	return in("motion:", "  stack: {frame: right, first: [0, 250, 0], boxes: "+layer+", pallet: "+pallet+", part: brick}\nmotion:")
}
