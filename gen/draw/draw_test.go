package draw_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
)

// pictures are the options that the general tests go through, by plan.
func pictures() map[string][]draw.Options {
	out := map[string][]draw.Options{}
	for _, name := range demos {
		out[name] = []draw.Options{{}, {Transfer: 5}, {After: 5, Scheme: draw.Dark}, {NoPath: true, ID: "other", Inline: true}}
	}
	for name, grids := range map[string][]string{
		"mortar-cubes": {"tray", "balance"}, "cartons": {"outbound"}, "odd-grids": {"strip", "honeycomb", "tower", "flat"},
		"tube-rack": {"dense"}, "dense-plate": {"from"},
	} {
		for _, g := range grids {
			out[name] = append(out[name], draw.Options{Grid: g, After: 3}, draw.Options{Grid: g, Transfer: 2})
		}
	}
	return out
}

func eachPicture(t *testing.T, do func(t *testing.T, l *layout.Layout, o draw.Options, data []byte)) {
	for _, name := range demos {
		l := demoLayout(t, name)
		for _, o := range pictures()[name] {
			t.Run(fmt.Sprintf("%s %+v", name, o), func(t *testing.T) { do(t, l, o, svg(t, l, o)) })
		}
	}
}

// SVG 2, section 5 (xmlns, viewBox, title, desc) and WAI-ARIA 1.2 (img,
// aria-labelledby); from memory.
func TestDocument(t *testing.T) {
	eachPicture(t, func(t *testing.T, _ *layout.Layout, o draw.Options, data []byte) {
		root := read(t, data)
		id := o.ID
		if id == "" {
			id = "picture"
		}
		if strings.HasPrefix(string(data), "<?xml") == o.Inline {
			t.Error("the XML declaration is there where it must not be, or the other way round")
		}
		for name, want := range map[string]string{"role": "img", "id": id, "aria-labelledby": id + "-title " + id + "-desc", "xmlns": "http://www.w3.org/2000/svg"} {
			if root.attr[name] != want {
				t.Errorf("%s=%q, wanted %q", name, root.attr[name], want)
			}
		}
		for i, name := range []string{"title", "desc"} {
			c := root.children[i]
			if c.name != name || c.attr["id"] != id+"-"+name || strings.TrimSpace(c.text) == "" {
				t.Errorf("child %d is %s %q %q, wanted a %s with words", i, c.name, c.attr["id"], c.text, name)
			}
		}
		checkReferences(t, root, id)
	})
}

// checkReferences holds ids to be unique, to begin with the picture's own, and
// to be there where they are named.
func checkReferences(t *testing.T, root *node, id string) {
	ids := map[string]bool{}
	for _, n := range root.all(has("id")) {
		if ids[n.attr["id"]] || !strings.HasPrefix(n.attr["id"], id) {
			t.Errorf("the id %q comes twice or lacks its beginning", n.attr["id"])
		}
		ids[n.attr["id"]] = true
	}
	for _, n := range root.all(has("href")) {
		if !ids[strings.TrimPrefix(n.attr["href"], "#")] {
			t.Errorf("there is no %s", n.attr["href"])
		}
	}
	for _, n := range root.all(has("clip-path")) {
		if !ids[strings.TrimSuffix(strings.TrimPrefix(n.attr["clip-path"], "url(#"), ")")] {
			t.Errorf("there is no %s", n.attr["clip-path"])
		}
	}
	if !ids[id+"-hatch"] {
		t.Error("the hatching is missing")
	}
}

// Every number is finite, and every coordinate in the picture's viewBox.
func TestNumbers(t *testing.T) {
	t.Parallel()
	eachPicture(t, func(t *testing.T, _ *layout.Layout, _ draw.Options, data []byte) {
		root := read(t, data)
		frame := numbers(t, root.attr["viewBox"])
		inside := func(n *node, x, y float64) {
			const rounding = 0.002
			if x < -rounding || y < -rounding || x > frame[2]+rounding || y > frame[3]+rounding {
				t.Errorf("%s %v: %v, %v is outside %v", n.name, n.attr, x, y, frame)
			}
		}
		count := 0
		for _, n := range root.all(func(n *node) bool { return drawn(n) }) {
			count++
			for _, p := range points(t, n) {
				inside(n, p[0], p[1])
			}
		}
		if count < 50 {
			t.Errorf("only %d elements were looked at", count)
		}
	})
}

