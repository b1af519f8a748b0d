package render

import (
	"iter"
	"strconv"
	"strings"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Loops is what a program of nested loops is made of.
type Loops struct {
	Tables     loops.Tables
	Statements iter.Seq[loops.Statement]

	// OtherRun is which run this is where it is not a whole job, such as "a first
	// run"; then there is nothing else here, and nothing is written.
	OtherRun string
}

// nested writes tables, routines and loops.
func (p *program) nested() {
	if run := p.otherRun(); run != "" {
		p.found.errorf(ruleKind, p.place, "loops", "the family %q writes the loops of a whole job, and this is %s", p.family.Label, run).
			WithHint("write the whole job, or choose a family that writes single moves")
		return
	}
	p.rounding.loops(&p.loops.Tables)
	p.tooCoarse()
	p.printer.Items += writtenOut(&p.loops.Tables)
	v := newNester(p.views, p.loops.Tables)
	v.tablesTo(p.nest)
	for s := range p.loops.Statements {
		block, view := v.statement(s)
		if p.nest(block, view, s.Place); p.tooLong() {
			return
		}
	}
}

// writtenOut is how many slots the tables write out one by one.
func writtenOut(t *loops.Tables) int {
	n := 0
	for _, g := range t.Grids {
		n += len(g.Corners) + len(g.Slots) + len(g.Off)
	}
	return n
}

// otherRun is which run this is where it has no loops.
func (p *program) otherRun() string {
	if p.loops == nil {
		return "a list of moves"
	}
	return p.loops.OtherRun
}

// nest writes a block whose figures are all settled by now.
func (p *program) nest(block string, view any, at diag.Place) {
	m := move.Move{Place: at}
	if err := p.views.figures.take(); err != nil {
		p.figureFailed(&m, err)
		return
	}
	if block == blocks.FirstBlock && !p.family.Has(block) {
		return
	}
	if reason, ok := p.family.WritesBlock(block); !ok {
		p.cannot(&m, block, reason)
		return
	}
	p.around(block, view, m)
}

// nester turns tables and statements into views.
type nester struct {
	*viewer
	tables   *loops.Tables
	names    map[string]string // of grids, as identifiers
	routines map[string]string // likewise, by label
	ways     map[string]string
}

func newNester(v *viewer, t loops.Tables) *nester {
	n := &nester{viewer: v, tables: &t}
	n.names = namesOf(v, t.Grids, func(g loops.Grid) string { return g.Name })
	n.ways = namesOf(v, t.Entries, func(w loops.EntryWay) string { return w.Label })
	labels := make([]string, 0, len(t.Clears)+len(t.Changes)+len(t.Routines))
	for _, c := range t.Clears {
		labels = append(labels, c.Label)
	}
	for _, c := range t.Changes {
		labels = append(labels, c.Label)
	}
	for _, r := range t.Routines {
		labels = append(labels, r.Label)
	}
	n.routines = namesOf(v, labels, func(label string) string { return label })
	return n
}

// namesOf are the names of some things as identifiers.
func namesOf[T any](v *viewer, all []T, label func(T) string) map[string]string {
	labels := make([]string, len(all))
	for i := range all {
		labels[i] = label(all[i])
	}
	names := map[string]string{}
	for i, name := range v.family.Names.Table(labels) {
		names[labels[i]] = name
	}
	return names
}

// mostOffsets is how many offsets are written out.
const mostOffsets = 12

func (n *nester) grid(g loops.Grid) blocks.Grid {
	view := blocks.Grid{
		Name: n.names[g.Name], Label: blocks.NewText(g.Name), Frame: numbered(n.frames, g.FrameNumber, g.Frame).name,
		Rows: g.Rows, Columns: g.Columns, Across: g.Across, Layers: g.Layers, Layered: g.Layers > 1,
		LayerOffset: n.offsets(g.Layers, g.Layer), LayerStep: n.figures.length(g.Layer),
		Touched: len(g.Corners) > 0, Rotation: n.figures.rotation(n.family.Rotation.OfEntry(), g.Turn),
	}
	view.X, view.Y, view.Z = n.figures.vector(g.First)
	view.Corners, view.Slots, view.Off = n.slots(g.Corners), n.slots(g.Slots), n.slots(g.Off)
	if view.Touched || view.Slots != nil {
		return view
	}
	view.ColumnOffset, view.ColumnStep = n.offsets(g.Columns, g.Column), n.figures.length(g.Column)
	view.RowOffset, view.RowStep = n.offsets(g.Rows, g.Row), n.figures.length(g.Row)
	view.Shifted, view.Shift = g.Shift != 0, n.figures.length(g.Shift)
	return view
}

func (n *nester) slots(of []loops.Slot) []blocks.Slot {
	var views []blocks.Slot
	for _, s := range of {
		view := blocks.Slot{Row: s.Row, Column: s.Column, Layer: s.Layer, Turned: s.Turned != 0, Angle: n.figures.angle(s.Turned)}
		view.X, view.Y, view.Z = n.figures.vector(s.At)
		views = append(views, view)
	}
	return views
}

func (n *nester) offsets(count int, step float64) []string {
	if count > mostOffsets {
		return nil
	}
	all := make([]string, count)
	for i := range all {
		all[i] = n.figures.length(float64(i) * step)
	}
	return all
}

// statement is the block and the view of a line of the loops.
func (n *nester) statement(s loops.Statement) (string, any) {
	line := n.line(s)
	switch s.Kind {
	case loops.Ask:
		return blocks.AskBlock, blocks.Ask{LoopLine: line, Asks: n.asks(s.Asks)}
	case loops.First:
		return blocks.FirstBlock, n.first(s, line)
	case loops.Switch:
		return blocks.SwitchBlock, n.change(&s.Switch, line)
	case loops.Groups:
		return blocks.GroupsBlock, blocks.Groups{LoopLine: line, First: s.Heading.Groups[0], Last: s.Heading.Groups[1], Parts: s.Heading.AtOnce}
	case loops.Entry, loops.Leg:
		return blocks.EntryBlock, n.entry(s, line)
	case loops.Zero:
		return blocks.ZeroBlock, blocks.Counting{LoopLine: line, List: s.List}
	case loops.Count:
		return blocks.CountBlock, blocks.Counting{LoopLine: line, List: s.List, Parts: s.Parts}
	case loops.For:
		return blocks.LoopBlock, n.loop(s, line)
	case loops.Next:
		return blocks.NextBlock, n.loop(s, line)
	case loops.Skip:
		return blocks.SkipBlock, skipOf(s, line)
	case loops.List:
		return blocks.ListBlock, blocks.Listed{
			LoopLine: line, List: s.List, Grid: n.names[s.Grid], Layered: s.Layered, First: s.From, Last: s.From + len(s.Slots[0]) - 1,
			Rows: s.Slots[loops.Row], Columns: s.Slots[loops.Column], Layers: s.Slots[loops.Layer],
		}
	case loops.Store:
		return blocks.StoreBlock, n.carry(s, line)
	case loops.Call:
		return blocks.CarryBlock, n.carry(s, line)
	case loops.Go:
		return blocks.GoBlock, n.goes(&s.Way, line)
	case loops.Leave:
		return blocks.LeaveBlock, blocks.Leave{LoopLine: line, Limit: s.Parts}
	case loops.Finish:
		return blocks.FinishBlock, blocks.Finish{LoopLine: line, Home: n.home(s.Home)}
	case loops.Do:
	}
	return n.step(s, line)
}

func (n *nester) line(s loops.Statement) blocks.LoopLine {
	return blocks.LoopLine{Indent: strings.Repeat("  ", s.Depth), Line: s.Place.Line, Plan: n.plan}
}

func (n *nester) entry(s loops.Statement, line blocks.LoopLine) blocks.Entry {
	h := s.Heading
	return blocks.Entry{
		LoopLine: line, Number: h.Number, Parts: h.Parts, Legs: h.Legs, Leg: h.Leg, ByPart: h.ByPart, AtOnce: h.AtOnce,
		Stops: blocks.NewText(strings.Join(h.Stops, " to ")),
	}
}

var counterWords [loops.NumCounters]string = [...]string{loops.Row: "row", loops.Column: "column", loops.Layer: "layer", loops.Parts: "count", loops.Group: "group"}

func (n *nester) loop(s loops.Statement, line blocks.LoopLine) blocks.Loop {
	l := s.Loop
	return blocks.Loop{
		LoopLine: line, Counter: counterWords[l.Counter], First: l.From, Last: l.To, Down: l.To < l.From,
		Turns: l.Backwards != loops.Never, TurnsEven: l.Backwards == loops.Even,
	}
}

func skipOf(s loops.Statement, line blocks.LoopLine) blocks.Skip {
	b := s.Box
	return blocks.Skip{
		LoopLine: line, Slots: blocks.NewText(s.Label),
		OfRows: !b.Whole[loops.Row], FirstRow: b.First[loops.Row], LastRow: b.Last[loops.Row],
		OfColumns: !b.Whole[loops.Column], FirstColumn: b.First[loops.Column], LastColumn: b.Last[loops.Column],
		OfLayers: !b.Whole[loops.Layer], FirstLayer: b.First[loops.Layer], LastLayer: b.Last[loops.Layer],
	}
}

func (n *nester) carry(s loops.Statement, line blocks.LoopLine) blocks.Carry {
	return blocks.Carry{
		LoopLine: line, Routine: n.routines[s.Routine], Item: item(s.At[0]), Grid: n.names[s.Grid], Layered: s.Layered, Into: s.List, From: s.At[0].List, Listed: s.At[0].List != "",
		Row: index(s.At[loops.Row]), Column: index(s.At[loops.Column]), Layer: index(s.At[loops.Layer]),
	}
}

// item is the place in a list: "count", "count + 2".
func item(i loops.Index) string {
	return index(loops.Index{Counted: true, Counter: loops.Parts, Number: i.Number})
}

// index is "3", "row", "row + 2" or "row - 1".
func index(i loops.Index) string {
	if !i.Counted {
		return strconv.Itoa(i.Number)
	}
	word := counterWords[i.Counter]
	switch {
	case i.Number > 0:
		return word + " + " + strconv.Itoa(i.Number)
	case i.Number < 0:
		return word + " - " + strconv.Itoa(-i.Number)
	}
	return word
}

// step is a step that the plan writes out; its view is the one that other
// families give to it, set in as far as the loops around it ask for.
func (n *nester) step(s loops.Statement, line blocks.LoopLine) (string, any) {
	block := s.Step.Kind.String()
	if s.Step.Pause {
		block = rules.Pause
	}
	switch view := n.build(&s.Step).(type) {
	case *blocks.Set:
		view.Indent = line.Indent
		return block, view
	case *blocks.Await:
		view.Indent = line.Indent
		return block, view
	case *blocks.Dwell:
		view.Indent = line.Indent
		return block, view
	case *blocks.Stop:
		view.Indent = line.Indent
		return block, view
	case *blocks.Note:
		view.Indent = line.Indent
		return block, view
	}
	return block, nil
}
