package move

// Counts is what one pass over the list finds. See takes the moves in their order.
type Counts struct {
	Moves     int
	Transfers int
	Kind      [NumKinds]int
	Output    int     // the highest output number written
	Input     int     // the highest input number waited for
	Travel    float64 // the fastest travel, mm/s
	Straight  float64 // the fastest straight, mm/s
	ByHand    bool    // a person changes the tool somewhere
	FlyBys    bool    // some point is passed without a stop

	transfer      int    // the last one: those of a resumed job keep their numbers
	frames, tools marked // the numbers of those that are selected
	grippers      marked // the numbers of tools, and of zones, that work
}

// marked is a set of small numbers.
type marked []bool

func (s *marked) mark(number int) {
	for len(*s) <= number {
		*s = append(*s, false)
	}
	(*s)[number] = true
}

func (s marked) has(number int) bool { return 0 <= number && number < len(s) && s[number] }

// UsesFrame and UsesTool report whether some move needs the frame or tool of a number, and SelectsTool whether
// some move goes by where the tool's own TCP is: that of a zone may never be, where it works beside another one.
func (c *Counts) UsesFrame(number int) bool   { return c.frames.has(number) }
func (c *Counts) UsesTool(number int) bool    { return c.tools.has(number) || c.grippers.has(number) }
func (c *Counts) SelectsTool(number int) bool { return c.tools.has(number) }

// Count passes over the list once.
func Count(moves Batches) Counts {
	var c Counts
	for piece := range moves {
		for i := range piece {
			c.See(&piece[i])
		}
	}
	return c
}

// See counts one more move.
func (c *Counts) See(m *Move) {
	c.Moves++
	c.Kind[m.Kind]++
	if last := m.Transfer + max(0, m.Zones-1); last > c.transfer { // those of one descent follow each other
		c.Transfers += last - max(c.transfer, m.Transfer-1)
		c.transfer = last
	}
	switch m.Kind {
	case Select:
		c.frames.mark(m.FrameNumber)
		c.tools.mark(m.ToolNumber)
		c.ByHand = c.ByHand || m.ByHand
	case Travel:
		c.Travel = max(c.Travel, m.Speed)
		c.FlyBys = c.FlyBys || m.FlyBy > 0
	case Straight:
		c.Straight = max(c.Straight, m.Speed)
		c.FlyBys = c.FlyBys || m.FlyBy > 0
	case Grip, Release:
		c.grippers.mark(m.ToolNumber)
		c.Output = max(c.Output, m.Signal)
	case Set:
		c.Output = max(c.Output, m.Signal)
	case Await:
		c.Input = max(c.Input, m.Signal)
	case Dwell, Note:
	}
}
