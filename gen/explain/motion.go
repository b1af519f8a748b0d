package explain

import (
	"slices"
	"strconv"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// motionKey is a key of "motion", which may stand in the plan, in a grid and in an entry.
type motionKey struct {
	path, what, does string
	place            func(*layout.Figures) diag.Place // where the key is written whose value holds
	rests            func(c *cast, m *move.Move) bool // the moves that may rest on it
}

var motionKeys = []motionKey{
	{"tool", "the tool", "It makes the moves of the arm and of the gripper. Where another one was at work before, it is fetched, or a person changes it.",
		func(f *layout.Figures) diag.Place { return f.ToolPlace },
		func(_ *cast, m *move.Move) bool { return m.Tool != "" || m.Role.Changing() }},
	{"approach", "the approach distance", "The approach points lie this far off the slots.",
		func(f *layout.Figures) diag.Place { return f.Approach.Place }, toApproach},
	{"along", "the direction of the approach", "In this direction lie the approach points, as seen from the slots.",
		func(f *layout.Figures) diag.Place { return f.AlongPlace },
		func(c *cast, m *move.Move) bool { return toApproach(c, m) || letsGoAbove(c, m) }},
	{"speed", "the speeds", "One holds for travel, the other for the straight lines near a slot.",
		nil, func(_ *cast, m *move.Move) bool { return m.Kind.IsMotion() }},
	{"speed/travel", "the speed of travel", "It holds where the path is free.",
		func(f *layout.Figures) diag.Place { return f.Travel.Place },
		func(c *cast, m *move.Move) bool { return m.Kind == move.Travel && !m.Careful() && !atLoaded(c, m) }},
	{"speed/near", "the speed near a slot", "It holds for the straight lines down to a slot and up from it, for the first motion of all, and for the first one after a person changed the tool.",
		func(f *layout.Figures) diag.Place { return f.Near.Place },
		func(_ *cast, m *move.Move) bool { return m.Kind == move.Straight || m.Careful() }},
	{"speed/loaded", "the speed with a part", "It holds for travel while a part is in the gripper.",
		func(f *layout.Figures) diag.Place { return f.Loaded.Place }, atLoaded},
	{"fly_by", "the fly-by", "Points on the way may be passed this closely, without a stop. At a slot, and where the gripper works next, the arm always stops.",
		func(f *layout.Figures) diag.Place { return f.FlyBy.Place },
		func(_ *cast, m *move.Move) bool { return m.FlyBy > 0 }},
	{"clear", "the clear pose", "The arm passes it before every pick and before every place, unless it stands at the approach point already, and ends there. Every program begins from it, too, unless there is another start pose.",
		func(f *layout.Figures) diag.Place { return f.ClearPlace }, toClear},
	{"entry", "the poses that lead into a grid", "The arm passes them on the way in, and in reverse on the way out.",
		func(f *layout.Figures) diag.Place { return f.EntryPlace },
		func(_ *cast, m *move.Move) bool { return onEntry(m.Role) }},
	{"configuration", "the configuration of the arm", "In it the arm gets to every pose that this rules.",
		func(f *layout.Figures) diag.Place { return f.ConfigurationPlace },
		func(_ *cast, m *move.Move) bool { return m.Kind.IsMotion() }},
	{"release_above", "how far above a slot parts are let go", "The arm goes down no farther than that, and opens the gripper.",
		func(f *layout.Figures) diag.Place { return f.ReleaseAbove.Place }, letsGoAbove},
	{"optional_stop", "the optional stop", "The controller stops after each transfer, if its operator has asked for that.",
		func(f *layout.Figures) diag.Place { return f.StopPlace },
		func(_ *cast, m *move.Move) bool { return m.Pause }},
}

// onEntry reports whether a move goes to a pose on the way into a grid or out of it.
func onEntry(r move.Role) bool {
	return slices.Contains([]move.Role{move.EnterSource, move.LeaveSource, move.EnterDestination, move.LeaveDestination}, r)
}

func toApproach(_ *cast, m *move.Move) bool { return m.Target.Approach }

func letsGoAbove(c *cast, m *move.Move) bool {
	return m.Role == move.DownDestination && c.l.FiguresOf(m).ReleaseAbove.V > 0
}

// atLoaded reports whether a travel goes at the speed for travels with a part.
func atLoaded(c *cast, m *move.Move) bool {
	return m.Kind == move.Travel && !m.Careful() && c.l.FiguresOf(m).Loaded.IsSet() && c.carried(m) != nil
}

// toClear is the ways to the clear pose, the first motion among them where that is the start pose.
func toClear(c *cast, m *move.Move) bool {
	if m.Role == move.ToStart {
		return c.l.FiguresOf(m).StartPlace.IsZero()
	}
	return slices.Contains([]move.Role{move.ClearFirst, move.ClearLoaded, move.ClearLast}, m.Role)
}

// motionTopics is what the lines of all motions can be about.
func motionTopics() []topic {
	var all []topic
	for _, k := range motionKeys {
		all = append(all,
			about("motion/"+k.path, k.what, k.does, k.in(func(c *cast, _ []string) *layout.Figures { return c.l.Figures(nil, nil) })),
			about("grids/*/motion/"+k.path, k.what+" at the grid \"%s\"", k.does, k.in(func(c *cast, names []string) *layout.Figures { return c.l.Figures(nil, c.grids[names[0]]) })),
			about("transfers/*/motion/"+k.path, k.what+" in entry %s", k.does, k.in(ownFigures)))
	}
	return all
}

// in is the moves that rest on a key where it is written for some figures. What is written
// elsewhere, nearer, has another place.
func (k motionKey) in(figures func(c *cast, names []string) *layout.Figures) rests {
	return func(c *cast, names []string) func(*move.Move) bool {
		by := figures(c, names)
		if by == nil {
			return none(c, names)
		}
		if k.place == nil { // the speeds: which one holds, the move says
			return func(m *move.Move) bool { return k.rests(c, m) && speedOf(c, m, c.l.FiguresOf(m)) == speedOf(c, m, by) }
		}
		at := k.place(by)
		return func(m *move.Move) bool { return k.place(c.l.FiguresOf(m)) == at && k.rests(c, m) }
	}
}

// speedOf is where the speed of a motion is written, if some figures rule it.
func speedOf(c *cast, m *move.Move, by *layout.Figures) diag.Place {
	switch {
	case m.Kind == move.Straight || m.Careful():
		return by.Near.Place
	case by.Loaded.IsSet() && c.carried(m) != nil:
		return by.Loaded.Place
	}
	return by.Travel.Place
}

// ownFigures are those of an entry; names holds its number, from 1.
func ownFigures(c *cast, names []string) *layout.Figures {
	n, _ := strconv.Atoi(names[0]) // the outline counts them
	if n < 1 || n > len(c.l.Entries) {
		return nil
	}
	e := c.l.Entries[n-1]
	return c.l.Figures(e, e.Stops[0].Grid)
}

// byGrid is the motions that a grid's own figures rule, and those at its slots.
func byGrid(c *cast, names []string) func(*move.Move) bool {
	by, at := c.l.Figures(nil, c.grids[names[0]]), atGrid(c, names)
	return func(m *move.Move) bool { return m.Kind.IsMotion() && (at(m) || c.l.FiguresOf(m) == by) }
}
