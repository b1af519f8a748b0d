package explain

import "gridferry/gen/move"

// ofFetching is the moves by which a tool is fetched; where a step is numbered, they are not
// told apart.
func ofFetching(c *cast, names []string) func(*move.Move) bool {
	return func(m *move.Move) bool {
		return m.Role == move.FetchTool && c.l.FiguresOf(m).Tool.Name == names[0]
	}
}

// ofLeaving is the moves by which it is left.
func ofLeaving(c *cast, names []string) func(*move.Move) bool {
	return func(m *move.Move) bool { return m.Role == move.LeaveTool && c.before(m).Name == names[0] }
}
