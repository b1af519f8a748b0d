// Package simulate plays a plan by the words of plan/FORMAT.md: a simulator that shares no code
// with the project but the reader of plans. It knows lists and loops only, keeps everything as a whole,
// and gives all moves in order and what stands where in the end. Tests hold the project to it.
package simulate

import (
	"maps"
	"slices"

	"gridferry/plan"
)

// Job is what a plan does.
type Job struct {
	Moves      []Move
	Start, End map[string]string // slots such as "tray A1" with the part that stands there; a part is called after its first slot
	// Refused is the rule of the first mistake in the plan, and Lines where its entry begins and ends; "" for none.
	Refused string
	Lines   [2]int
	// Wrong is what goes wrong first at a slot while parts are carried; "" for nothing.
	Wrong string
	// Sound is how many moves come before a pick from an empty slot, or all: after it nobody knows what hangs in the tool.
	Sound int
}

// Move is one move of the list.
type Move struct {
	ID                      string // of the part that the transfer carries
	Transfer, Leg, Line     int
	Action, Target          string
	Frame, Tool             string
	FrameNumber, ToolNumber int
	At, Base                Pose // in the frame, in the base
	Speed, FlyBy, Seconds   float64
	Load                    float64
	Centre, Inertia         Vec
	Signal                  int
	Level, GoOn             bool
	Text                    string
	First, Shifts           bool // the first motion; a select with another TCP than before
	AfterHand               bool // the first motion since a person changed the tool
	Pulse, Pause, ByHand    bool
	Zones, Group, Behind    int

	stops bool    // whatever comes next
	round float64 // the fly-by, if it does not stop
	from  Pose    // where a motion began
}

type frame struct {
	name   string
	number int
	pose   Pose // in the base
}

// hand is what takes one part: a tool, or one zone of it.
type hand struct {
	name          string
	number        int
	tcp           Pose // on the flange
	grip, release *plan.Action
	state         string // open, closed, or "" where nobody knows
	part          *held
}

// held is a part in a hand.
type held struct {
	token
	from   string // the slot that it was taken from
	middle Pose   // on the flange
}

type tool struct {
	*plan.Tool
	hands []*hand
	used  int // how many of them the plan works with
}

type namedPose struct {
	name  string
	frame *frame
	pose  Pose // in the base
}

// world is the plan with its names looked up.
type world struct {
	*plan.Plan
	frames  map[string]*frame
	poses   map[string]*namedPose
	tools   map[string]*tool
	grids   map[string]*grid
	entries []*entry
	now     bench
}

// Play works a plan through that was read without a mistake.
func Play(p *plan.Plan) *Job {
	w := look(p)
	job := &Job{Start: w.filled().names(), Wrong: w.hovering()}
	a := &arm{world: w, job: job}
	w.now = w.filled()
	first := a.plan()
	if job.Refused == "" {
		w.now = w.filled()
		a.play(first)
		job.End, job.Moves = w.now.names(), a.moves
		if job.Sound == 0 {
			job.Sound = len(a.moves)
		}
	}
	return job
}

// names is which part stands where.
func (b bench) names() map[string]string {
	names := map[string]string{}
	for at, t := range b {
		names[at] = t.name
	}
	return names
}

func clone(b bench) bench { return maps.Clone(b) }

func look(p *plan.Plan) *world {
	w := &world{Plan: p, frames: map[string]*frame{}, poses: map[string]*namedPose{}, tools: map[string]*tool{}, grids: map[string]*grid{}}
	w.frames["base"] = &frame{"base", 1, Pose{R: unturned}}
	for i, f := range p.Cell.Frames {
		w.frames[f.Name.V] = &frame{f.Name.V, i + 2, w.placed(f)}
	}
	down := RPY(Vec{180, 0, 0})
	for _, q := range p.Cell.Poses {
		f := w.frames[q.Frame.Or("base")]
		w.poses[q.Name.V] = &namedPose{q.Name.V, f, f.pose.mul(written(&q.Pose, down))}
	}
	number := 0
	for _, t := range p.Cell.Tools {
		one := &tool{Tool: t}
		w.tools[t.Name.V] = one
		tcp := written(&t.TCP, unturned)
		add := func(name string, tcp Pose, grip, release *plan.Action) {
			number++
			one.hands = append(one.hands, &hand{name: name, number: number, tcp: tcp, grip: grip, release: release})
		}
		for _, z := range t.Zones {
			add(t.Name.V+" "+z.Name.V, tcp.mul(written(&z.Pose, unturned)), &z.Grip, &z.Release)
		}
		if t.Zones == nil {
			add(t.Name.V, tcp, &t.Grip, &t.Release)
		}
	}
	for _, g := range p.Grids {
		w.grids[g.Name.V] = w.grid(g)
	}
	for _, t := range p.Transfers {
		e := &entry{Transfer: t}
		for i := range t.Stops {
			name, slots, _ := cut(t.Stops[i].Target.V)
			g := w.grids[name]
			e.stops = append(e.stops, stop{g, g.boxes(slots), t.Stops[i].Before, t.Stops[i].Then})
		}
		if t.List != nil {
			w.worklist(e)
		}
		w.entries = append(w.entries, e)
	}
	return w
}

