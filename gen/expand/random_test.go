package expand_test

import (
	"flag"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestMain asks for more random plans than rapid's 100, unless a number is given.
func TestMain(m *testing.M) {
	flag.Parse()
	given := false
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == "rapid.checks" })
	if !given {
		if err := flag.Set("rapid.checks", "2000"); err != nil {
			panic(err)
		}
	}
	m.Run()
}

// TestAgainstSimulator makes random plans and holds the findings and every move,
// in order, to the simulator's.
func TestAgainstSimulator(t *testing.T) {
	outcomes := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		p, text := drawPlan(t)
		want, rule, line := p.play()
		outcomes[rule]++
		got, findings := resolve(text)
		if rule != "" {
			if findings == nil || findings[0].Rule != rule || findings[0].Place.Line != line {
				t.Fatalf("wanted %s at line %d first, got %+v\n%s", rule, line, findings, text)
			}
			return
		}
		if findings != nil {
			t.Fatalf("unexpected %+v\n%s", findings, text)
		}
		if fault := compare(want, got); fault != "" {
			t.Fatalf("%s\n%s", fault, text)
		}
	})
	if testing.Short() {
		return // a handful of plans need not be varied
	}
	for _, rule := range []string{"", "count-mismatch", "single-slot-stop", "nothing-to-move", "change-without-clear"} {
		if outcomes[rule] == 0 {
			t.Errorf("no random plan ended with %q: the plans are not as varied as they should be (%v)", rule, outcomes)
		}
	}
}

// resolve takes a plan's text to its moves, or to its errors in order of place.
func resolve(text string) ([]move.Move, []diag.Finding) {
	var list diag.List
	var sources diag.Sources
	p := plan.Read(plan.Source{File: "random", Data: []byte(text), Dir: "."}, nil, &list, &sources)
	if p == nil {
		return nil, list.Sorted()
	}
	l := layout.Resolve(p, layout.Options{}, &list)
	if list.HasErrors() {
		var errs []diag.Finding
		for _, f := range list.Sorted() {
			if f.Severity == diag.Error {
				errs = append(errs, f)
			}
		}
		return nil, errs
	}
	var moves []move.Move
	for m := range expand.Moves(l) {
		moves = append(moves, m)
	}
	return moves, nil
}

// compare says where two lists part, "" if they do not.
func compare(want []did, got []move.Move) string {
	for i, m := range got {
		switch {
		case m.N != i+1:
			return fmt.Sprintf("move %d is numbered %d", i+1, m.N)
		case i >= len(want):
			return fmt.Sprintf("move %d is one too many: %s", m.N, m.Describe())
		case !same(want[i], didOf(m)):
			return fmt.Sprintf("move %d is %+v\nwanted     %+v", m.N, didOf(m), want[i])
		}
	}
	if len(got) < len(want) {
		return fmt.Sprintf("%d moves, wanted %d, next %+v", len(got), len(want), want[len(got)])
	}
	return ""
}

// didOf is a move as the simulator makes it.
func didOf(m move.Move) did {
	return did{
		action: m.Kind.String(), target: m.Target.String(), frame: m.Frame, x: m.Base.X, y: m.Base.Y, z: m.Base.Z,
		speed: m.Speed, flyBy: m.FlyBy, load: m.Load, seconds: m.Seconds, text: m.Text, tool: m.Tool,
		signal: m.Signal, level: m.Level, goOn: m.GoOn,
		transfer: m.Transfer, leg: m.Leg, line: m.Place.Line,
	}
}

func same(a, b did) bool {
	near := math.Abs(a.x-b.x) < 1e-9 && math.Abs(a.y-b.y) < 1e-9 && math.Abs(a.z-b.z) < 1e-9 && math.Abs(a.load-b.load) < 1e-9
	a.x, a.y, a.z, a.load = b.x, b.y, b.z, b.load
	a.stops, a.asked, a.round = false, false, 0
	return near && a == b
}

// posesOf are the poses of every random plan, in the base.
var posesOf = map[string][3]float64{"high": {10, 20, 400}, "rest": {15, 25, 350}, "door": {-60, 40, 200}, "porch": {-90, 70, 220}}