// drawn leaves out what only others refer to.
func drawn(n *node) bool {
	for up := n; up != nil; up = up.parent {
		if up.name == "defs" {
			return false
		}
	}
	return true
}

// points are all coordinates that an element names.
func points(t *testing.T, n *node) [][2]float64 {
	number := func(name string) float64 { return numbers(t, n.attr[name])[0] }
	switch n.name {
	case "path":
		return corners(t, n.attr["d"])
	case "circle":
		x, y, r := number("cx"), number("cy"), number("r")
		return [][2]float64{{x - r, y - r}, {x + r, y + r}}
	case "rect":
		x, y := number("x"), number("y")
		return [][2]float64{{x, y}, {x + number("width"), y + number("height")}}
	case "use", "text":
		return [][2]float64{{number("x"), number("y")}}
	}
	return nil
}

// Slots stand where the layout says, by the scale that the view states.
func TestSlotsStandWhereTheLayoutSays(t *testing.T) {
	t.Parallel()
	eachPicture(t, func(t *testing.T, l *layout.Layout, o draw.Options, data []byte) {
		count := 0
		for _, n := range read(t, data).all(has("data-slot")) {
			view := readView(t, n.above("data-view"))
			g := grid(t, l, n.above("data-grid").attr["data-grid"])
			label, ok := slot.Parse(n.attr["data-slot"])
			if !ok {
				t.Fatalf("%q is no slot", n.attr["data-slot"])
			}
			_, base := g.Points(label.Slot)
			x, y := view.at(base.Vec)
			near(t, n.attr["data-slot"]+" x", numbers(t, n.attr["x"])[0], x)
			near(t, n.attr["data-slot"]+" y", numbers(t, n.attr["y"])[0], y)
			count++
		}
		if count == 0 {
			t.Error("there are no slots")
		}
	})
}

// near holds a coordinate to what it should be: each was rounded to a
// thousandth, the origin too.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.0011 {
		t.Errorf("%s is drawn at %v, wanted %v", what, got, want)
	}
}

func grid(t *testing.T, l *layout.Layout, name string) *layout.Grid {
	for _, g := range l.Grids {
		if g.Name == name {
			return g
		}
	}
	t.Fatalf("there is no grid %q", name)
	return nil
}

// After n transfers the picture shows what the first n transfers leave.
func TestStateAfter(t *testing.T) {
	for _, name := range []string{"mortar-cubes", "tube-rack", "dense-plate"} { // one layer, every slot seen
		l := demoLayout(t, name)
		for _, after := range []int{0, 1, 7, 44} {
			shown := map[string]string{}
			for _, n := range read(t, svg(t, l, draw.Options{After: after})).all(has("data-slot")) {
				if n.above("data-view").attr["data-view"] == "top" {
					shown[n.above("data-grid").attr["data-grid"]+" "+n.attr["data-slot"]] = n.above("class").attr["class"]
				}
			}
			for place, want := range standing(l, after) {
				if got, ok := shown[place]; !ok || got != want {
					t.Errorf("%s after %d: %s is shown %v as %q, wanted %q", name, after, place, ok, got, want)
				}
				delete(shown, place)
			}
			if len(shown) > 0 {
				t.Errorf("%s: slots that are not there: %v", name, shown)
			}
		}
	}
}

// standing says of every slot that is there whether it is full, waits for a part that is
// due, or is spare, from the entries' own slots.
func standing(l *layout.Layout, after int) map[string]string {
	stands := map[string]string{}
	for _, g := range l.Grids {
		for i := range g.Size() {
			if s := g.Slot(i); g.Has(s) {
				stands[g.Name+" "+g.Label(s)] = map[bool]string{true: "full", false: "spare"}[g.Full.Has(i)]
			}
		}
	}
	for m := range expand.Moves(l) {
		at := m.Target.String()
		switch {
		case m.Takes() && m.Transfer <= after:
			stands[at] = "spare"
		case m.Puts() && m.Transfer <= after:
			stands[at] = "full"
		case m.Puts() && stands[at] == "spare":
			stands[at] = "due"
		}
	}
	return stands
}

