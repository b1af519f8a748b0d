package expand

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// fit brings the tool of the present figures onto the flange: at the clear pose the arm leaves
// the other one and fetches this one, as far as they have steps for that. Otherwise it stops
// there, and a person changes the tool.
func (x *expander) fit() bool {
	c := layout.Change{From: x.fitted, To: x.by.Tool}
	if c.From == c.To {
		return true
	}
	if x.zone = 0; !x.leave(nil) || !x.clear(move.ClearFirst) {
		return false
	}
	// The places of the steps are in the cell: all of this rests on the line that names the tool.
	defer x.restOn(x.place)
	x.restOn(x.by.ToolPlace)
	if !x.hereSteps(c.From.Leave, move.LeaveTool) {
		return false
	}
	words := c.ByHand()
	if words != "" && !x.clear(move.ClearFirst) {
		return false
	}
	return x.selectTool(&c, words) && x.hereSteps(c.To.Fetch, move.FetchTool) && x.askAll(false)
}

// selectTool selects the new tool. Words are what a person does there; "" for nothing.
func (x *expander) selectTool(c *layout.Change, words string) bool {
	x.fitted = c.To
	for _, t := range x.l.Tools {
		if t.Beside(c.To) {
			x.grippers[t.Number-1] = unknown
		}
	}
	m := x.choose(firstFrame(c.To.Fetch, x.by.Clear), c.To, move.ChangeTool)
	if m == nil {
		return false
	}
	if words != "" {
		m.ByHand, m.Text, x.byHand = true, words, true
	}
	return true
}

// firstFrame is the frame of the first motion of steps, before one that goes to a pose.
func firstFrame(steps []layout.Step, then *layout.NamedPose) *layout.Frame {
	for i := range steps {
		if steps[i].Kind.IsMotion() {
			return steps[i].Pose.Frame
		}
	}
	return then.Frame
}
