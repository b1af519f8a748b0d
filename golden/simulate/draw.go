package simulate

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridferry/plan"
)

// drawer makes the text of a random plan. Lists are broken over lines, so that the line of a step or a
// figure tells it from the next one.
type drawer struct {
	rand  *rand.Rand
	calm  bool // nothing in it but slots can go wrong
	apart float64
	tools []drawnTool
	grids []drawnGrid
	tool  string // the plan's
	take  int    // of the entry that is made; 0 for none
	// stacked says that a stop of it is a stack: which boxes zones take together there is tested where it is made.
	stacked bool
	holds   bool // the tool that is made can be asked
	lines   []string
	files   map[string]string
}

type drawnTool struct {
	name  string
	zones int // 0 for a gripper of its own
}

type drawnGrid struct {
	name, tool, flow string
	full, free       bool // something stands in it, now or later; there is room in it at the start
	rows             []int
	layers           int
	stack            bool     // of boxes
	there            []string // the labels of its slots but for those that are missing
}

// Drawn is a random plan and the files beside it.
type Drawn struct {
	Text  string
	files map[string]string
}

// Draw is a random plan with every key that moves rest on; of one seed it is always the same.
func Draw(seed uint64) Drawn {
	return (&drawer{rand: rand.New(rand.NewPCG(seed, 0))}).plan()
}