// drawPlan makes a plan, for the simulator and as text.
func drawPlan(t *rapid.T) (*simPlan, string) {
	p := &simPlan{
		poses: posesOf, motion: drawMotion(t, "the plan"), tools: map[string]*simTool{},
		start: rapid.SampledFrom([]string{"", "", "rest", "high"}).Draw(t, "start"),
		begin: drawSteps(t, "begin"), end: drawSteps(t, "end"),
	}
	for i, name := range toolNames {
		p.tools[name] = drawTool(t, name, i)
	}
	p.motion.approach, p.motion.travel, p.motion.near = ref(40), ref(300), ref(50)
	var grids []*simGrid
	for i := range rapid.IntRange(2, 3).Draw(t, "grids") {
		grids = append(grids, drawGrid(t, i))
	}
	for range rapid.IntRange(1, 3).Draw(t, "entries") {
		p.entries = append(p.entries, drawEntry(t, grids))
	}
	text := write(p, grids)
	// What holds where the plan says nothing.
	line := p.motion.line
	p.motion = ruling(&p.motion, &simMotion{flyBy: ref(0), releaseAbove: ref(0), along: "frame", clear: "none", entry: []string{}})
	p.motion.line, p.motion.tool = line, "jaw"
	return p, text
}

var toolNames = []string{"jaw", "cup", "hook"}

// drawTool makes a tool; how long it is and what it weighs tells one from another.
func drawTool(t *rapid.T, name string, i int) *simTool {
	tool := &simTool{
		name: name, mass: 0.5 + 0.0625*float64(i), length: 100 + 15*float64(i),
		gripSettle: rapid.SampledFrom([]float64{0, 0.5}).Draw(t, "grip settle"),
		openSettle: rapid.SampledFrom([]float64{0, 0.25}).Draw(t, "release settle"),
		grips:      drawAction(t, 21+20*i), opens: drawAction(t, 30+20*i),
	}
	if rapid.Bool().Draw(t, "with holds") {
		tool.holds = &simInput{rapid.IntRange(0, 20).Draw(t, "input"), rapid.Bool().Draw(t, "held"), 0.75}
	}
	tool.fetch, tool.leave = drawSteps(t, "fetch"), drawSteps(t, "leave") // none of them: by hand
	return tool
}

func (s *simTool) text(short bool) string {
	return fmt.Sprintf("%s: {tcp: {at: [0, 0, %g]}, mass: %g, grip: {%s, settle: %g%s}, release: {%s, settle: %g}, fetch: %s, leave: %s}",
		s.name, s.length, s.mass, s.grips.text(true), s.gripSettle, s.holds.text(), s.opens.text(short), s.openSettle, stepsText(s.fetch), stepsText(s.leave))
}

func ref(v float64) *float64 { return &v }

// drawMotion makes figures, of which most are left out.
func drawMotion(t *rapid.T, of string) simMotion {
	var m simMotion
	some := func(key string, do func()) {
		if rapid.IntRange(0, 3).Draw(t, of+" has "+key) == 0 {
			do()
		}
	}
	pick := func(key string, of ...float64) *float64 { return ref(rapid.SampledFrom(of).Draw(t, key)) }
	poses := rapid.SampledFrom([]string{"high", "rest", "door", "porch"})
	some("approach", func() { m.approach = pick("approach", 30, 45) })
	some("travel", func() { m.travel = pick("travel", 200, 250) })
	some("near", func() { m.near = pick("near", 20, 60) })
	some("loaded", func() { m.loaded = pick("loaded", 100, 350) })
	some("fly_by", func() { m.flyBy = pick("fly_by", 0, 5, 7) })
	some("release_above", func() { m.releaseAbove = pick("release_above", 0, 1, 2.5) })
	some("along", func() {
		if m.along = rapid.SampledFrom([]string{"frame", "tool", ""}).Draw(t, "along"); m.along == "" {
			m.direction = &[3]float64{rapid.SampledFrom([]float64{0, 1, -2}).Draw(t, "x"), 0.5, 3}
		}
	})
	some("clear", func() { m.clear = rapid.SampledFrom([]string{"none", "high", "high", "rest"}).Draw(t, "clear") })
	some("entry", func() { m.entry = rapid.SliceOfN(poses, 0, 3).Draw(t, "entry") })
	return m
}

