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
	for _, rule := range []string{"", "count-mismatch", "single-slot-stop", "nothing-to-move"} {
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
		speed: m.Speed, flyBy: m.FlyBy, load: m.Load, seconds: m.Seconds, text: m.Text,
		signal: m.Signal, level: m.Level, goOn: m.GoOn,
		transfer: m.Transfer, leg: m.Leg, line: m.Place.Line,
	}
}

func same(a, b did) bool {
	near := math.Abs(a.x-b.x) < 1e-9 && math.Abs(a.y-b.y) < 1e-9 && math.Abs(a.z-b.z) < 1e-9 && math.Abs(a.load-b.load) < 1e-9
	a.x, a.y, a.z, a.load = b.x, b.y, b.z, b.load
	return near && a == b
}

// drawPlan makes a plan, for the simulator and as text.
func drawPlan(t *rapid.T) (*simPlan, string) {
	p := &simPlan{
		approach: 40, toolMass: 0.5,
		flyBy:      rapid.SampledFrom([]float64{0, 5}).Draw(t, "fly_by"),
		gripSettle: rapid.SampledFrom([]float64{0, 0.5}).Draw(t, "grip settle"),
		openSettle: rapid.SampledFrom([]float64{0, 0.25}).Draw(t, "release settle"),
	}
	p.grips, p.opens = drawAction(t, 1), drawAction(t, 10)
	if rapid.Bool().Draw(t, "with holds") {
		p.holds = &simInput{rapid.IntRange(0, 20).Draw(t, "input"), rapid.Bool().Draw(t, "held"), 0.75}
	}
	var grids []*simGrid
	for i := range rapid.IntRange(2, 3).Draw(t, "grids") {
		grids = append(grids, drawGrid(t, i))
	}
	if rapid.Bool().Draw(t, "with clear") {
		p.clear = &[3]float64{10, 20, 400}
	}
	if rapid.Bool().Draw(t, "with start") {
		p.start = &[3]float64{15, 25, 350}
	}
	for range rapid.IntRange(1, 3).Draw(t, "entries") {
		p.entries = append(p.entries, drawEntry(t, grids))
	}
	return p, write(p, grids)
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
	everything := g.walk([]box{g.all()}, "by-row", false)
	few := rapid.IntRange(0, 2).Draw(t, "missing")
	for _, s := range rapid.Permutation(everything).Draw(t, "which")[:min(few, len(everything)-1)] {
		g.missing[s] = true
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
	e := simEntry{leave: orders.Draw(t, "leave"), fill: orders.Draw(t, "fill"), byPart: rapid.Bool().Draw(t, "by part")}
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
	switch rapid.IntRange(0, 5).Draw(t, "then") {
	case 0:
		s.then = []simStep{{note: "look"}}
	case 1:
		s.then = []simStep{{seconds: 1.5}, {note: "waited"}}
	}
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
	say("  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: %g, grip: {%s, settle: %g%s}, release: {%s, settle: %g}}}",
		p.toolMass, p.grips.text(true), p.gripSettle, p.holds.text(), p.opens.text(p.clear == nil), p.openSettle)
	say("  frames:")
	for _, g := range grids {
		say("    f%s: {at: [%g, %g, %g]}", g.name, g.offset[0], g.offset[1], g.offset[2])
	}
	named := ""
	say("  poses:")
	say("    unused: {at: [0, 0, 0]}")
	if p.clear != nil {
		named += ", clear: clear"
		say("    clear: {at: [%g, %g, %g]}", p.clear[0], p.clear[1], p.clear[2])
	}
	if p.start != nil {
		named += ", start: rest"
		say("    rest: {at: [%g, %g, %g]}", p.start[0], p.start[1], p.start[2])
	}
	say("parts:")
	for _, g := range grids {
		say("  p%s: {mass: %g}", g.name, g.mass)
	}
	say("grids:")
	for _, g := range grids {
		say("  %s: %s", g.name, g.text())
	}
	say("motion: {tool: jaw, approach: %g, speed: {travel: %g, near: %g}, fly_by: %g%s}", p.approach, travelSpeed, nearSpeed, p.flyBy, named)
	p.motionLine = len(lines)
	say("transfers:")
	for i := range p.entries {
		say("  - %s", p.entries[i].text())
		p.entries[i].line = len(lines)
	}
	return strings.Join(lines, "\n") + "\n"
}

func (g *simGrid) text() string {
	return fmt.Sprintf("{frame: %s, rows: %d, columns: %d, layers: %d, pitch: [%g, %g], layer_pitch: %g, stagger: %g, first: [%g, %g, %g], part: p%s, filled: [%s], missing: [%s]}",
		g.frame, g.rows, g.columns, g.layers, g.pitch[0], g.pitch[1], g.layerPitch, g.stagger,
		g.first[0], g.first[1], g.first[2], g.name, g.list(g.full), g.list(g.missing))
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
	return text + "}"
}

func (s *simStop) text() string {
	var boxes, steps []string
	for _, b := range s.boxes {
		boxes = append(boxes, s.grid.label(b.lo)+":"+s.grid.label(b.hi))
	}
	target := fmt.Sprintf("%q", strings.TrimSpace(s.grid.name+" "+strings.Join(boxes, ", ")))
	for _, step := range s.then {
		if step.note != "" {
			steps = append(steps, fmt.Sprintf("{note: %s}", step.note))
		} else {
			steps = append(steps, fmt.Sprintf("{dwell: %g}", step.seconds))
		}
	}
	if steps == nil {
		return target
	}
	return fmt.Sprintf("{grid: %s, then: [%s]}", target, strings.Join(steps, ", "))
}
