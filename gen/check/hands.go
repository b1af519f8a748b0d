package check

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/solid"
)

// hands is what all grippers of a layout hold: one of a plain tool, one of each zone of others.
type hands struct {
	tools []*layout.Tool
	all   []Gripper // by tool, from 0; that of the one that works is out of date
	works int       // its number
	hang  []hung    // the parts of known size, in the order in which they were taken
	load  int       // of the parts that hang: equal numbers, equal parts held alike; 0 for none
	loads map[loaded]int
}

// hung is a part of known size that hangs in a gripper.
type hung struct {
	tool   *layout.Tool
	part   *layout.Part
	id     *string
	inTool geom.Pose
	number int // as of a gripper
}

// loaded is one part more beside others.
type loaded struct{ load, tool, number int }

func newHands(l *layout.Layout) hands {
	h := hands{tools: l.Tools, all: make([]Gripper, len(l.Tools)), works: 1, loads: map[loaded]int{}}
	if t := l.ToolAt(1); t != nil {
		h.works = t.Number
	}
	if l.Held != nil && l.Held.By != nil {
		h.works = l.Held.By.Number
	}
	return h
}

// work lets another gripper work: now is that of the one that works.
func (h *hands) work(tool int, now *Gripper) {
	if tool != h.works {
		h.all[h.works-1], *now, h.works = *now, h.all[tool-1], tool
	}
}

// takes adds the part in the gripper that works.
func (h *hands) takes(g *Gripper) {
	h.lets() // two in one gripper cannot be, which a rule says
	h.hang = append(h.hang, hung{h.tools[h.works-1], g.Part, g.ID, g.inTool, g.number})
	h.count()
}

// lets takes the part out of the gripper that works.
func (h *hands) lets() {
	tool := h.tools[h.works-1]
	h.hang = slices.DeleteFunc(h.hang, func(p hung) bool { return p.tool == tool })
	h.count()
}

// count settles the number of what hangs.
func (h *hands) count() {
	if h.load = 0; len(h.hang) == 1 && h.hang[0].tool.Zones == nil {
		h.load = h.hang[0].number
		return
	}
	for i := range h.hang {
		now := loaded{h.load, h.hang[i].tool.Number, h.hang[i].number}
		if h.loads[now] == 0 {
			h.loads[now] = -1 - len(h.loads) // no gripper's number is below 0
		}
		h.load = h.loads[now]
	}
}

// holding reports whether a part hangs in the gripper that works, or one of known size in any.
func (s *Scene) holding() bool {
	return s.Gripper.Holds || len(s.hands.hang) > 0
}

// block is the part where the TCP of a tool is at a pose: it may hang in another zone of it.
func (p *hung) block(tool *layout.Tool, tcp *geom.Pose) solid.Solid {
	if p.tool == tool {
		return p.part.Solid(tcp.Mul(p.inTool))
	}
	return p.part.Solid(tcp.Mul(tool.TCP.Inverse()).Mul(p.tool.TCP).Mul(p.inTool))
}

// turnOf is how the gripper that works is turned where the TCP that moved last is at a
// station, and the number of that turn: several zones may be turned each otherwise.
func (s *Scene) turnOf(at *Station) (*geom.Rot, int) {
	works := s.hands.tools[s.hands.works-1]
	if s.carries == nil || works == s.carries || works.TCP.R == s.carries.TCP.R {
		return &at.Turn, at.number
	}
	turn, number := s.turns.of(at.Turn.Mul(s.carries.TCP.R.T()).Mul(works.TCP.R).RPY())
	return &turn, number
}