// Source is the plan as it is read: its files are written into a folder.
func (d Drawn) Source(t testing.TB, folder string) plan.Source {
	for name, text := range d.files {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return plan.Source{File: "random", Data: []byte(d.Text), Dir: folder}
}

// Plans is how many random plans a test takes: a few in a short one, or as many as GRIDFERRY_PLANS says.
func Plans(t testing.TB) uint64 {
	if n, err := strconv.ParseUint(os.Getenv("GRIDFERRY_PLANS"), 10, 64); err == nil {
		return n
	}
	if testing.Short() {
		return 50
	}
	return 2000 // of which about half are carried out
}

// DrawCalm is one in which nothing but the slots can go wrong: parts without sizes, slots that the
// tool comes down to.
func DrawCalm(seed uint64) Drawn {
	return (&drawer{rand: rand.New(rand.NewPCG(seed, 1)), calm: true}).plan()
}

// int is a whole number from lo to hi.
func (d *drawer) int(lo, hi int) int { return lo + d.rand.IntN(hi-lo+1) }

// once reports true once in n times.
func (d *drawer) once(n int) bool { return d.rand.IntN(n) == 0 }

func one[T any](d *drawer, of ...T) T { return of[d.rand.IntN(len(of))] }

// some are up to so many of a list, in any order.
func some[T any](d *drawer, all []T, most int) []T {
	all = slices.Clone(all)
	d.rand.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	return all[:d.int(0, most)]
}

func shuffled[T any](d *drawer, all ...T) []T {
	d.rand.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	return all
}

func (d *drawer) say(format string, args ...any) {
	d.lines = append(d.lines, fmt.Sprintf(format, args...))
}

// many slots are never all listed, nor all moved.
const many = 40

const breaks = ",\n            "

func list(items []string) string { return "[" + strings.Join(items, breaks) + "]" }

func mapping(items []string) string { return "{" + strings.Join(items, breaks) + "}" }

func (d *drawer) plan() Drawn {
	d.files = map[string]string{}
	d.apart = one(d, 30.0, 40)
	d.say("format: gridferry plan 1\ncell:\n  tools:")
	for i, name := range []string{"jaw", "cup", "comb", "fork"} {
		d.drawTool(name, i)
	}
	d.say("  frames:")
	d.say("    level: {at: [3, 40, 2]}")
	d.say("    quarter: {at: [5, 6, 7], rpy: [0, 0, 90]}")
	d.say("    tilted: {parent: quarter, at: [100, -30, 12], quaternion: [0.97, 0.1, 0.05, -0.2]}")
	d.say("    touched: {parent: level, three_points: {origin: [200, 10, 0], along_x: [300, 40, 5], toward_y: [190, 90, -4]}}")
	d.say("  poses:")
	d.say("    high: {at: [10, 20, 400]}")
	d.say("    again: {frame: quarter, at: [14, -5, 393], rpy: [180, 0, -90]}") // the same in the base
	d.say("    half: {at: [10, 20, 300]}")                                      // below it
	d.say("    low: {at: [10, 20, 250]}")
	d.say("    rest: {at: [15, 25, 350], rpy: [170, 20, 45]}")
	d.say("    door: {frame: tilted, at: [-60, 40, 200], rpy: [-170, 5, 0]}")
	d.say("    porch: {frame: touched, at: [-90, 70, 220], quaternion: [0, 0.998, 0.05, 0.02]}")
	d.say("parts:")
	for i, name := range []string{"cube", "tube"} {
		part := []string{fmt.Sprintf("mass: %g", 0.25+0.5*float64(i))}
		if !d.calm && !d.once(4) {
			part = append(part, fmt.Sprintf("size: [20, %d, 30]", 18+10*i))
			if d.once(2) {
				part = append(part, fmt.Sprintf("grip: %d", d.int(5, 30)))
			}
		}
		d.say("  %s: %s", name, mapping(part))
	}
	d.say("  carton: {mass: 0.9, size: [60, 40, 30], grip: %d}", d.int(0, 30))
	d.say("grids:")
	for i := range d.int(2, 4) {
		d.drawGrid(i)
	}
	for !slices.ContainsFunc(d.grids, func(g drawnGrid) bool { return g.free && g.flow == "" }) {
		d.drawGrid(len(d.grids))
	}
	d.tool = one(d, "jaw", "comb")
	motion := append(d.motion("approach", "travel", "near", one(d, "clear", "clear", "fly_by")), "tool: "+d.tool)
	if d.once(2) {
		motion = append(motion, "start: "+d.pose())
	}
	d.say("motion: %s", mapping(motion))
	d.say("begin: %s", d.steps())
	d.say("end: %s", d.steps())
	d.say("transfers:")
	for range one(d, 1, 2, 2, 3) {
		d.drawEntry()
	}
	return Drawn{strings.Join(d.lines, "\n") + "\n", d.files}
}

func (d *drawer) pose() string {
	return one(d, "high", "high", "again", "half", "low", "rest", "door", "porch")
}

// level is the word of a level.
func level(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

// gripper is the keys of grip and release, with outputs that are numbered from there on.
func (d *drawer) gripper(from int) string {
	numbers := shuffled(d, from, from+1, from+2, from+3)
	sets := d.int(1, 3)
	on := map[int]bool{}
	for _, n := range numbers[:sets] {
		on[n] = d.once(2)
	}
	pulses := numbers[sets:][:d.int(0, 4-sets)]
	action := func(grips bool) string {
		var keys, levels []string
		order := shuffled(d, slices.Clone(numbers[:sets])...)
		for _, n := range order {
			levels = append(levels, fmt.Sprintf("%d: %s", n, level(on[n] == grips)))
		}
		if keys = append(keys, "set: "+mapping(levels)); sets == 1 && d.once(2) {
			keys = []string{fmt.Sprintf("output: %d, level: %s", order[0], level(on[order[0]] == grips))}
		}
		if times := one(d, 0, 0, 0.25, 0.5); times > 0 {
			keys = append(keys, fmt.Sprintf("settle: %g", times))
		}
		if len(pulses) > 0 && d.once(2) {
			var on []string
			for _, n := range pulses {
				on = append(on, fmt.Sprintf("%d: %g", n, 0.125*float64(1+n%3)))
			}
			keys = append(keys, "pulse: "+mapping(on))
		}
		if grips && d.holds {
			keys = append(keys, fmt.Sprintf("holds: {input: %d, level: %s, within: 0.75}", from+5, level(d.once(2))))
		}
		return mapping(keys)
	}
	return "grip: " + action(true) + ", release: " + action(false)
}

// drawTool makes a tool; how long it is and what it weighs tells one from another.
func (d *drawer) drawTool(name string, i int) {
	keys := []string{fmt.Sprintf("tcp: {at: [0, 0, %d]}", 100+15*i), fmt.Sprintf("mass: %g", 0.5+0.0625*float64(i))}
	if d.once(2) {
		keys[0] = fmt.Sprintf("tcp: {at: [%d, -20, %d], rpy: %s}", 10*i, 100+15*i, one(d, "[0, 0, 90]", "[0, 15, 30]", "[10, 0, 180]"))
	}
	if !d.once(3) {
		keys = append(keys, fmt.Sprintf("centre_of_gravity: [%d, 3, %d]", i, 40+i))
		if d.once(2) {
			keys = append(keys, "inertia: [0.002, 0.003, 0.0015]")
		}
	}
	d.holds = d.once(2)
	own := drawnTool{name: name}
	if i < 2 {
		keys = append(keys, d.gripper(20+10*i))
	} else {
		own.zones = d.int(2, 4)
		var zones []string
		aside := one(d, 0.0, 0, 4)
		for z := range own.zones {
			zones = append(zones, fmt.Sprintf("z%d: {at: [%g, %g, 0], rpy: [0, 0, %g], %s}", z,
				d.apart*float64(z)-aside, one(d, 0, 0, 0, 0, 0, 0, 0.3, 0.6), one(d, 0, 0, 0, 0, 0, 0, 0.4, 0.6), d.gripper(100*i+10*z)))
		}
		keys = append(keys, "zones: "+mapping(zones))
	}
	for _, key := range []string{"fetch", "leave"} {
		if d.once(2) {
			keys = append(keys, key+": "+d.steps())
		}
	}
	d.tools = append(d.tools, own)
	d.say("    %s: %s", name, mapping(keys))
}

// motion makes figures, of which most are left out but for those that are needed.
func (d *drawer) motion(needed ...string) (keys []string) {
	has := func(key string) bool { return slices.Contains(needed, key) || d.once(4) }
	pick := func(key string, of ...float64) {
		if has(key) {
			keys = append(keys, fmt.Sprintf("%s: %g", key, one(d, of...)))
		}
	}
	pick("approach", 30, 45)
	if d.calm {
		pick("fly_by", 0, 0.2) // less than half of the shortest way, from zone to zone
	} else {
		pick("fly_by", 0, 2, 7)
	}
	pick("release_above", 0, 1, 2.5)
	shown := keys
	keys = nil
	pick("travel", 200, 250)
	pick("near", 20, 60)
	pick("loaded", 100, 350)
	speed := keys
	if keys = shown; speed != nil {
		keys = append(keys, "speed: "+mapping(speed))
	}
	if has("along") {
		keys = append(keys, "along: "+one(d, "frame", "tool", "[0, 0.5, 3]", "[-2, 0.5, 3]"))
	}
	if has("clear") {
		keys = append(keys, "clear: "+one(d, "none", "high", "high", "high", "again", "again", "rest", "door"))
	}
	if has("entry") {
		var poses []string
		for range d.int(0, 3) {
			poses = append(poses, d.pose())
		}
		keys = append(keys, "entry: "+list(poses))
	}
	if d.once(8) {
		keys = append(keys, "optional_stop: "+one(d, "after-transfer", "never"))
	}
	return keys
}

// steps makes a few steps, mostly none.
func (d *drawer) steps() string {
	var steps []string
	for range max(0, d.int(-4, 3)) {
		signal := d.int(7, 12)
		steps = append(steps, one(d, "{note: look}", "{dwell: 1.5}",
			fmt.Sprintf("{set: {output: %d, level: %s}}", signal, level(d.once(2))),
			fmt.Sprintf("{pulse: {output: %d, seconds: 0.2}}", signal),
			fmt.Sprintf("{await: {input: %d, level: on}}", signal),
			fmt.Sprintf("{await: {input: %d, level: off, within: 3, else: %s}}", signal, one(d, "stop", "go-on")),
			"{go: "+d.pose()+"}", "{go: "+d.pose()+"}", "{line: "+d.pose()+"}", "{line: "+d.pose()+"}"))
	}
	return list(steps)
}

func (d *drawer) drawGrid(i int) {
	g := drawnGrid{name: fmt.Sprintf("g%d", i), layers: one(d, 1, 1, 2, 3), flow: one(d, "", "", "", "", "in", "out")}
	frames := []string{"base", "level", "quarter"}
	turns := []string{"[180, 0, 0]", "[180, 0, 0]", "[180, 0, 0]", "[180, 0, 90]"}
	if !d.calm {
		frames = append(frames, "tilted", "touched")
		turns = append(turns, "[150, 0, 0]", "[165, 0, 0]", "[170, 10, 30]")
	}
	keys := []string{"frame: " + one(d, frames...), "rpy: " + one(d, turns...)}
	if i == 0 {
		g.flow = "" // so that there is somewhere to go
	}
	if g.flow != "" {
		g.layers = 1
	}
	first := fmt.Sprintf("[%d, 7, 20]", 500*i)
	part := "cube"
	if !d.calm {
		part = one(d, "cube", "cube", "tube")
	}
	pitch := func() float64 { return d.apart + one(d, 0.0, 0, 0, 0.11, 0.23, 9) }
	rows, columns := d.int(1, 3), d.int(1, 4)
	switch pattern := one(d, "plate", "ring", "ring", "places", "boxes", "boxes", "", "", "", "", "", ""); {
	case pattern == "plate":
		g.rows = slices.Repeat([]int{12}, 8)
		keys = append(keys, "standard: ansi-slas-96", fmt.Sprintf("height: %d", 20+i), "corner: "+one(d, "top-left", "top-right", "bottom-left", "bottom-right"))
	case pattern == "ring":
		keys = append(keys, "first: "+first, "ring: "+d.ring(&g))
	case pattern == "places":
		keys = append(keys, "places: "+d.places(&g, 500*i))
	case pattern == "boxes" && !d.calm && g.flow == "":
		part, g.stack = "carton", true
		keys = append(keys, "first: "+first, "pallet: [200, 160]", "boxes: "+d.boxes(&g))
	default:
		keys = append(keys, fmt.Sprintf("rows: %d, columns: %d", rows, columns), "first: "+first,
			fmt.Sprintf("pitch: [%g, %g]", one(d, 1, 1, 1, -1.0)*pitch(), one(d, 1, 1, 1, -1.0)*pitch()),
			fmt.Sprintf("stagger: %g", one(d, 0, 0, 0, 10.0)))
		for range rows {
			g.rows = append(g.rows, columns)
		}
	}
	if g.layers > 1 && part != "carton" {
		keys = append(keys, fmt.Sprintf("layers: %d, layer_pitch: 31", g.layers))
	}
	keys = append(keys, "part: "+part)
	all := g.labels()
	if len(all) > 1 && len(all) <= many && !(d.calm && g.layers > 1) {
		missing := some(d, all, min(2, len(all)-1))
		keys = append(keys, "missing: "+list(missing))
		all = slices.DeleteFunc(all, func(label string) bool { return slices.Contains(missing, label) })
	}
	g.there = all
	var offsets []string
	for _, label := range some(d, all, min(d.int(0, 3), len(all))) {
		offsets = append(offsets, fmt.Sprintf("%s: [0.47, -0.25, %d]", label, d.int(0, 1)))
	}
	keys = append(keys, "offsets: "+mapping(offsets))
	switch {
	case g.flow == "" && d.once(3):
		g.full, g.free = true, true
		keys = append(keys, "contents: "+d.contents(&g, all))
	case g.flow == "":
		fill := d.filled(&g, all)
		keys, g.full, g.free = append(keys, "filled: "+fill), fill != "none" && fill != "[]", fill != "all"
	default:
		keys, g.full, g.free = append(keys, "flow: "+g.flow), true, true
	}
	motion := d.motion()
	if d.once(40) {
		g.tool = d.anyTool()
		motion = append(motion, "tool: "+g.tool)
	}
	keys = append(keys, "motion: "+mapping(motion))
	d.grids = append(d.grids, g)
	d.say("  %s: %s", g.name, mapping(keys))
}

// each is a value for each of some rows, or one for all.
func (d *drawer) each(rows int, draw func() string) string {
	if rows == 1 || d.once(2) {
		return draw()
	}
	var all []string
	for range rows {
		all = append(all, draw())
	}
	return "[" + strings.Join(all, ", ") + "]"
}

func (d *drawer) ring(g *drawnGrid) string {
	circles := d.int(1, 2)
	radius, places := []string{"60", "111.5"}, []string{}
	for range circles {
		g.rows = append(g.rows, d.int(1, 8))
		places = append(places, strconv.Itoa(g.rows[len(g.rows)-1]))
	}
	keys := []string{"radius: [" + strings.Join(radius[:circles], ", ") + "]", "places: [" + strings.Join(places, ", ") + "]"}
	if circles == 1 {
		keys = []string{"radius: 60", "places: " + places[0]}
	}
	if d.once(2) {
		keys = append(keys, "start: "+d.each(circles, func() string { return one(d, "90", "-30", "17.5") }))
	}
	if d.once(2) {
		keys = append(keys, "step: "+d.each(circles, func() string { return one(d, "45", "-40", "12.5") }))
	}
	if d.once(2) {
		keys = append(keys, "turned: "+one(d, "radial", "fixed"))
	}
	return mapping(keys)
}

func (d *drawer) places(g *drawnGrid, x int) string {
	var rows []string
	for row := range d.int(1, 3) {
		g.rows = append(g.rows, d.int(1, 4))
		var places []string
		for col := range g.rows[row] {
			at := fmt.Sprintf("[%g, %g, %d]", float64(x)+d.apart*float64(col), d.apart*float64(row), d.int(0, 2))
			if d.once(3) {
				at = fmt.Sprintf("{at: %s, turned: %s}", at, one(d, "30", "-90", "180"))
			}
			places = append(places, at)
		}
		rows = append(rows, fmt.Sprintf("%c: [%s]", 'A'+row, strings.Join(places, ", ")))
	}
	return mapping(rows)
}

// boxes are columns of cartons, or some of those that fill the pallet in three rows, written out in any order.
func (d *drawer) boxes(g *drawnGrid) string {
	keys := []string{fmt.Sprintf("layers: %d", g.layers), "alternate: " + one(d, "none", "turn", "mirror")}
	if d.once(2) {
		keys = append(keys, "side: "+one(d, "-x", "+x", "-y", "+y"))
	}
	if d.once(2) {
		gap := one(d, 0, 2, 5)
		g.rows = []int{max((200+gap)/(60+gap)*((160+gap)/(40+gap)), (200+gap)/(40+gap)*((160+gap)/(60+gap)))}
		return mapping(append(keys, "pattern: columns", fmt.Sprintf("gap: %d", gap)))
	}
	var all []string
	for i := range 3 {
		all = append(all, fmt.Sprintf("{at: [%d, 20]}", 30+60*i), fmt.Sprintf("{at: [%d, 140]}", 40+60*i))
	}
	for i := range 5 {
		all = append(all, fmt.Sprintf("{at: [%d, 70], turned: 90}", 20+40*i))
	}
	all = shuffled(d, all...)[:d.int(1, len(all))]
	g.rows = []int{len(all)}
	return mapping(append(keys, "pattern: "+list(all)))
}

// contents names a file that says which part is which in some slots.
func (d *drawer) contents(g *drawnGrid, there []string) string {
	text := "slot,id\n"
	if d.calm { // nothing hovers
		there = slices.DeleteFunc(slices.Clone(there), func(label string) bool { return strings.Contains(label, ".") && !strings.HasSuffix(label, ".1") })
	}
	for _, label := range append(some(d, there[1:], len(there)-1), there[0]) {
		text += fmt.Sprintf("%s,S-%s-%s\n", label, g.name, label)
	}
	d.files[g.name+".csv"] = text
	return g.name + ".csv"
}

// worklist names a file with transfers from slot to slot. Slots are mostly used once.
func (d *drawer) worklist() string {
	name := fmt.Sprintf("list%d.csv", len(d.files))
	text := "from,to,id,note\n"
	used := map[string]bool{}
	end := func(fits func(*drawnGrid) bool) string {
		for range 40 {
			if g := &d.grids[d.int(0, len(d.grids)-1)]; fits(g) || d.once(80) {
				at := g.name + " " + one(d, g.there...)
				if !used[at] || g.flow != "" || d.once(20) {
					used[at] = true
					return at
				}
			}
		}
		return d.grids[0].name + " " + d.grids[0].there[0]
	}
	for i := range d.int(1, 5) {
		from, to := end(func(g *drawnGrid) bool { return g.full && g.flow != "out" }), end(func(g *drawnGrid) bool { return g.free && g.flow != "in" })
		id := ""
		if d.once(6) {
			id = fmt.Sprintf("W-%s-%d", name, i)
		}
		text += fmt.Sprintf("%s,%s,%s,%s\n", from, to, id, one(d, "", "", "", "shake well"))
	}
	d.files[name] = text
	return name
}

// filled says what stands in a grid: all, nothing, or some of the slots that are there.
func (d *drawer) filled(g *drawnGrid, there []string) string {
	switch fill := one(d, "none", "none", "some", "some", "all"); {
	case len(d.grids) == 0:
		return "all"
	case fill != "some":
		return fill
	case len(there) > many:
		return d.box(g)
	case d.calm: // nothing hovers
		there = slices.DeleteFunc(slices.Clone(there), func(label string) bool { return strings.Contains(label, ".") && !strings.HasSuffix(label, ".1") })
	}
	return list(some(d, there, len(there)))
}

// labels are all slots of a grid.
func (g *drawnGrid) labels() (all []string) {
	for layer := range g.layers {
		for row, columns := range g.rows {
			for col := range columns {
				all = append(all, g.label(row, col, layer))
			}
		}
	}
	return all
}

func (g *drawnGrid) label(row, col, layer int) string {
	text := fmt.Sprintf("%c%d", 'A'+row, col+1)
	if g.layers > 1 {
		text += fmt.Sprintf(".%d", layer+1)
	}
	return text
}

func (d *drawer) anyTool() string { return one(d, d.tools...).name }

func (d *drawer) drawEntry() {
	var stops, keys []string
	if d.take = one(d, 0, 0, 1, 2, 2, 2, 3, 4, 6); d.take > 0 {
		keys = append(keys, fmt.Sprintf("take: %d", d.take))
	}
	if d.once(6) {
		keys = append(keys, "list: "+d.worklist(), "then: "+d.steps())
		if motion := d.motion(); motion != nil {
			keys = append(keys, "motion: "+mapping(motion))
		}
		d.say("  - %s", mapping(keys))
		return
	}
	d.stacked = false
	source := d.stop(&stops, func(g *drawnGrid) bool { return g.full && g.flow != "out" })
	legs := one(d, 1, 1, 1, 2, 3)
	for leg, from := 0, source; leg < legs; leg++ {
		from = d.stop(&stops, func(g *drawnGrid) bool {
			return g.free && (g.flow == "" || leg == legs-1 && g.flow == "out") && (g != from || d.once(4))
		})
		from.full = true
	}
	if len(stops) == 2 && d.once(2) {
		keys = append(keys, "from: "+stops[0], "to: "+stops[1])
	} else {
		keys = append(keys, "chain: "+list(stops))
	}
	orders := []string{"by-row", "by-column", "serpentine"}
	switch d.int(0, 2) {
	case 0:
		keys = append(keys, fmt.Sprintf("order: {from: %s, to: %s}", one(d, orders...), one(d, orders...)))
	case 1:
		keys = append(keys, "order: "+one(d, orders...))
	}
	if d.once(2) {
		keys = append(keys, "advance: "+one(d, "part", "part", "leg"))
	}
	motion := d.motion()
	tool := d.tool
	if source.tool != "" {
		tool = source.tool
	}
	if d.once(2) {
		tool = d.anyTool()
		motion = append(motion, "tool: "+tool)
	}
	for _, t := range d.tools {
		if t.name == tool && t.zones > 0 && !d.stacked && !d.once(4) {
			keys = append(keys, fmt.Sprintf("at_once: %d", d.int(1, t.zones)))
		}
	}
	if motion != nil {
		keys = append(keys, "motion: "+mapping(motion))
	}
	d.say("  - %s", mapping(keys))
}

// stop adds a stop, and gives its grid. Mistakes are rare: parts that go against the flow, slots that
// are named twice.
func (d *drawer) stop(to *[]string, fits func(*drawnGrid) bool) *drawnGrid {
	g := &d.grids[d.int(0, len(d.grids)-1)]
	if !fits(g) && !d.once(80) {
		return d.stop(to, fits)
	}
	d.stacked = d.stacked || g.stack
	text := g.name
	if len(g.labels()) > many || d.once(5) {
		text += " " + d.box(g)
		if d.once(10) {
			text += ", " + d.box(g)
		}
	}
	text = fmt.Sprintf("%q", text)
	if !d.once(3) {
		text = fmt.Sprintf("{grid: %s, before: %s, then: %s}", text, d.steps(), d.steps())
	}
	*to = append(*to, text)
	return g
}

// box is a rectangle, mostly of as many slots as the entry takes.
func (d *drawer) box(g *drawnGrid) string {
	for range 8 {
		if text, n := d.anyBox(g); n >= d.take {
			return text
		}
	}
	text, _ := d.anyBox(g)
	return text
}

func (d *drawer) anyBox(g *drawnGrid) (text string, slots int) {
	row := func() int { return d.int(0, len(g.rows)-1) }
	a, b := row(), row()
	a, b = min(a, b), min(max(a, b), a+2)
	c := d.int(0, g.rows[a]-1)
	e := min(max(0, c+d.int(-3, 3)), g.rows[b]-1)
	f, h := d.int(0, g.layers-1), d.int(0, g.layers-1)
	f, h = min(f, h), max(f, h)
	lo, hi := g.label(a, c, f), g.label(b, e, h)
	slots = (b - a + 1) * (e - c + 1) * (h - f + 1)
	if g.layers > 1 && d.once(3) {
		lo, _, _ = strings.Cut(lo, ".")
		hi, _, _ = strings.Cut(hi, ".")
	}
	if lo == hi {
		return lo, slots
	}
	return lo + ":" + hi, slots
}

// String is the plan with its files.
func (d Drawn) String() string {
	text := d.Text
	for _, name := range slices.Sorted(maps.Keys(d.files)) {
		text += "--- " + name + "\n" + d.files[name]
	}
	return text
}