// worklist is an entry whose transfers stand in a file, a line each.
func (w *world) worklist(e *entry) {
	end := func(text string, then []plan.Step) (*stop, []slot) {
		name, label, _ := cut(text)
		s := stop{grid: w.grids[name], then: then}
		if label == "" {
			label = s.grid.label(slot{}) // its only one
		}
		e.stops = append(e.stops, s)
		return &s, []slot{s.grid.boxes(label)[0].lo}
	}
	for _, l := range e.List.Lines[:min(len(e.List.Lines), e.Take.Or(len(e.List.Lines)))] {
		h := haul{note: l.Note.V, id: l.ID.V}
		h.source, h.from = end(l.From.V, nil)
		h.goal, h.to = end(l.To.V, e.Then)
		h.kind = h.source.grid.part
		e.lines = append(e.lines, h)
	}
}

// placed is where a frame is in the base, its parents first.
func (w *world) placed(f *plan.Frame) Pose {
	parent := Pose{R: unturned}
	for _, g := range w.Cell.Frames {
		if g.Name.V == f.Parent.V {
			parent = w.placed(g)
		}
	}
	if f.ThreePoints != nil {
		return parent.mul(threePoints(f.ThreePoints))
	}
	return parent.mul(written(&f.Pose, unturned))
}

func (w *world) grid(p *plan.Grid) *grid {
	g := &grid{Grid: p, frame: w.frames[p.Frame.V], layers: p.Layers.Or(1), missing: map[slot]bool{}, offsets: map[slot]Vec{}}
	g.part = w.part(p.Part.V, nil)
	g.lay()
	for _, text := range p.Missing {
		for _, s := range g.walk(g.boxes(text.V), "by-row", false) {
			g.missing[s] = true
		}
	}
	for _, o := range p.Offsets {
		for _, s := range g.walk(g.boxes(o.Slot.V), "by-row", false) {
			g.offsets[s] = Vec(o.By.V)
		}
	}
	return g
}

// filled is what stands where at the start.
func (w *world) filled() bench {
	now := bench{}
	for _, p := range w.Grids {
		g := w.grids[p.Name.V]
		var slots []slot
		for _, text := range p.Filled.Slots {
			slots = append(slots, g.walk(g.boxes(text.V), "by-row", false)...)
		}
		if p.Filled.All || p.Flow.V == "in" {
			slots = g.walk([]box{g.all()}, "by-row", false)
		}
		for _, s := range slots {
			now[g.name(s)] = token{name: g.name(s)}
		}
		if p.Contents == nil {
			continue
		}
		for _, l := range p.Contents.Lines {
			name := g.name(g.boxes(l.Slot.V)[0].lo)
			now[name] = token{name: name, id: l.ID.V, kind: w.part(l.Part.V, g.part)}
		}
	}
	return now
}

// part is the part of a name, or another one where it has none.
func (w *world) part(name string, otherwise *plan.Part) *plan.Part {
	for _, p := range w.Parts {
		if p.Name.V == name {
			return p
		}
	}
	return otherwise
}

// hovering looks at the parts that stand in upper layers from the start.
func (w *world) hovering() string {
	now := w.filled()
	for _, g := range w.grids {
		for _, s := range g.walk([]box{g.all()}, "by-row", false) {
			if now[g.name(s)].name != "" && !now.bears(g, s) {
				return "no-support"
			}
		}
	}
	return ""
}

// bears reports whether a part can stand in a slot: in the lowest layer, or above another one.
func (b bench) bears(g *grid, s slot) bool {
	below := s
	below.layer--
	return s.layer == 0 || b[g.name(below)].name != ""
}

// figures are what "motion" says of something: the nearest wins, key by key.
type figures struct{ plan.Motion }

func (w *world) ruling(e *entry, g *grid) *figures {
	var f figures
	nearest := []*plan.Motion{&w.Motion}
	if g != nil && g.Motion != nil {
		nearest = slices.Insert(nearest, 0, g.Motion)
	}
	if e != nil && e.Motion != nil {
		nearest = slices.Insert(nearest, 0, e.Motion)
	}
	for _, m := range nearest {
		take(&f.Tool, m.Tool)
		take(&f.Approach, m.Approach)
		take(&f.Travel, m.Travel)
		take(&f.Near, m.Near)
		take(&f.Loaded, m.Loaded)
		take(&f.FlyBy, m.FlyBy)
		take(&f.Clear, m.Clear)
		take(&f.ReleaseAbove, m.ReleaseAbove)
		take(&f.OptionalStop, m.OptionalStop)
		if !f.Along.IsSet() {
			f.Along = m.Along
		}
		if !f.Entry.IsSet() {
			f.Entry = m.Entry
		}
	}
	return &f
}

func take[T interface{ IsSet() bool }](to *T, from T) {
	if !(*to).IsSet() {
		*to = from
	}
}

// Group is the first of the transfers whose parts are carried at once with that of one, and how many
// they are.
func (j *Job) Group(transfer int) (first, together int) {
	first, last := transfer, transfer
	for i := range j.Moves {
		if m := &j.Moves[i]; m.Action == "grip" {
			lo := m.Transfer
			if m.Group > 0 {
				lo = m.Group
			}
			if m.Transfer+m.Behind == transfer {
				first = lo
			}
		}
	}
	for i := range j.Moves {
		if m := &j.Moves[i]; m.Action == "grip" && m.Group == first {
			last = max(last, m.Transfer+m.Behind)
		}
	}
	return first, last - first + 1
}