// Where slots lie too close for numbers, the order of the dense plate is shown by its first
// column of 48 slots and the step to the next one.
func TestOrderOfDenseGrids(t *testing.T) {
	l := demoLayout(t, "dense-plate")
	root := read(t, svg(t, l, draw.Options{}))
	view := readView(t, root.all(has("data-view"))[0])
	var want, got []string
	for _, name := range []string{"from", "to"} {
		var slots []string
		for m := range expand.Moves(l) {
			if (m.Takes() || m.Puts()) && m.Target.Grid == name {
				slots = append(slots, m.Target.Slot.Label(false))
			}
		}
		for _, k := range []int{0, 47, 48} {
			at, _ := slot.Parse(slots[k])
			_, base := grid(t, l, name).Points(at.Slot)
			x, y := view.at(base.Vec)
			want = append(want, fmt.Sprintf("%.1f %.1f", x, y))
		}
	}
	for _, n := range root.all(func(n *node) bool { return n.attr["class"] == "begins" && n.above("data-view") != nil }) {
		for _, p := range corners(t, n.attr["d"]) {
			got = append(got, fmt.Sprintf("%.1f %.1f", p[0], p[1]))
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("the order begins at %q, wanted %q", got, want)
	}
}

// The path's ends are poses of the move list, and of a short job every pose is
// there.
func TestPath(t *testing.T) {
	for _, name := range []string{"mortar-cubes", "cartons", "odd-grids"} {
		l := demoLayout(t, name)
		for _, n := range read(t, svg(t, l, draw.Options{})).all(has("data-path")) {
			view := readView(t, n.above("data-view"))
			wanted := map[[2]int]bool{}
			for m := range expand.Moves(l) {
				if m.Kind.IsMotion() {
					wanted[tenth(view.at(m.Base.Vec))] = false
				}
			}
			for _, s := range n.children {
				for _, p := range corners(t, s.attr["d"]) {
					if !meets(wanted, p) {
						t.Errorf("%s: the path passes %v, which is no pose of a move", name, p)
					}
				}
			}
			for p, met := range wanted {
				if !met {
					t.Errorf("%s: no line of the path ends at %v", name, p)
				}
			}
		}
	}
}

// tenth rounds to a tenth of a millimetre of paper.
func tenth(x, y float64) [2]int { return [2]int{int(math.Round(x * 10)), int(math.Round(y * 10))} }

// meets marks the wanted points next to p; rounding may put one into the next
// tenth.
func meets(wanted map[[2]int]bool, p [2]float64) bool {
	met := false
	at := tenth(p[0], p[1])
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			if _, ok := wanted[[2]int{at[0] + dx, at[1] + dy}]; ok {
				wanted[[2]int{at[0] + dx, at[1] + dy}] = true
				met = true
			}
		}
	}
	return met
}

// Travel and straight are kept apart by line type.
func TestLineTypes(t *testing.T) {
	style := draw.Options{}.Style()
	if !strings.Contains(rule(style, ".travel{"), "stroke-dasharray") || strings.Contains(rule(style, ".straight{"), "stroke-dasharray") {
		t.Error("travel has to be a chain line and straight a continuous one")
	}
	if !strings.Contains(rule(style, ".hidden{"), "stroke-dasharray") || strings.Contains(rule(style, ".edge{"), "stroke-dasharray") {
		t.Error("hidden edges have to be dashed and seen ones continuous")
	}
}

func rule(style, begin string) string {
	_, rest, _ := strings.Cut(style, begin)
	rule, _, _ := strings.Cut(rest, "}")
	return rule
}

// One transfer: only its own motions, its two slots, arrows.
func TestOneTransfer(t *testing.T) {
	l := demoLayout(t, "mortar-cubes")
	root := read(t, svg(t, l, draw.Options{Transfer: 7}))
	lines := 0
	for _, n := range root.all(has("data-path")) {
		lines += len(n.all(func(n *node) bool { return strings.Contains(n.attr["class"], "one") }))
	}
	// From the rack to clear, to the tray and back, to the balance: three lines from
	// above; five more upright ones, there and back along two, from the side: the
	// last is straight down and up, once.
	if lines != 8 {
		t.Errorf("the path of transfer 7 has %d lines, wanted 3 and 5", lines)
	}
	text := root.children[1].text
	for _, part := range []string{"transfer 7: tray A4 to balance A1", "parts as they stand after 6 of 46 transfers"} {
		if !strings.Contains(text, part) {
			t.Errorf("the description %q does not say %q", text, part)
		}
	}
	if n := len(root.all(func(n *node) bool { return n.attr["class"] == "focus" })); n != 5 {
		t.Errorf("%d outlines of its two slots, wanted 2 in both views and 1 in the legend", n)
	}
}

