package manual

import "strings"

// keyPages are about the keys of a file, and what they ask of each other.
func keyPages() []Page {
	return []Page{
		found("bad-format", "The first key of a file, \"format\", is not the one that this kind of file has in this version.", "Name the right file, or write the format that the message wants.",
			in("format: gridferry plan 1", "format: gridferry plan 9")),
		found("unknown-key", "A mapping has a key that there is not in it.", "Write the key that the hint names; plan/FORMAT.md has them all.",
			in("  approach: 60", "  aproach: 60")),
		found("missing-key", "A key is missing that has to be there, or one of several.", "Write it.", in("  block: {mass: 0.15, size: [30, 30, 30]}", "  block: {size: [30, 30, 30]}")),
		found("idle-key", "A key says nothing where it stands, since the one is missing that it belongs to.", "Leave it out, or write the other one.",
			Example(strings.Replace(string(gantry()), "+    flange:", "+    tolerance: 1\n+    flange:", 1))),
		found("two-layouts", "Two keys lay out one grid, or say what joints an arm has, in different ways.", "Keep one of the two.",
			in("pile: {frame: right, rows: 1,", "pile: {frame: right, ring: {radius: 60, places: 6}, rows: 1,")),
		found("two-placements", "One thing is placed in two ways: by a pose and by touched points.", "Keep one of the two.",
			in("    left:  {at: [250, 60, 40]}", "    left:  {at: [250, 60, 40], three_points: {origin: [250, 60, 40], along_x: [350, 60, 40], toward_y: [250, 160, 40]}}")),
		found("two-orientations", "\"rpy\" and \"quaternion\" both say how something is turned.", "Keep one of the two.",
			in("    left:  {at: [250, 60, 40]}", "    left:  {at: [250, 60, 40], rpy: [0, 0, 0], quaternion: [1, 0, 0, 0]}")),
		found("two-bodies", "Two keys say what room a tool, or a link of an arm, takes.", "Keep one of the two.",
			in("      mass: 0.8", "      mass: 0.8\n      radius: 30\n      body: {palm: {from: [-40, -10, -120], to: [40, 10, -50]}}")),
		found("two-outputs", "A gripper's action has \"set\", and an output of its own beside it.", "Write every output into \"set\", the action's own first.",
			in("{output: 1, level: on,  settle: 0.4}", "{output: 1, level: on, set: {1: on}, settle: 0.4}")),
		found("two-grippers", "A tool has zones, and \"grip\" or \"release\" of its own beside them.", "Write both into each zone.",
			in("      mass: 0.8", "      mass: 0.8\n      zones: {left: {at: [0, 0, 0], grip: {output: 2, level: on, settle: 0.4}, release: {output: 2, level: off, settle: 0.3}}}")),
		found("two-routes", "An entry says in two ways what goes where.", "Keep one of them: \"from\" and \"to\", a \"chain\", or a \"list\".",
			in(`{from: "tray A1:A3", to: "rack A1:A3"}`, `{from: "tray A1:A3", to: "rack A1:A3", chain: [tray, rack]}`)),
		found("bad-step", "A step does several things, or none.", "Write one step an entry, each behind a \"-\" of its own.",
			in("motion:", "begin:\n  - {dwell: 1, note: hello}\nmotion:")),
		found("bad-symmetry", "A part's \"symmetry\" is not that of its size: a quarter turn shows on a part that is longer than wide.", "Write \"half\" or \"none\", or correct the size.",
			in("  brick: {mass: 0.40, size: [30, 60, 30]}", "  brick: {mass: 0.40, size: [30, 60, 30], symmetry: quarter}")),
		found("no-zones", "A tool is to carry several parts at once, and has no zone, or \"zones\" names none.", "Give the tool \"zones\", each with its own grip and release, or leave \"at_once\" out.",
			in(`{from: "tray A1:A3", to: "rack A1:A3"}`, `{from: "tray A1:A3", to: "rack A1:A3", at_once: 2}`)),
		untold("too-many-zones", "A tool has more than 64 zones.", "Make several tools of it.", "Its example would be 65 lines of zones."),
		untold("too-many-boxes", "A tool has more than 64 boxes.", "Put boxes that stand beside each other into one.", "Its example would be 65 lines of boxes."),
	}
}
