package nest

import (
	"fmt"
	"slices"
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// book gathers what the loops of a job call and rest on, each once. What the plan's own
// motion rules has plain names; what differs is named after the grid or the entry that
// says so, or after its tool.
type book struct {
	loops.Tables
	l       *layout.Layout
	own     *layout.Figures // the plan's
	used    []*layout.Tool  // that take parts
	alone   bool            // one tool takes every part
	ways    bool            // some grid has entry poses
	entered map[*layout.Grid]bool
	posed   map[posed]*loops.Pose
	leads   map[*layout.Grid][]loops.Lead
	noted   map[any]bool   // what stands in the tables
	labels  map[any]string // of routines, by what they do
	alike   map[string]int // how many have a label, but for the number behind it
}

func newBook(l *layout.Layout) *book {
	b := &book{
		l: l, own: l.Figures(nil, nil), used: l.UsedTools(), entered: map[*layout.Grid]bool{}, posed: map[posed]*loops.Pose{},
		leads: map[*layout.Grid][]loops.Lead{}, noted: map[any]bool{}, labels: map[any]string{}, alike: map[string]int{},
	}
	b.alone = len(b.used) == 1
	for _, e := range l.Entries {
		for i := range e.Stops {
			if g := e.Stops[i].Grid; e.Parts > 0 && len(l.Figures(e, g).Entry) > 0 {
				b.ways, b.entered[g] = true, true
			}
		}
	}
	if !b.alone {
		for _, t := range b.used {
			b.Tools = append(b.Tools, loops.Tool{Place: t.Place, Named: nameOf(t), TCP: tcpOf(t)})
		}
	}
	b.Place = b.own.Place
	b.clear(b.own, b.own.Tool)
	return b
}

// note reports whether something stands in no table yet, and from now on it does.
func (b *book) note(what any) bool {
	if b.noted[what] {
		return false
	}
	b.noted[what] = true
	return true
}

// label is the label of a routine that does something: the text, with a number behind it where
// others have it already. It reports whether the routine is a new one.
func (b *book) label(text string, does any) (string, bool) {
	type key struct {
		text string
		does any
	}
	k := key{text, does}
	if known, ok := b.labels[k]; ok {
		return known, false
	}
	b.alike[text]++
	b.labels[k] = text
	if n := b.alike[text]; n > 1 {
		b.labels[k] += fmt.Sprint(" ", n)
	}
	return b.labels[k], true
}

func nameOf(t *layout.Tool) loops.Named { return loops.Named{Name: t.Name, Number: t.Number} }

func tcpOf(t *layout.Tool) move.Point { return move.Point{Vec: t.TCP.T, RPY: t.TCP.R.RPY()} }

// posed is a named pose and, where it is given by joints, the tool whose TCP goes there.
type posed struct {
	pose *layout.NamedPose
	of   *layout.Tool
}

// pose is a named pose of a tool, which is listed.
func (b *book) pose(p *layout.NamedPose, by *layout.Tool) *loops.Pose {
	if p == nil {
		return nil
	}
	k := posed{p, p.Of(by)}
	if b.posed[k] == nil {
		b.posed[k] = &loops.Pose{Name: p.Name, Frame: p.Frame.Name, FrameNumber: p.Frame.Number, At: *p.In(by)}
		b.Poses = append(b.Poses, b.posed[k])
	}
	return b.posed[k]
}

func (b *book) poses(all []*layout.NamedPose, by *layout.Tool) []*loops.Pose {
	var out []*loops.Pose
	for _, p := range all {
		out = append(out, b.pose(p, by))
	}
	return out
}

func speeds(by *layout.Figures) loops.Speeds {
	return loops.Speeds{Travel: by.Speed(false), Loaded: by.Speed(true)}
}

// ofFigures is whom figures belong to, for names: "rack", "entry 3 at rack".
func ofFigures(by *layout.Figures) string { return strings.TrimPrefix(by.Of, "grid ") }

// home is how the arm leaves where it is, by some figures.
func (b *book) home(by *layout.Figures) loops.Leaving { return b.homeWith(by, by.Tool) }

// homeWith is home with a tool that is still on the flange.
func (b *book) homeWith(by *layout.Figures, on *layout.Tool) loops.Leaving {
	return loops.Leaving{Clear: b.clear(by, on), Out: b.ways}
}

// clear is the routine to the clear pose, with a tool on the flange; "" where there is none.
func (b *book) clear(by *layout.Figures, on *layout.Tool) string {
	if by.Clear == nil {
		return ""
	}
	label := "clear"
	if by.Clear != b.own.Clear || speeds(by) != speeds(b.own) || by.Clear.Of(on) != by.Clear.Of(b.own.Tool) {
		label = strings.TrimSpace("clear " + ofFigures(by))
	}
	if by.Clear.Of(on) != by.Clear.Of(by.Tool) {
		label += " with " + on.Whole()
	}
	if b.note(label) {
		b.Clears = append(b.Clears, loops.Clear{Place: by.Place, Label: label, Out: b.ways, Pose: b.pose(by.Clear, on), Speeds: speeds(by)})
	}
	return label
}

// entry is the poses on the way into a grid; "" for none.
func (b *book) entry(by *layout.Figures) string {
	if len(by.Entry) == 0 {
		return ""
	}
	label := "every grid"
	byJoints := func(p *layout.NamedPose) bool { return p.Joints != nil }
	if !slices.Equal(by.Entry, b.own.Entry) || speeds(by) != speeds(b.own) || by.Tool != b.own.Tool && slices.ContainsFunc(by.Entry, byJoints) {
		label = ofFigures(by)
	}
	if b.note("way " + label) {
		b.Entries = append(b.Entries, loops.EntryWay{Place: by.EntryPlace, Label: label, Poses: b.poses(by.Entry, by.Tool), Speeds: speeds(by)})
	}
	return label
}

// zones is some zones of a tool, from one on.
func (b *book) zones(t *layout.Tool, from, n int) loops.Zones {
	if b.alone {
		return loops.Zones{}
	}
	return loops.Zones{First: nameOf(t.Zone(from)), Last: nameOf(t.Zone(from + n - 1))}
}

// gripper is the routine that opens or closes some zones of a tool.
func (b *book) gripper(t *layout.Tool, from, n int, opens bool) loops.Zones {
	type key struct {
		zones loops.Zones
		opens bool
	}
	g := loops.Gripper{Opens: opens, Zones: b.zones(t, from, n)}
	if !b.note(key{g.Zones, opens}) {
		return g.Zones
	}
	for i := range n {
		zone := t.Zone(from + i)
		a := &zone.Grip
		if opens {
			a = &zone.Release
		}
		g.Place = a.Place
		g.Acts = append(g.Acts, move.Move{Kind: move.Set, Signal: a.Output, Level: a.Level})
		for k := range a.More {
			g.Acts = append(g.Acts, moveOf(&a.More[k]))
		}
		g.Settle = max(g.Settle, a.Settle)
	}
	if !opens {
		g.Asks = asks(t, from, n, true)
	}
	b.Grippers = append(b.Grippers, g)
	return g.Zones
}

// asks is the questions whether zones of a tool hold parts, or hold none.
func asks(t *layout.Tool, from, n int, held bool) []loops.Input {
	var all []loops.Input
	for i := range n {
		if h := t.Zone(from + i).Grip.Holds; h != nil {
			all = append(all, loops.Input{Input: h.Input, Level: h.Level == held, Within: h.Within})
		}
	}
	return all
}

// empty is the questions whether nothing is held, of every used zone of the tool on the flange.
func (b *book) empty(on *layout.Tool) []loops.Input {
	var all []loops.Input
	for _, t := range b.used {
		if h := t.Grip.Holds; h != nil && t.Beside(on) {
			all = append(all, loops.Input{Input: h.Input, Level: !h.Level, Within: h.Within})
		}
	}
	return all
}

// toolSteps is the routine for steps of a tool; "" where it has none.
func (b *book) toolSteps(verb string, t *layout.Tool, at diag.Place, steps []layout.Step, by *layout.Figures) string {
	if len(steps) == 0 {
		return ""
	}
	type key struct{ travel, near float64 }
	label, isNew := b.label(verb+" "+t.Whole(), key{by.Speed(false), by.Near.V})
	if isNew {
		b.Changes = append(b.Changes, loops.ToolSteps{Place: at, Label: label, Steps: b.listed(steps, by, t)})
	}
	return label
}

// listed is the steps of a tool as statements.
func (b *book) listed(steps []layout.Step, by *layout.Figures, on *layout.Tool) []loops.Statement {
	var all []loops.Statement
	w := writer{book: b, depth: 1, moved: true, yield: func(s loops.Statement) bool { all = append(all, s); return true }}
	w.steps(steps, doing{by: by, on: on})
	return all
}

// work is what a routine does: with some zones of the tool, of those that the entry carries
// parts in.
type work struct {
	by         *layout.Figures
	grid       *layout.Grid
	from, n    int // zones
	open, many int // the zones that are opened, from one on
	of         int // zones that the entry carries parts in
}

// routine is the routine for that, by its label.
func (b *book) routine(verb loops.Verb, k work) string {
	f := b.form(verb, k)
	label := verbs[verb]
	switch {
	case b.core(verb, k.by, k.from) != b.core(verb, b.own, k.from):
		label += " " + ofFigures(k.by)
	case k.by.Tool.Whole() != b.own.Tool.Whole():
		label += " with " + k.by.Tool.Whole()
	}
	if k.of > 1 {
		label += " " + zoneNames(k.by.Tool, k.from, k.n)
	}
	label, isNew := b.label(label, f)
	if isNew {
		r := loops.Routine{Place: k.by.Place, Label: label, Form: f}
		if verb == loops.Put {
			r.Asks = asks(k.by.Tool, k.from, k.n, true)
		}
		b.Routines = append(b.Routines, r)
	}
	return label
}

var verbs [loops.NumVerbs]string = [...]string{
	loops.Pick: "pick", loops.Put: "place", loops.ComePick: "come to pick", loops.ComePut: "come to place", loops.BackPick: "come back to pick", loops.BackPut: "come back to place",
}

// core is what a routine has of figures, but for the tool.
type core struct {
	clear         *layout.NamedPose
	entry         string
	lead          loops.Lead
	release, near float64
	travel        loops.Speeds
}

func (b *book) core(verb loops.Verb, by *layout.Figures, from int) core {
	c := core{clear: by.Clear, lead: leadOf(by, by.Approach.V), near: by.Near.V, travel: speeds(by)}
	for _, p := range by.Entry {
		c.entry += p.Name + "\n"
	}
	if verb == loops.Put {
		c.release = by.ReleaseAbove.V
	}
	if c.clear == nil && c.entry == "" { // then one of the speeds tells
		one := by.Speed(!picks(verb) || from > 0)
		c.travel = loops.Speeds{Travel: one, Loaded: one}
	}
	return c
}

func picks(verb loops.Verb) bool {
	return verb == loops.Pick || verb == loops.ComePick || verb == loops.BackPick
}

// zoneNames are the names of some zones of a tool, without the tool's own: left and right, c1 through c8. A "to"
// between them would read like a direction.
func zoneNames(t *layout.Tool, from, n int) string {
	short := func(i int) string { return strings.TrimPrefix(t.Zone(i).Name, t.Whole()+" ") }
	switch n {
	case 1:
		return short(from)
	case 2:
		return short(from) + " and " + short(from+1)
	}
	return short(from) + " through " + short(from+n-1)
}

// form is the routine without its name.
func (b *book) form(verb loops.Verb, k work) loops.Form {
	t := k.by.Tool
	f := loops.Form{
		Verb: verb, Entry: b.entry(k.by), Enters: b.entered[k.grid],
		Lead: b.lead(k.grid, k.by, k.by.Approach.V), Travel: k.by.Speed(!picks(verb) || k.from > 0), Near: k.by.Near.V,
	}
	if !b.alone {
		f.Zones, f.First, f.Shifted = b.zones(t, k.from, k.n), nameOf(t.Zone(0)), k.from > 0
	}
	if verb != loops.BackPick && verb != loops.BackPut {
		f.Home = b.home(k.by)
		f.Inside = f.Home.Out && k.by.Clear == nil
		if picks(verb) {
			f.Opens, f.OpensFirst, f.Open = true, f.Inside, b.gripper(t, k.open, k.many, true)
		}
	}
	switch verb {
	case loops.Pick:
		b.gripper(t, k.from, k.n, false)
	case loops.Put:
		b.gripper(t, k.from, k.n, true)
		f.Release = k.by.ReleaseAbove.V
		if f.Release > 0 {
			b.lead(k.grid, k.by, f.Release)
		}
	default:
		f.Near = 0 // they come above the slot only
	}
	return f
}

// lead is the way from a grid's slots to a point so far off them, which is listed.
func (b *book) lead(g *layout.Grid, by *layout.Figures, distance float64) loops.Lead {
	type key struct {
		grid *layout.Grid
		lead loops.Lead
	}
	l := leadOf(by, distance)
	if b.note(key{g, l}) {
		b.leads[g] = append(b.leads[g], l)
	}
	return l
}

func leadOf(by *layout.Figures, distance float64) loops.Lead {
	along, back := by.Direction()
	if back {
		along = geom.Vec{}
	}
	return loops.Lead{Back: back, Along: along, Distance: distance}
}