func TestScaleIsRound(t *testing.T) {
	for name, want := range map[string]string{"mortar-cubes": "1:8", "cartons": "1:25", "dense-plate": "1:4"} {
		root := read(t, svg(t, demoLayout(t, name), draw.Options{}))
		if !strings.Contains(root.children[1].text, "scale "+want+".") {
			t.Errorf("%s: %q does not say scale %s", name, root.children[1].text, want)
		}
		// Drawn 190 units wide and said to be 190 mm wide: a unit is a millimetre.
		if root.attr["width"] != "190.000mm" || numbers(t, root.attr["viewBox"])[2] != 190 {
			t.Errorf("width %s, viewBox %s", root.attr["width"], root.attr["viewBox"])
		}
	}
}

// A page chooses the width of a picture inside it, so that one claims no scale.
func TestScaleIsNotClaimedInsideAPage(t *testing.T) {
	l := demoLayout(t, "mortar-cubes")
	alone, inside := svg(t, l, draw.Options{}), svg(t, l, draw.Options{Inline: true})
	if !bytes.Contains(alone, []byte(">Scale 1:8 where printed 190 mm wide<")) || !bytes.Contains(alone, []byte("; scale 1:8.")) {
		t.Error("a picture in a file of its own does not say its scale")
	}
	if found := regexp.MustCompile(`(?i)>[^<]*\bscale 1:[^<]*`).Find(inside); found != nil {
		t.Errorf("inside a page it says %q", found)
	}
}

func TestSameBytes(t *testing.T) {
	l := demoLayout(t, "odd-grids")
	if !bytes.Equal(svg(t, l, draw.Options{}), svg(t, demoLayout(t, "odd-grids"), draw.Options{})) {
		t.Error("two pictures of one plan differ")
	}
}

func TestValidate(t *testing.T) {
	l := demoLayout(t, "mortar-cubes")
	for _, c := range []struct {
		o    draw.Options
		want string
	}{
		{draw.Options{Transfer: 47}, "there is no transfer 47: the plan makes 46, counted from 1"},
		{draw.Options{Transfer: -1}, "there is no transfer -1: the plan makes 46, counted from 1"},
		{draw.Options{After: 47}, "nothing stands after 47 transfers: the plan makes 46"},
		{draw.Options{Grid: "trai"}, `there is no grid "trai": did you mean "tray"?`},
		{draw.Options{ID: "a b"}, `"a b" begins no id, wanted a letter, then letters, digits, "-" and "_"`},
	} {
		var b bytes.Buffer
		err := draw.SVG(&b, l, expand.Moves(l), c.o)
		if err == nil || err.Error() != c.want || b.Len() > 0 {
			t.Errorf("%+v: %v, wanted %q and nothing written", c.o, err, c.want)
		}
	}
	if err := (draw.Options{Transfer: 46, After: 46, Grid: "tray", ID: "a-1"}).Validate(l); err != nil {
		t.Errorf("refused: %v", err)
	}
}

// Text from a plan stays text: markup is escaped, and characters that XML 1.0
// (section 2.2) does not have, or that reorder a line, are replaced.
func TestTextIsEscaped(t *testing.T) {
	l := demoLayout(t, "mortar-cubes")
	l.Title = "a<script>alert(1)</script> & \"b\" 'c' \x00\x07\x1b\u202e\ufffe\xff d\ne"
	data := svg(t, l, draw.Options{})
	if bytes.Contains(data, []byte("<script")) {
		t.Error("markup from the title came through")
	}
	const want = "a<script>alert(1)</script> & \"b\" 'c' \ufffd\ufffd\ufffd\ufffd\ufffd\ufffd d e: top view and side view"
	if got := read(t, data).children[0].text; got != want {
		t.Errorf("the title reads %q, wanted %q", got, want)
	}
}

const bare = `
format: gridferry plan 1
cell:
  format: gridferry cell 1
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {f: {at: %s, rpy: %s}}
parts: {p: {mass: 0.1}}
grids:
  a: {frame: f, rows: %d, columns: %d, pitch: [20, 20], first: [0, 0, 0], part: p, filled: all}
  b: {frame: base, rows: %[3]d, columns: %[4]d, pitch: [20, 20], first: [0, 50, 0]}
motion: {tool: jaw, approach: 20, speed: {travel: 100, near: 50}}
transfers: [{from: a, to: b}]
`