// text is the keys that a motion has, in the order in which they come.
func (m *simMotion) text() string {
	var keys, speed []string
	say := func(to *[]string, key string, v *float64) {
		if v != nil {
			*to = append(*to, fmt.Sprintf("%s: %g", key, *v))
		}
	}
	say(&keys, "approach", m.approach)
	say(&keys, "fly_by", m.flyBy)
	say(&keys, "release_above", m.releaseAbove)
	say(&speed, "travel", m.travel)
	say(&speed, "near", m.near)
	say(&speed, "loaded", m.loaded)
	if speed != nil {
		keys = append(keys, "speed: {"+strings.Join(speed, ", ")+"}")
	}
	switch {
	case m.direction != nil:
		keys = append(keys, fmt.Sprintf("along: [%g, %g, %g]", m.direction[0], m.direction[1], m.direction[2]))
	case m.along != "":
		keys = append(keys, "along: "+m.along)
	}
	if m.clear != "" {
		keys = append(keys, "clear: "+m.clear)
	}
	if m.entry != nil {
		keys = append(keys, "entry: ["+strings.Join(m.entry, ", ")+"]")
	}
	if m.tool != "" {
		keys = append(keys, "tool: "+m.tool)
	}
	return strings.Join(keys, ", ")
}

// drawSteps makes a few steps, mostly none.
func drawSteps(t *rapid.T, where string) []simStep {
	var steps []simStep
	for range max(0, rapid.IntRange(-4, 3).Draw(t, where)) {
		var s simStep
		switch rapid.IntRange(0, 5).Draw(t, where+" step") {
		case 0:
			s.note = "look"
		case 1:
			s.seconds = 1.5
		case 2:
			s.pulse = 7
		case 3:
			s.line = true
			fallthrough
		default:
			s.pose = rapid.SampledFrom([]string{"high", "rest", "door", "porch"}).Draw(t, "pose")
		}
		steps = append(steps, s)
	}
	return steps
}

