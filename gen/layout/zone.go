package layout

import (
	"iter"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan"
)

// zones puts the zones of a tool into the list, each as a tool of its own, and gives the
// first: where nothing says otherwise, the tool works with that one. Nil for a tool without.
func (r *resolver) zones(t *plan.Tool, of *Tool, numbers *numbers) *Tool {
	var zones []*Tool
	for _, z := range t.Zones {
		pose, ok := r.pose(z.Pose, geom.IdentityRot())
		if !ok {
			return nil
		}
		zone := *of
		zone.Name, zone.Place, zone.Grip, zone.Release = of.Name+" "+z.Name.V, z.Name.Place, action(&z.Grip), action(&z.Release)
		zone.TCP, zone.Body = of.TCP.Mul(pose), seenFrom(of.Body, pose)
		zones = append(zones, r.listed(zone, z.Number, numbers))
	}
	if zones == nil {
		return nil
	}
	for _, z := range zones {
		z.Zones = zones
	}
	return zones[0]
}

// Zone is zone i of a tool, from 0; the tool itself where it has none.
func (t *Tool) Zone(i int) *Tool {
	if t.Zones == nil {
		return t
	}
	return t.Zones[i]
}

// Takes is how many parts the tool can carry at once.
func (t *Tool) Takes() int { return max(1, len(t.Zones)) }

// Beside reports whether two are zones of one tool, or the same tool.
func (t *Tool) Beside(other *Tool) bool {
	return t == other || t.Zones != nil && other.Zones != nil && t.Zones[0] == other.Zones[0]
}

// At is where this TCP stands while that of another zone of the same tool is at a point.
func (t *Tool) At(other *Tool, at move.Point) move.Point {
	if t.TCP == other.TCP {
		return at
	}
	p := geom.Pose{R: at.Rot(), T: at.Vec}.Mul(other.TCP.Inverse()).Mul(t.TCP)
	return move.Point{Vec: p.T, RPY: t.TurnAt(other, at.RPY)}
}

// TurnAt is how this tool is turned while another zone of the same tool is turned so.
func (t *Tool) TurnAt(other *Tool, at geom.RPY) geom.RPY {
	if t == other || t.TCP.R == other.TCP.R {
		return at
	}
	return at.Rot().Mul(other.TCP.R.T()).Mul(t.TCP.R).RPY()
}

// How far a zone may stand off its own slot, where the first is at its slot, for both to be
// picked or placed in one descent.
const (
	ZoneOff    = 0.5 // mm
	ZoneTurned = 0.5 // degrees
)

// InOneDescent reports whether every zone of a tool stands at its own slot of a grid where the
// first one does; the i-th slot is that of the i-th zone.
func (t *Tool) InOneDescent(g *Grid, slots []slot.Slot) bool {
	_, first := g.Points(slots[0])
	for i := 1; i < len(slots); i++ {
		_, own := g.Points(slots[i])
		stands := t.Zone(i).At(t.Zone(0), first)
		if stands.Dist(own.Vec) > ZoneOff || stands.Rot().T().Mul(own.Rot()).Angle() > ZoneTurned {
			return false
		}
	}
	return true
}

// Group is the transfers of the parts that are carried at once with that of one, along one
// leg: a job can be resumed at the first of them.
func (e *Entry) Group(transfer int) (first, last int) {
	if e.Listed != nil {
		return transfer, transfer
	}
	start, _ := e.Span()
	block := e.Parts // whose groups make a leg before those of the next block do
	if e.ByPart {
		block = e.AtOnce
	}
	whole := (transfer - start) / (block * len(e.Legs)) * block * len(e.Legs) // transfers of the blocks before
	block = min(block, e.Parts-whole/len(e.Legs))
	leg := start + whole + (transfer-start-whole)/block*block
	first = leg + (transfer-leg)/e.AtOnce*e.AtOnce
	return first, min(first+e.AtOnce, leg+block) - 1
}

// Along is the numbers of the transfers along a leg, from 0, in the order of its slots.
// Numbers follow the order in which the groups are carried.
func (e *Entry) Along(leg int) iter.Seq[int] {
	return func(yield func(int) bool) {
		first, _ := e.Span()
		for part := range e.Parts {
			n := first + part
			switch {
			case e.Listed == nil:
				n = e.transfer(leg, part)
			case e.Listed.LegOf(part) != leg:
				continue
			}
			if !yield(n) {
				return
			}
		}
	}
}

func (e *Entry) transfer(leg, part int) int {
	start, _ := e.Span()
	if !e.ByPart {
		return start + leg*e.Parts + part
	}
	block := part / e.AtOnce * e.AtOnce
	return start + block*len(e.Legs) + leg*min(e.AtOnce, e.Parts-block) + part - block
}

// groups holds "at_once" to the zones of the tools that work at the stops.
func (c *chooser) groups() bool {
	if c.e.AtOnce == 1 {
		return true
	}
	at := c.t.AtOnce
	for i := range c.e.Stops {
		tool := c.r.out.Figures(c.e, c.e.Stops[i].Grid).Tool
		switch {
		case tool == nil: // that mistake was reported
		case tool.Zones == nil:
			c.r.list.Errorf("no-zones", at.Place, "%d parts are to be carried at once, but the tool %q takes one", at.V, tool.Name).
				WithNote(tool.Place, "the tool stands here").WithHint("give the tool \"zones\" in the cell, each with its own grip and release, or leave \"at_once\" out")
			return false
		case at.V > len(tool.Zones):
			c.r.list.Errorf("too-few-zones", at.Place, "%d parts are to be carried at once, but the tool has %d zones", at.V, len(tool.Zones)).
				WithNote(tool.Place, "the first zone stands here").WithHint("say \"at_once: %d\" or fewer", len(tool.Zones))
			return false
		}
		if c.serves(i) && c.e.Parts > 1 {
			c.r.list.Errorf("single-slot-stop", c.e.Stops[i].Place, "%d parts at once cannot stand in %q, which is a single slot",
				min(at.V, c.e.Parts), c.text(i)).WithHint("leave \"at_once\" out: then each part goes through this stop by itself")
			return false
		}
	}
	return true
}
