package layout

import "gridferry/plan/diag"

// Behind is parts that stay in a whole grid because a whole grid that they should go to
// is full. Where the plan names slots or a number, what stays is what was asked for.
type Behind struct {
	Place    diag.Place // of the stop that is full
	Parts    int
	From, To *Grid
}

// leaveBehind notes what an entry has no room for; a later one may still move it.
func (c *chooser) leaveBehind(n need) {
	from := &c.e.Stops[0]
	_, noted := c.r.behind[from.Grid]
	limited := n.clipped && n.stop > 0 && !c.t.Take.IsSet()
	if !from.Whole || from.Grid.Feeder() || n.parts == 0 || !noted && !limited {
		return
	}
	switch parts := c.occupied(from) - n.parts; {
	case parts == 0:
		delete(c.r.behind, from.Grid)
	case limited:
		to := &c.e.Stops[n.stop]
		c.r.behind[from.Grid] = Behind{to.Place, parts, from.Grid, to.Grid}
	}
}

// behindAll is what stands behind at the end of the job, in the order of the grids.
func (r *resolver) behindAll(now *occupancy) {
	for _, g := range r.out.Grids {
		if b, some := r.behind[g]; some {
			if b.Parts = min(b.Parts, now.parts[g]); b.Parts > 0 {
				r.out.Behind = append(r.out.Behind, b)
			}
		}
	}
}