func stepsText(steps []simStep) string {
	var texts []string
	for _, s := range steps {
		switch {
		case s.note != "":
			texts = append(texts, fmt.Sprintf("{note: %s}", s.note))
		case s.pulse > 0:
			texts = append(texts, fmt.Sprintf("{pulse: {output: %d, seconds: 0.2}}", s.pulse))
		case s.line:
			texts = append(texts, "{line: "+s.pose+"}")
		case s.pose != "":
			texts = append(texts, "{go: "+s.pose+"}")
		default:
			texts = append(texts, fmt.Sprintf("{dwell: %g}", s.seconds))
		}
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

// drawAction makes outputs and pulses, numbered from there on, in any order.
func drawAction(t *rapid.T, from int) simAction {
	var a simAction
	numbers := rapid.Permutation([]int{from, from + 1, from + 2, from + 3}).Draw(t, "outputs")
	sets := rapid.IntRange(1, 3).Draw(t, "sets")
	for _, n := range numbers[:sets] {
		a.sets = append(a.sets, simOutput{n, rapid.Bool().Draw(t, "level")})
	}
	for _, n := range numbers[sets:][:rapid.IntRange(0, 4-sets).Draw(t, "pulses")] {
		a.pulses = append(a.pulses, simPulse{n, 0.125})
	}
	return a
}

// text is the keys of an action; one output may be written without "set".
func (a *simAction) text(short bool) string {
	level := map[bool]string{true: "on", false: "off"}
	var sets, pulses []string
	for _, s := range a.sets {
		sets = append(sets, fmt.Sprintf("%d: %s", s.number, level[s.level]))
	}
	for _, p := range a.pulses {
		pulses = append(pulses, fmt.Sprintf("%d: %g", p.number, p.seconds))
	}
	text := "set: {" + strings.Join(sets, ", ") + "}"
	if short && len(sets) == 1 {
		text = fmt.Sprintf("output: %d, level: %s", a.sets[0].number, level[a.sets[0].level])
	}
	if pulses != nil {
		text += ", pulse: {" + strings.Join(pulses, ", ") + "}"
	}
	return text
}

func (h *simInput) text() string {
	if h == nil {
		return ""
	}
	return fmt.Sprintf(", holds: {input: %d, level: %s, within: %g}", h.number, map[bool]string{true: "on", false: "off"}[h.level], h.within)
}

func drawGrid(t *rapid.T, i int) *simGrid {
	g := &simGrid{
		name: fmt.Sprintf("g%d", i), frame: "base",
		rows: rapid.IntRange(1, 3).Draw(t, "rows"), columns: rapid.IntRange(1, 4).Draw(t, "columns"),
		layers:  rapid.SampledFrom([]int{1, 1, 2, 3}).Draw(t, "layers"),
		first:   [3]float64{float64(500 * i), 7, 20},
		pitch:   [2]float64{rapid.SampledFrom([]float64{30, -20}).Draw(t, "pitch x"), rapid.SampledFrom([]float64{25, -40}).Draw(t, "pitch y")},
		stagger: rapid.SampledFrom([]float64{0, 10}).Draw(t, "stagger"), layerPitch: 15,
		mass:    0.25 * float64(1+i),
		missing: map[spot]bool{}, full: map[spot]bool{},
	}
	if rapid.Bool().Draw(t, "own frame") {
		g.frame, g.offset = "f"+g.name, [3]float64{3, 40 * float64(i), 2}
	}
	g.roll, g.motion, g.offsets = rapid.SampledFrom([]float64{180, 180, 150, 165}).Draw(t, "roll"), drawMotion(t, g.name), map[spot][3]float64{}
	everything := g.walk([]box{g.all()}, "by-row", false)
	few := rapid.IntRange(0, 2).Draw(t, "missing")
	for _, s := range rapid.Permutation(everything).Draw(t, "which")[:min(few, len(everything)-1)] {
		g.missing[s] = true
	}
	for _, s := range g.walk([]box{g.all()}, "by-row", false) {
		if rapid.IntRange(0, 9).Draw(t, "off") == 0 {
			g.offsets[s] = [3]float64{0.5, -0.25, rapid.SampledFrom([]float64{0, 1}).Draw(t, "up")}
		}
	}
	fill := rapid.SampledFrom([]string{"none", "some", "all"}).Draw(t, "filled")
	for _, s := range g.walk([]box{g.all()}, "by-row", false) {
		if fill == "all" || fill == "some" && rapid.Bool().Draw(t, "full") {
			g.full[s] = true
		}
	}
	return g
}

func drawEntry(t *rapid.T, grids []*simGrid) simEntry {
	orders := rapid.SampledFrom([]string{"by-row", "by-column", "serpentine"})
	e := simEntry{leave: orders.Draw(t, "leave"), fill: orders.Draw(t, "fill"), byPart: rapid.Bool().Draw(t, "by part"), motion: drawMotion(t, "an entry")}
	if rapid.Bool().Draw(t, "with tool") {
		e.motion.tool = rapid.SampledFrom(toolNames).Draw(t, "tool")
	}
	if rapid.IntRange(0, 2).Draw(t, "with take") == 0 {
		e.take = rapid.IntRange(1, 5).Draw(t, "take")
	}
	for range rapid.SampledFrom([]int{2, 2, 3, 4}).Draw(t, "stops") {
		e.stops = append(e.stops, drawStop(t, grids))
	}
	return e
}

func drawStop(t *rapid.T, grids []*simGrid) simStop {
	s := simStop{grid: rapid.SampledFrom(grids).Draw(t, "grid")}
	if rapid.IntRange(0, 2).Draw(t, "written") == 0 {
		s.boxes = drawBoxes(t, s.grid)
	}
	s.before, s.then = drawSteps(t, "before"), drawSteps(t, "then")
	return s
}

// drawBoxes makes rectangles that do not meet and hold at least one slot each;
// none where none could be had, which means the whole grid.
func drawBoxes(t *rapid.T, g *simGrid) []box {
	var out []box
	taken := map[spot]bool{}
	for range rapid.IntRange(1, 3).Draw(t, "boxes") {
		a, b := drawSpot(t, g), drawSpot(t, g)
		rect := box{spot{min(a.row, b.row), min(a.col, b.col), min(a.layer, b.layer)}, spot{max(a.row, b.row), max(a.col, b.col), max(a.layer, b.layer)}}
		slots := g.walk([]box{rect}, "by-row", false)
		free := len(slots) > 0
		for _, s := range slots {
			free = free && !taken[s]
		}
		if !free {
			continue
		}
		for _, s := range slots {
			taken[s] = true
		}
		out = append(out, rect)
	}
	return out
}

func drawSpot(t *rapid.T, g *simGrid) spot {
	return spot{rapid.IntRange(0, g.rows-1).Draw(t, "row"), rapid.IntRange(0, g.columns-1).Draw(t, "col"), rapid.IntRange(0, g.layers-1).Draw(t, "layer")}
}

// write is the plan as people would write it; it notes the lines.
func write(p *simPlan, grids []*simGrid) string {
	var lines []string
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	say("format: gridferry plan 1")
	say("cell:")
	say("  tools:")
	for _, name := range toolNames {
		say("    %s", p.tools[name].text(p.start == ""))
	}
	say("  frames:")
	for _, g := range grids {
		say("    f%s: {at: [%g, %g, %g]}", g.name, g.offset[0], g.offset[1], g.offset[2])
	}
	say("  poses:")
	for _, name := range []string{"high", "rest", "door", "porch"} {
		at := p.poses[name]
		say("    %s: {at: [%g, %g, %g]}", name, at[0], at[1], at[2])
	}
	say("parts:")
	for _, g := range grids {
		say("  p%s: {mass: %g}", g.name, g.mass)
	}
	say("grids:")
	for _, g := range grids {
		say("  %s: %s", g.name, g.text())
		g.motion.line = len(lines)
	}
	start := ""
	if p.start != "" {
		start = ", start: " + p.start
	}
	say("motion: {tool: jaw, %s%s}", p.motion.text(), start)
	p.motion.line = len(lines)
	say("begin: %s", stepsText(p.begin))
	p.beginLine = len(lines)
	say("end: %s", stepsText(p.end))
	p.endLine = len(lines)
	say("transfers:")
	for i := range p.entries {
		say("  - %s", p.entries[i].text())
		p.entries[i].line, p.entries[i].motion.line = len(lines), len(lines)
	}
	return strings.Join(lines, "\n") + "\n"
}

func (g *simGrid) text() string {
	return fmt.Sprintf("{frame: %s, rows: %d, columns: %d, layers: %d, pitch: [%g, %g], layer_pitch: %g, stagger: %g, first: [%g, %g, %g], part: p%s, filled: [%s], missing: [%s], rpy: [%g, 0, 0], offsets: {%s}, motion: {%s}}",
		g.frame, g.rows, g.columns, g.layers, g.pitch[0], g.pitch[1], g.layerPitch, g.stagger,
		g.first[0], g.first[1], g.first[2], g.name, g.list(g.full), g.list(g.missing), g.roll, g.offsetsText(), g.motion.text())
}

func (g *simGrid) offsetsText() string {
	var all []string
	for _, s := range g.walk([]box{g.all()}, "by-row", false) {
		if by, off := g.offsets[s]; off {
			all = append(all, fmt.Sprintf("%s: [%g, %g, %g]", g.label(s), by[0], by[1], by[2]))
		}
	}
	return strings.Join(all, ", ")
}

// list is the slots of a set as a list of labels.
func (g *simGrid) list(set map[spot]bool) string {
	var labels []string
	for _, s := range flat(g.all(), "by-row") {
		for _, layer := range span(0, g.layers-1) {
			s.layer = layer
			if set[s] {
				labels = append(labels, g.label(s))
			}
		}
	}
	return strings.Join(labels, ", ")
}

func (e *simEntry) text() string {
	var stops []string
	for _, s := range e.stops {
		stops = append(stops, s.text())
	}
	text := fmt.Sprintf("{chain: [%s], order: {from: %s, to: %s}", strings.Join(stops, ", "), e.leave, e.fill)
	if e.take > 0 {
		text += fmt.Sprintf(", take: %d", e.take)
	}
	if e.byPart {
		text += ", advance: part"
	}
	if own := e.motion.text(); own != "" {
		text += ", motion: {" + own + "}"
	}
	return text + "}"
}

func (s *simStop) text() string {
	var boxes []string
	for _, b := range s.boxes {
		boxes = append(boxes, s.grid.label(b.lo)+":"+s.grid.label(b.hi))
	}
	target := fmt.Sprintf("%q", strings.TrimSpace(s.grid.name+" "+strings.Join(boxes, ", ")))
	if s.before == nil && s.then == nil {
		return target
	}
	return fmt.Sprintf("{grid: %s, before: %s, then: %s}", target, stepsText(s.before), stepsText(s.then))
}
