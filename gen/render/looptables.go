package render

import (
	"slices"

	"gridferry/gen/family/blocks"
	"gridferry/gen/geom"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// mentioned is the frames, with those as used that loops name: a way to a pose in one of them is
// left out where the arm stands there already.
func mentioned(t *loops.Tables, frames []move.Frame) []move.Frame {
	frames = slices.Clone(frames)
	for _, p := range t.Poses {
		frames[p.FrameNumber-1].Used = true
	}
	return frames
}

// tablesTo writes what stands before the loops: tools, grids, ways into them, and the routines.
func (n *nester) tablesTo(write func(block string, view any, at diag.Place)) {
	t := n.tables
	for _, tool := range t.Tools {
		write(blocks.ToolBlock, n.loopTool(tool), tool.Place)
	}
	for _, g := range t.Grids {
		write(blocks.GridBlock, n.grid(g), g.Place)
	}
	for _, w := range t.Entries {
		write(blocks.WayBlock, n.way(w), w.Place)
	}
	write(blocks.RoutinesBlock, blocks.Routines{Several: t.Tools != nil, Enters: t.Entries != nil}, t.Place)
	for _, c := range t.Clears {
		write(blocks.ClearBlock, n.clear(c), c.Place)
	}
	for _, g := range t.Grippers {
		write(blocks.GripperBlock, n.gripper(g), g.Place)
	}
	for _, c := range t.Changes {
		write(blocks.StepsBlock, blocks.Steps{LoopLine: n.at(c.Place), Name: n.routines[c.Label]}, c.Place)
		for _, s := range c.Steps {
			block, view := n.statement(s)
			write(block, view, s.Place)
		}
		write(blocks.DoneBlock, n.at(c.Place), c.Place)
	}
	for _, r := range t.Routines {
		write(blocks.HowBlock, n.routine(&r), r.Place)
	}
	job := blocks.Job{Several: t.Tools != nil}
	if job.Several {
		job.Tool = n.tool(t.Tools[0].Named)
	}
	write(blocks.JobBlock, job, t.Place)
}

// at is the head of a view of something that a line of the plan says.
func (n *nester) at(p diag.Place) blocks.LoopLine { return blocks.LoopLine{Line: p.Line, Plan: n.plan} }

func (n *nester) tool(t loops.Named) string {
	if t.Number == 0 {
		return ""
	}
	return numbered(n.tools, t.Number, t.Name).name
}

func (n *nester) loopTool(t loops.Tool) blocks.LoopTool {
	view := blocks.LoopTool{Name: n.tool(t.Named), Rotation: n.figures.rotation(n.family.Rotation.OfEntry(), t.TCP.RPY)}
	view.X, view.Y, view.Z = n.figures.vector(t.TCP.Vec)
	return view
}

// down is how a tool is turned that points straight down.
var down = geom.RPY{Roll: 180}

func (n *nester) passed(p *loops.Pose) blocks.Passed {
	if p == nil {
		return blocks.Passed{}
	}
	view := blocks.Passed{
		Pose: n.family.Names.Make(p.Name), Frame: numbered(n.frames, p.FrameNumber, p.Frame).name,
		Turned: p.At.RPY != down, Rotation: n.figures.rotation(n.family.Rotation.OfEntry(), p.At.RPY),
	}
	view.X, view.Y, view.Z = n.figures.vector(p.At.Vec)
	return view
}

func (n *nester) speeds(s loops.Speeds) blocks.Travelling {
	return blocks.Travelling{TravelSpeed: n.figures.speed(s.Travel), Loads: s.Loaded != s.Travel, LoadedSpeed: n.figures.speed(s.Loaded)}
}

func (n *nester) way(w loops.EntryWay) blocks.Way {
	view := blocks.Way{LoopLine: n.at(w.Place), Name: n.ways[w.Label], Travelling: n.speeds(w.Speeds)}
	for _, p := range w.Poses {
		view.Poses = append(view.Poses, n.passed(p))
	}
	return view
}

func (n *nester) clear(c loops.Clear) blocks.Clear {
	return blocks.Clear{
		LoopLine: n.at(c.Place), Name: n.routines[c.Label], Out: c.Out, Passed: n.passed(c.Pose), Travelling: n.speeds(c.Speeds),
	}
}

func (n *nester) zones(z loops.Zones) blocks.Zones {
	return blocks.Zones{Alone: z.First.Number == 0, Tool: n.tool(z.First), Several: z.First != z.Last, Last: n.tool(z.Last)}
}

func (n *nester) gripper(g loops.Gripper) blocks.Gripper {
	return blocks.Gripper{
		LoopLine: n.at(g.Place), Opens: g.Opens, Zones: n.zones(g.Zones), Acts: n.acts(g.Acts),
		Waits: g.Settle > 0, Wait: n.figures.time(g.Settle), Asks: n.asks(g.Asks),
	}
}

func (n *nester) acts(all []move.Move) []blocks.Act {
	var views []blocks.Act
	for _, m := range all {
		if m.Kind == move.Dwell {
			views = append(views, blocks.Act{Waits: true, Wait: n.figures.time(m.Seconds)})
			continue
		}
		views = append(views, blocks.Act{Signal: m.Signal, Level: wording.Level(m.Level)})
	}
	return views
}

func (n *nester) asks(all []loops.Input) []blocks.Asked {
	var views []blocks.Asked
	for _, a := range all {
		views = append(views, blocks.Asked{Signal: a.Input, Level: wording.Level(a.Level), Wait: n.figures.time(a.Within)})
	}
	return views
}

func (n *nester) home(h loops.Leaving) blocks.Home {
	return blocks.Home{HasClear: h.Clear != "", Clear: n.routines[h.Clear], Out: h.Out}
}

func (n *nester) lead(l loops.Lead) blocks.Lead {
	view := blocks.Lead{Upright: l.Upright(), Back: l.Back, Approach: n.figures.length(l.Distance)}
	view.ApproachX, view.ApproachY, view.ApproachZ = n.figures.vector(l.Along.Scale(l.Distance))
	return view
}

func (n *nester) routine(r *loops.Routine) blocks.Routine {
	open := n.zones(r.Open)
	view := blocks.Routine{
		LoopLine: n.at(r.Place), Name: n.routines[r.Label],
		Picks: r.Verb == loops.Pick || r.Verb == loops.ComePick || r.Verb == loops.BackPick,
		Comes: r.Verb == loops.ComePick || r.Verb == loops.ComePut, Returns: r.Verb == loops.BackPick || r.Verb == loops.BackPut,
		Home: n.home(r.Home), Inside: r.Inside, Opens: r.Opens, OpensFirst: r.OpensFirst, OpenTool: open.Tool, OpenSeveral: open.Several, OpenLast: open.Last,
		Enters: r.Enters, HasEntry: r.Entry != "", Entry: n.ways[r.Entry], Zones: n.zones(r.Zones), Shifted: r.Shifted, FirstTool: n.tool(r.First),
		Lead: n.lead(r.Lead), Above: r.Release > 0, Release: n.figures.length(r.Release),
		TravelSpeed: n.figures.speed(r.Travel), NearSpeed: n.figures.speed(r.Near), Asks: n.asks(r.Asks),
	}
	view.ReleaseX, view.ReleaseY, view.ReleaseZ = n.figures.vector(r.Lead.Along.Scale(r.Release))
	return view
}

func (n *nester) first(s loops.Statement, line blocks.LoopLine) blocks.First {
	f := &s.First
	view := blocks.First{
		Carry: n.carry(s, line), Opens: f.Opens, Zones: n.zones(f.Open), Posed: f.Pose != nil, Passed: n.passed(f.Pose), Lead: n.lead(f.Lead), Speed: n.figures.speed(f.Speed),
	}
	if f.Pose == nil {
		grid := n.tables.Grids[slices.IndexFunc(n.tables.Grids, func(g loops.Grid) bool { return g.Name == s.Grid })]
		view.Frame = numbered(n.frames, grid.FrameNumber, grid.Frame).name
	}
	return view
}

func (n *nester) goes(w *loops.Way, line blocks.LoopLine) blocks.Go {
	return blocks.Go{LoopLine: line, Passed: n.passed(w.Pose), Straight: w.Straight, Framed: w.Framed, First: w.First, Out: w.Out, Speed: n.figures.speed(w.Speed)}
}

func (n *nester) change(c *loops.Change, line blocks.LoopLine) blocks.Switch {
	return blocks.Switch{
		LoopLine: line, Home: n.home(c.Home), From: blocks.NewText(c.From), To: blocks.NewText(c.To), Leaves: c.Leave != "", Leave: n.routines[c.Leave],
		ByHand: c.ByHand != "", Text: blocks.NewText(c.ByHand), Speed: n.figures.speed(c.Near), Tool: n.tool(c.First), Fetches: c.Fetch != "", Fetch: n.routines[c.Fetch], Asks: n.asks(c.Asks),
	}
}
