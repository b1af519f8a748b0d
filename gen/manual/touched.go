package manual

// touchedPages are about frames, tools and grids that are worked out from touched points.
func touchedPages() []Page {
	frame := func(points string) Example {
		return in("    left:  {at: [250, 60, 40]}", "    left:  {"+points+"}")
	}
	return []Page{
		found("bad-three-points", "No frame can be worked out from three points: they lie too near to each other, or along one line.", "Touch the third point well to the side of the line through the others.",
			frame("three_points: {origin: [250, 60, 40], along_x: [350, 60, 40], toward_y: [150, 60.5, 40]}")),
		found("bad-best-fit", "No frame can be worked out from the points: they lie along one line, or are a mirror image.", "Touch one more point, well to the side; look for two axes that are exchanged.",
			frame("best_fit: {points: [{name: a, nominal: [0, 0, 0], measured: [250, 60, 40]}, {name: b, nominal: [50, 0, 0], measured: [300, 60, 40]}, {name: c, nominal: [100, 0, 0], measured: [350, 60, 40]}]}")),
		found("bad-pivot", "No tool centre point can be worked out from the poses: they are too few, or turn about one axis only.", "Touch the same spot in more poses, turned about both axes across the tool.",
			in("      tcp: {at: [0, 0, 120]}", "      tcp: {pivot: [{at: [300, 0, 200], rpy: [180, 0, 0]}, {at: [300, 20, 200], rpy: [160, 0, 0]}]}")),
		found("bad-corners", "No grid can be worked out from its corners: they lie along one line, or cross over.", "Touch a corner in another row and another column.",
			in("pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15]", "pile: {frame: right, rows: 2, columns: 3, corners: {A1: [30, 160, 15], A2: [80, 160, 15], A3: [130, 160, 15]}")),
		untold("no-points", "A table of touched points has no line.", "Write a line for each point.", "It is found by \"fit\", in a table of points."),
	}
}
