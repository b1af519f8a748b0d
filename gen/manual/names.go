package manual

// namePages are about names that nothing has, or that two things have.
func namePages() []Page {
	return []Page{
		found("unknown-name", "There is no grid, part, tool, frame, pose or link of that name.", "Write the name as it stands where the thing is defined.",
			in("  tool: jaw", "  tool: jav")),
		found("repeated-name", "Two joints of an arm, or two touched points, have one name.", "Give each a name of its own.",
			in("    left:  {at: [250, 60, 40]}", `    left:
      best_fit:
        points:
          - {name: hole, nominal: [0, 0, 0], measured: [250, 60, 40]}
          - {name: hole, nominal: [100, 0, 0], measured: [350, 60, 40]}
          - {name: pin, nominal: [0, 100, 0], measured: [250, 160, 40]}`)),
		found("number-twice", "Two tools, or two frames, have one number, by which the controller knows them.", "Write another one.",
			in("    left:  {at: [250, 60, 40]}", "    left:  {at: [250, 60, 40], number: 1}")),
		found("frame-cycle", "A frame is placed in itself, through others.", "Place one of them in the base.", in("    left:  {at: [250, 60, 40]}", "    left:  {at: [250, 60, 40], parent: left}")),
	}
}
