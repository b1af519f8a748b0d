package check_test

import (
	"slices"
	"strings"
	"testing"

	"gridferry/gen/manual"
)

// slanting is the example plan with the tool turned at its rack.
func slanting(rpy string) manual.Example {
	const rack = "rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], "
	return manual.Example("-  " + rack + "part: block}\n+  " + rack + "rpy: " + rpy + ", part: block}\n")
}

// TestEdges holds the rules to what stands beside their examples: just inside,
// just outside, turned, and combined. want is the rules that find something,
// by place.
func TestEdges(t *testing.T) {
	const (
		rack    = "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n"
		pile    = "-  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block}\n"
		block   = "-  block: {mass: 0.15, size: [30, 30, 30]}\n"
		keepOut = "-  keep_out: {}\n"
		clear   = "-    clear: {at: [330, 0, 300]}\n"
		mass    = "-      mass: 0.8\n"
		reach   = "-    reach: {radius: [150, 600], height: [-20, 650]}\n"
		second  = "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n"
	)
	for _, c := range []struct {
		name    string
		changes manual.Example
		want    string
	}{
		{"layers closer than the part is high", pile + "+  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 29, first: [30, 160, 15], part: block}\n", "part-hits-part"},
		{"two grids in the same room", pile + "+  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [45, 30, 15], part: block}\n", "part-hits-part"},
		{"a grid turned in its frame's frame", "-    right: {at: [250, -260, 40]}\n+    right: {at: [250, -260, 40], rpy: [0, 0, 20]}\n", ""},
		{"the grip height does not matter between grids alike", block + "+  block: {mass: 0.15, size: [30, 30, 30], grip: 25}\n", ""},
		{"held at its foot, the part reaches higher", block + "+  block: {mass: 0.15, size: [30, 30, 30], grip: 0}\n" +
			keepOut + "+  keep_out: {shelf: {frame: right, from: [-20, 0, 100], to: [160, 60, 102]}}\n", "keep-out-hit"},
		{"held at its top it does not hit the table", block + "+  block: {mass: 0.15, size: [30, 30, 30], grip: 15}\n" +
			keepOut + "+  keep_out: {table: {from: [0, -500, 0], to: [600, 500, 40]}}\n", ""},
		{"held at its top it hits the table", block + "+  block: {mass: 0.15, size: [30, 30, 30], grip: 30}\n" +
			keepOut + "+  keep_out: {table: {from: [0, -500, 0], to: [600, 500, 40]}}\n", "keep-out-hit keep-out-hit"},
		{"the tool's radius reaches the wall", mass + "+      mass: 0.8\n+      radius: 45\n" +
			keepOut + "+  keep_out: {wall: {frame: right, from: [-20, -20, 0], to: [160, -14, 120]}}\n", "keep-out-hit"},
		{"a slimmer tool does not", mass + "+      mass: 0.8\n+      radius: 43\n" +
			keepOut + "+  keep_out: {wall: {frame: right, from: [-20, -20, 0], to: [160, -14, 120]}}\n", ""},
		{"a wall under the tool's foot", mass + "+      mass: 0.8\n+      radius: 45\n" +
			keepOut + "+  keep_out: {wall: {frame: right, from: [-20, -20, 0], to: [160, -14, 15]}}\n", ""},
		{"a box turned by 45 degrees comes nearer with its corner", "-    right: {at: [250, -260, 40]}\n+    right: {at: [250, -260, 40]}\n+    askew: {at: [280, -290, 40], rpy: [0, 0, 45]}\n" +
			keepOut + "+  keep_out: {post: {frame: askew, from: [-40, -40, 0], to: [40, 40, 30]}}\n", "keep-out-hit"},
		{"beside its corner there is room", "-    right: {at: [250, -260, 40]}\n+    right: {at: [250, -260, 40]}\n+    askew: {at: [265, -265, 40], rpy: [0, 0, 45]}\n" +
			keepOut + "+  keep_out: {post: {frame: askew, from: [-15, -6, 0], to: [0, 6, 30]}}\n", ""},
		{"a sheet without thickness", keepOut + "+  keep_out: {sheet: {frame: right, from: [-20, -20, 20], to: [160, 80, 20]}}\n", "keep-out-hit"},
		{"a clear pose inside a box", keepOut + "+  keep_out: {lamp: {from: [300, -20, 280], to: [360, 20, 320]}}\n", "keep-out-hit"},
		{"a pose too high", reach + "+    reach: {radius: [150, 600], height: [-20, 299]}\n", "out-of-reach"},
		{"slots too low", reach + "+    reach: {radius: [150, 600], height: [56, 650]}\n", "out-of-reach out-of-reach"},
		{"both outputs of the gripper", "-      release: {output: 1, level: off, settle: 0.3}\n+      release: {output: 2, level: off, settle: 0.3}\n" +
			"-transfers:\n+begin: [set: {output: 2, level: on}]\n+transfers:\n", "level-never-changes output-shared"},
		{"an output of a tool that is not used", "-transfers:\n+begin: [set: {output: 7, level: on}]\n+transfers:\n" +
			"-  tools:\n+  tools:\n+    other: {tcp: {at: [0, 0, 50]}, mass: 1, grip: {output: 7, level: on}, release: {output: 7, level: on}}\n", ""},
		{"a part put back and taken again", second + "+  - {from: \"rack A1:A3\", to: \"tray A1:A3\"}\n+  - {from: tray, to: rack, take: 1}\n", ""},
		{"a stack on a stack", second + "+  - {from: \"tray B1:B3\", to: \"pile A1.1, A1.2, A2.1\"}\n+  - {from: pile, to: \"tray A1:A3\"}\n", ""},
		{"below a part that stands", second + "+  - {from: \"tray B1:B3\", to: \"pile A1.1, A1.2, A2.1\"}\n+  - {from: \"pile A1.1\", to: \"tray A1\"}\n", "part-above"},
		{"a part of another kind by way of a grid without one", rack + "+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15]}\n" +
			pile + "+  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15], part: brick}\n" +
			second + "+  - {from: \"rack A1\", to: \"pile A1.1\"}\n", "wrong-part"},
		{"a tool tilted by 20 degrees", slanting("[160, 0, 0]"), "part-turned"},
		{"by a little more", slanting("[159.99, 0, 90]"), "tool-slanted"},
		{"about the other axis", slanting("[180, 70, 0]"), "tool-slanted"},
		{"a tool across the way down", slanting("[-90, 0, 45]"), "tool-points-away"},
		{"the tool of no grid that is turned about its own axis", slanting("[180, 0, -135]"), "part-turned"},
		{"a frame on an upright wall, the tool square to it", "-    left:  {at: [250, 60, 40]}\n+    left:  {at: [250, 60, 40], rpy: [-90, 0, 0]}\n", "out-of-reach"},
		{"a clear pose with the tool level", clear + "+    clear: {at: [330, 0, 300], rpy: [90, 0, 0]}\n", ""},
		{"a start pose with the tool pointing up", clear + "+    clear: {at: [330, 0, 300]}\n+    begin: {at: [330, 40, 300], rpy: [0, 0, 30]}\n-  clear: clear\n+  clear: clear\n+  start: begin\n", "tool-points-up"},
		{"with the tool pointing up by 20 degrees and more", clear + "+    clear: {at: [330, 0, 300], rpy: [0, 70.01, 0]}\n", ""},
		{"and in a frame that lies on its back", "-    left:  {at: [250, 60, 40]}\n+    left:  {at: [250, 60, 40]}\n+    wall:  {at: [330, 0, 300], rpy: [90, 0, 0]}\n" +
			clear + "+    clear: {frame: wall, at: [0, 0, 0], rpy: [90, 0, 0]}\n", ""},
		{"no pose and one that is too low", clear + "+    clear: {at: [330, 0, -30]}\n", "out-of-reach"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			all := findings(t, planOf(t, c.changes))
			for _, f := range all {
				got = append(got, f.Rule)
			}
			slices.Sort(got)
			if strings.Join(got, " ") != c.want {
				t.Errorf("found %v, wanted %s", got, c.want)
				for _, f := range all {
					t.Logf("%s: %s [%s]", f.Place, f.Message, f.Rule)
				}
			}
		})
	}
}