// Without machine limits, poses and sizes of parts, in odd places and at
// every turn, there is still a sound picture, which says what is not known.
func TestBarePlans(t *testing.T) {
	t.Parallel()
	for _, at := range []string{"[0, 0, 0]", "[1000000000, -1000000000, 1000000000]", "[0.000001, 0, 0]"} {
		for _, turn := range []string{"[0, 0, 0]", "[90, 0, 0]", "[0, 90, 0]", "[180, 0, 33]", "[12, 34, 56]"} {
			for _, size := range [][2]int{{1, 1}, {1, 7}, {30, 2}} {
				l := textLayout(t, fmt.Sprintf(bare, at, turn, size[0], size[1]))
				for _, o := range []draw.Options{{}, {Grid: "a"}, {Grid: "b", After: 1}} {
					root := read(t, svg(t, l, o))
					frame := numbers(t, root.attr["viewBox"])
					for _, n := range root.all(drawn) {
						for _, p := range points(t, n) {
							if p[0] < -0.01 || p[1] < -0.01 || p[0] > frame[2]+0.01 || p[1] > frame[3]+0.01 {
								t.Fatalf("at %s %s %v %+v: %s %v is outside", at, turn, size, o, n.name, n.attr)
							}
						}
					}
					if text := root.children[1].text; !strings.Contains(text, "Limits of reach are not known") {
						t.Errorf("%q does not say that the reach is not known", text)
					}
				}
			}
		}
	}
}

// A job of a million slots gives a small picture that says what it left out.
func TestBigJob(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("skipped, as -short asks: a million transfers")
	}
	l := textLayout(t, fmt.Sprintf(bare, "[0, 30000, 0]", "[0, 0, 20]", 1000, 1000))
	data := svg(t, l, draw.Options{NoPath: false})
	if len(data) > 1_000_000 {
		t.Errorf("the picture has %d bytes, wanted a million at most", len(data))
	}
	text := read(t, data).children[1].text
	for _, part := range []string{"Grid a: each field stands for up to 25 × 25 slots", "The path shows 25 of 1000000 transfers: one in 41669, and the last"} {
		if !strings.Contains(text, part) {
			t.Errorf("%q does not say %q", text, part)
		}
	}
}

// No label of a demo picture lies on another one, and none is cut off, with the
// widths that the package counts with.
func TestLabelsKeepClear(t *testing.T) {
	t.Parallel()
	eachPicture(t, func(t *testing.T, _ *layout.Layout, o draw.Options, data []byte) {
		root := read(t, data)
		frame := numbers(t, root.attr["viewBox"])
		var boxes []label
		for _, n := range root.all(named("text")) {
			l := labelOf(t, n)
			if l.x0 < 0 || l.x1 > frame[2] || l.y0 < 0 || l.y1 > frame[3] {
				t.Errorf("%q is cut off: %+v", n.text, l)
			}
			for _, other := range boxes {
				if w, h := min(l.x1, other.x1)-max(l.x0, other.x0), min(l.y1, other.y1)-max(l.y0, other.y0); w > 0.35 && h > 0.35 {
					t.Errorf("%q and %q share %.2f × %.2f mm", l.text, other.text, w, h)
				}
			}
			boxes = append(boxes, l)
		}
	})
}

