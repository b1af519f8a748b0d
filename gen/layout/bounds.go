package layout

import "gridferry/plan/diag"

// What one plan may cost, whatever it says. People's plans cost far less than a hundredth of that.
const (
	// MostLooks is how many slots are looked at while slots are chosen: to count
	// those of a selection that are there, to find a name that is written twice, to
	// find the first ones of a grid that are full, or free.
	MostLooks = 100_000_000
	// MovesPerTransfer is no fewer than the moves of any transfer but the first, its steps and
	// the further outputs, pulses and questions of its gripper not counted: that there are not too many is to be known before they are made. As many
	// moves as that there may be for every transfer of the limit.
	MovesPerTransfer = 20
	// mostLaying is how many looks all layers of boxes together may take, as package pattern counts
	// them: one or two seconds.
	mostLaying = 100_000_000
)

// mostEntryMoves is the most that an entry pose costs a part at a stop: in and out when it comes
// and when it is fetched, and once more each for steps above the slot, each time with a select.
const mostEntryMoves = 12

// movesOf is the most moves that steps are: one that moves the arm may need a select.
func movesOf(steps []Step) int {
	n := len(steps)
	for i := range steps {
		if steps[i].Kind.IsMotion() {
			n++
		}
	}
	return n
}

// look pays for slots that are looked at; false when there were too many, which is
// reported once.
func (r *resolver) look(slots int, at diag.Place) bool {
	before := r.looked
	if r.looked += slots; r.looked > MostLooks && before <= MostLooks {
		r.list.Errorf("too-much-choice", at, "up to here the plan's selections have %d slots looked at one by one, which is as many as may be", MostLooks).
			WithHint("write fewer and smaller selections: an entry that moves many parts costs no more than one that moves a single part")
	}
	return !r.overlooked()
}

func (r *resolver) overlooked() bool { return r.looked > MostLooks }

// sized is how many slots rectangles have, those that are missing too.
func sized(rects []Rect) int {
	n := 0
	for _, r := range rects {
		n += r.size()
	}
	return n
}

// movesWithin bounds the moves that all entries together may make, before any is made.
func (c *chooser) movesWithin(n need) bool {
	perPart, entry := MovesPerTransfer*c.e.perPart(), 0
	for i := range c.e.Stops {
		s := &c.e.Stops[i]
		poses := len(c.r.out.Figures(c.e, s.Grid).Entry)
		entry = max(entry, poses)
		if perPart += movesOf(s.Before) + movesOf(s.Then); c.e.Listed == nil {
			perPart += mostEntryMoves * poses
		}
	}
	if c.e.Listed != nil { // each part is at two of the stops, and may have a note
		perPart += 2*mostEntryMoves*entry + 1
	}
	if t := c.r.out.Figures(c.e, c.e.Stops[0].Grid).Tool; t != nil {
		perPart += t.more() * c.e.perPart()
	}
	if asked := n.parts * perPart; asked > c.r.leftMoves {
		c.r.list.Errorf("too-many-moves", c.e.Stops[n.stop].Place, "this entry makes up to %d moves, %d for each part, but only %d are left of the limit", asked, perPart, c.r.leftMoves).
			WithHint("\"--limit\" raises it; \"take:\" moves fewer parts, and every step under \"then\" is a move for each part, as are further outputs of the gripper")
		return false
	}
	c.r.leftMoves -= n.parts * perPart
	return true
}
