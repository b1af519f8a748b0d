package layout

import (
	"iter"
	"slices"
	"strings"
)

// Change is a change from one tool to another, at the clear pose before an entry's first
// pick. The arm leaves the one and fetches the other; what it has no steps for, a person does.
type Change struct {
	Entry    *Entry
	From, To *Tool
	By       *Figures // that rule the entry's picks
}

// ByHand is what a person does, in words: "take jaw off, fit cup"; "" where the arm does it all.
func (c *Change) ByHand() string {
	off, on := "take "+c.From.Whole()+" off", "fit "+c.To.Whole()
	switch leaves, fetches := len(c.From.Leave) > 0, len(c.To.Fetch) > 0; {
	case leaves && fetches:
		return ""
	case leaves:
		return on
	case fetches:
		return off
	}
	return off + ", " + on
}

// Whole is the name of a tool, without that of its zone.
func (t *Tool) Whole() string {
	if t.Zones == nil {
		return t.Name
	}
	return t.Name[:strings.LastIndexByte(t.Name, ' ')]
}

// Changes are those of the whole job, in their order. Within an entry there is none.
func (l *Layout) Changes() iter.Seq[Change] {
	return func(yield func(Change) bool) {
		var on *Tool
		for _, e := range l.Entries {
			if e.Parts == 0 {
				continue
			}
			by := l.Figures(e, e.Stops[0].Grid)
			if c := (Change{e, on, by.Tool, by}); on != nil && on != by.Tool && !yield(c) {
				return
			}
			on = by.Tool
		}
	}
}

// PicksAt is the figures that rule the picks of a transfer's entry; the plan's own where there
// is no such transfer.
func (l *Layout) PicksAt(transfer int) *Figures {
	if e, _ := l.EntryOf(transfer); e != nil {
		return l.Figures(e, e.Stops[0].Grid)
	}
	return l.Figures(nil, nil)
}

// ToolAt is the tool that makes a transfer. That of the first one made is on the flange when a
// program begins.
func (l *Layout) ToolAt(transfer int) *Tool { return l.PicksAt(transfer).Tool }

// UsedTools is every tool that the plan works with, each once, in the order of their first use:
// of a tool with zones those in which parts are carried. The list is not to be changed.
func (l *Layout) UsedTools() []*Tool {
	if l.used == nil {
		return l.usedTools()
	}
	return l.used
}

func (l *Layout) usedTools() []*Tool {
	var used []*Tool
	for _, e := range l.Entries {
		for _, t := range l.Figures(e, e.Stops[0].Grid).Zones(e) {
			if e.Parts > 0 && !slices.Contains(used, t) {
				used = append(used, t)
			}
		}
	}
	if used == nil {
		return []*Tool{l.Figures(nil, nil).Tool}
	}
	return used
}

// ChangesTools reports whether the plan needs more than one tool.
func (l *Layout) ChangesTools() bool {
	for range l.Changes() {
		return true
	}
	return false
}

// toolSteps are steps with a tool on the flange.
type toolSteps struct {
	steps []Step
	on    *Tool
}

// changing is the steps with which the plan's changes of tool are made, each tool's once.
func (l *Layout) changing() []toolSteps {
	var all []toolSteps
	left, fetched := map[*Tool]bool{}, map[*Tool]bool{}
	for c := range l.Changes() {
		if !left[c.From] {
			left[c.From], all = true, append(all, toolSteps{c.From.Leave, c.From})
		}
		if !fetched[c.To] {
			fetched[c.To], all = true, append(all, toolSteps{c.To.Fetch, c.To})
		}
	}
	return all
}

// changeSteps are the steps of the cell's tools, whose poses are known by now.
func (r *resolver) changeSteps() {
	for _, t := range r.cell.Tools {
		if tool := r.toolOf[t.Name.V]; tool != nil {
			tool.Fetch, tool.FetchPlace = r.steps(t.Fetch.Steps), t.Fetch.Place
			tool.Leave, tool.LeavePlace = r.steps(t.Leave.Steps), t.Leave.Place
		}
	}
}

// oneTool holds an entry to one tool: what one of them has taken no other can put down.
func (r *resolver) oneTool(e *Entry) bool {
	at := func(i int) *Figures { return r.out.Figures(e, e.Stops[i].Grid) }
	first := at(0)
	for i := range e.Stops {
		by := at(i)
		if first.Tool == nil || by.Tool == nil {
			return true // that mistake was reported
		}
		if by.Tool != first.Tool {
			r.list.Errorf("two-tools", e.Place, "parts are taken from %q with the tool %q, and %q is filled with %q", e.Stops[0].Grid.Name, first.Tool.Whole(), e.Stops[i].Grid.Name, by.Tool.Whole()).
				WithNote(by.ToolPlace, "%q is named here", by.Tool.Whole()).
				WithHint("write into the entry which tool carries the part, such as \"motion: {tool: %s}\"", first.Tool.Whole())
			return false
		}
	}
	return true
}

// changes holds every change of tool to what it needs, and pays for its moves.
func (r *resolver) changes() {
	if r.list.HasErrors() {
		return
	}
	for c := range r.out.Changes() {
		if c.By.Clear == nil {
			r.list.Errorf("change-without-clear", c.Entry.Place, "here the tool %q is changed for %q, and there is no clear pose to do that at", c.From.Name, c.To.Name).
				WithNote(c.By.ToolPlace, "%q is named here", c.To.Name).
				WithHint("name a pose of the cell as \"clear\" in the motion of the entry, of its grid, or of the plan")
		}
		moves := movesPerChange + len(c.From.Leave) + len(c.To.Fetch)
		if moves > r.leftMoves {
			r.list.Errorf("too-many-moves", c.Entry.Place, "the change of tool here makes up to %d moves, but only %d are left of the limit", moves, r.leftMoves).
				WithHint("\"--limit\" raises it; entries that work with one tool, written one behind the other, need fewer changes")
			return
		}
		r.leftMoves -= moves
	}
}

// movesPerChange is no fewer than the moves of a change of tool beside its steps.
const movesPerChange = 20