// What a picture says to those who cannot see it counts properly: one grid more, one row,
// and no 23th transfer.
func TestDescriptionsCount(t *testing.T) {
	var grids strings.Builder
	for i := range 21 {
		fmt.Fprintf(&grids, "  g%d: {frame: base, rows: 1, columns: %d, pitch: [10, 10], first: [%d, 300, 50], part: p}\n", i, 60*min(i, 1)+1, 20*i)
	}
	l := textLayout(t, `format: gridferry plan 1
cell: {tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}, poses: {clear: {at: [0, 300, 300]}}}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
`+strings.Replace(grids.String(), "part: p}", "part: p, filled: all}", 2)+`motion: {tool: jaw, approach: 20, speed: {travel: 100, near: 50}, clear: clear}
transfers:
  - {from: g1, to: g2}
`)
	text := string(svg(t, l, draw.Options{}))
	for _, want := range []string{"And 1 grid more.", "1 row and 1 column: p in its slot", "shows 13 of 61 transfers: one in 5"} {
		if !strings.Contains(text, want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	if found := regexp.MustCompile(`\b1 [a-z]+s\b|[123]th\b`).FindString(text); found != "" {
		t.Errorf("it says %q", found)
	}
}

// No leader of a demo picture runs through a label.
func TestLeadersKeepClear(t *testing.T) {
	t.Parallel()
	eachPicture(t, func(t *testing.T, _ *layout.Layout, o draw.Options, data []byte) {
		root := read(t, data)
		leaders := root.all(func(n *node) bool { return n.attr["class"] == "leader" })
		for _, n := range root.all(named("text")) {
			l := labelOf(t, n)
			for _, line := range leaders {
				ends := corners(t, line.attr["d"])
				const steps = 200
				for i := range steps {
					k := float64(i) / steps
					x, y := ends[0][0]+k*(ends[1][0]-ends[0][0]), ends[0][1]+k*(ends[1][1]-ends[0][1])
					if x > l.x0+0.4 && x < l.x1-0.4 && y > l.y0+0.4 && y < l.y1-0.2 {
						t.Errorf("the leader %s runs through %q", line.attr["d"], l.text)
						break
					}
				}
			}
		}
	})
}

// Every axis of every frame that is drawn has its letter, once in each view, near it; also
// the one along the line of sight.
func TestEveryAxisHasItsLetter(t *testing.T) {
	t.Parallel()
	eachPicture(t, func(t *testing.T, _ *layout.Layout, o draw.Options, data []byte) {
		root := read(t, data)
		letters := map[string]string{}
		of := func(n *node, name string) string { return n.above("data-view").attr["data-view"] + " " + name }
		for _, n := range root.all(has("data-axes")) {
			for _, text := range n.all(named("text")) {
				letters[of(n, n.attr["data-axes"])] += text.text
			}
		}
		for _, n := range root.all(has("data-frame")) {
			if got := letters[of(n, n.attr["data-frame"])]; got != "XYZ" {
				t.Errorf("%v: the frame %s has the letters %q", o, of(n, n.attr["data-frame"]), got)
			}
		}
	})
}

type label struct {
	text           string
	x0, y0, x1, y1 float64
}

// labelOf is the box of a label's letters.
func labelOf(t *testing.T, n *node) label {
	x, y, size := numbers(t, n.attr["x"])[0], numbers(t, n.attr["y"])[0], numbers(t, n.attr["font-size"])[0]
	w := draw.TextWidth(n.text, size)
	switch n.attr["text-anchor"] {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return label{n.text, x, y - 0.74*size, x + w, y + 0.02*size}
}

// Turning the cell turns nothing that a reader of the picture has to know: frames'
// origins are drawn where they are.
func TestBoxesAndPoses(t *testing.T) {
	l := demoLayout(t, "mortar-cubes")
	for _, n := range read(t, svg(t, l, draw.Options{})).all(has("data-pose")) {
		view := readView(t, n.above("data-view"))
		x, y := view.at(geom.Vec{X: 400, Z: 420}) // clear, in testdata/demo/bench.cell.yaml
		near(t, "clear x", numbers(t, n.attr["data-x"])[0], x)
		near(t, "clear y", numbers(t, n.attr["data-y"])[0], y)
	}
	for _, n := range read(t, svg(t, l, draw.Options{})).all(func(n *node) bool { return n.attr["data-box"] == "foot" }) {
		view := readView(t, n.above("data-view"))
		x0, y0 := view.at(geom.Vec{X: -90, Y: 90})
		x1, y1 := view.at(geom.Vec{X: 90, Y: -90, Z: 380})
		var lo, hi [2]float64
		for i, p := range corners(t, n.all(func(n *node) bool { return n.attr["class"] == "keep" })[0].attr["d"]) {
			if i == 0 {
				lo, hi = p, p
			}
			lo, hi = [2]float64{min(lo[0], p[0]), min(lo[1], p[1])}, [2]float64{max(hi[0], p[0]), max(hi[1], p[1])}
		}
		near(t, "foot left", lo[0], min(x0, x1))
		near(t, "foot right", hi[0], max(x0, x1))
		near(t, "foot top", lo[1], min(y0, y1))
		near(t, "foot bottom", hi[1], max(y0, y1))
	}
}

func BenchmarkDensePlate(b *testing.B) {
	l := demoLayout(b, "dense-plate")
	for b.Loop() {
		svg(b, l, draw.Options{})
	}
}

// A bar that is picked along X and put down with the tool turned a quarter turn lies
// along Y.
func TestPartsLieAsTheToolTurnedThem(t *testing.T) {
	l := textLayout(t, `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {bar: {mass: 0.1, size: [60, 20, 20]}}
grids:
  rack: {frame: base, rows: 2, columns: 1, pitch: [0, 80], first: [200, -200, 20], part: bar, filled: all}
  shelf: {frame: base, rows: 2, columns: 1, pitch: [0, 80], first: [200, 50, 20], rpy: [180, 0, 90], part: bar}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: rack, to: shelf}]
`)
	root, looked := read(t, svg(t, l, draw.Options{After: 1})), 0
	for _, c := range []struct {
		grid, slot string
		wide       bool // along Y, which is across in the view from above
	}{{"shelf", "A1", true}, {"shelf", "B1", false}, {"rack", "B1", false}} {
		for _, n := range root.all(has("data-slot")) {
			if n.attr["data-slot"] != c.slot || n.above("data-grid").attr["data-grid"] != c.grid || n.above("data-view").attr["data-view"] != "top" {
				continue
			}
			shape := root.all(func(m *node) bool { return "#"+m.attr["id"] == n.attr["href"] })[0]
			lo, hi := [2]float64{}, [2]float64{}
			for _, p := range points(t, shape) {
				for k := range p {
					lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
				}
			}
			if wide := hi[0]-lo[0] > hi[1]-lo[1]; wide != c.wide {
				t.Errorf("%s %s: across is %t, wanted %t", c.grid, c.slot, wide, c.wide)
			}
			looked++
		}
	}
	if looked != 3 {
		t.Errorf("%d slots were found, wanted 3", looked)
	}
}

// bigRing is a plan of a ring of twenty circles, from 200 mm on 6 mm apart, with so many
// places each.
func bigRing(places int) string {
	var radius, count []string
	for i := range 20 {
		radius, count = append(radius, strconv.Itoa(200+6*i)), append(count, strconv.Itoa(places))
	}
	return `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {pin: {mass: 0.1, size: [1, 1, 20]}}
grids:
  wheel: {frame: base, first: [0, 0, 20], ring: {radius: [` + strings.Join(radius, ", ") + `], places: [` + strings.Join(count, ", ") + `]}, part: pin, filled: "A1:A8, B1:B3"}
  tray: {frame: base, rows: 2, columns: 1, pitch: [0, 80], first: [400, 50, 20], part: pin}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: "wheel B1:B2", to: tray}]
`
}

// A ring of too many places to draw one by one is drawn as pieces of its circles.
func TestLargeRingIsDrawnRound(t *testing.T) {
	root := read(t, svg(t, textLayout(t, bigRing(500)), draw.Options{}))
	fields := map[string]int{}
	for _, n := range root.all(func(n *node) bool { return n.attr["class"] != "" && n.attr["d"] != "" && n.above("data-grid") != nil }) {
		class := n.attr["class"]
		if n.above("data-grid").attr["data-grid"] != "wheel" || n.above("data-view").attr["data-view"] != "top" || class == "area" {
			continue
		}
		fields[class]++
		view := readView(t, n.above("data-view"))
		x, y := view.at(geom.Vec{})
		for _, p := range points(t, n) {
			// A field of seven places bends by 0.2 mm, and a pin stands out 0.8 mm at most.
			if r := math.Hypot(p[0]-x, p[1]-y) / view.scale; r < 199-0.2 || r > 315.2 {
				t.Fatalf("a field of class %q reaches to a radius of %.2f mm", class, r)
			}
		}
	}
	// Seven places a field are 72 fields a circle: of A1 to A8 the first field is full and the second has some,
	// as has that of B1 to B3.
	if want := map[string]int{"full": 3, "free": 2, "spare": 20*72 - 3}; !maps.Equal(fields, want) {
		t.Errorf("fields are %v, wanted %v", fields, want)
	}
}

func BenchmarkLargeRing(b *testing.B) {
	for _, places := range []int{125, 500} {
		l := textLayout(b, bigRing(places))
		b.Run(strconv.Itoa(20*places), func(b *testing.B) {
			for b.Loop() {
				svg(b, l, draw.Options{})
			}
		})
	}
}
