package resume

import (
	"fmt"
	"strings"

	"gridferry/plan"
)

// The most that a file of slots takes up: grids, and bytes of one grid's slots.
const (
	mostGrids = 200
	mostBytes = 4000
)

// SlotsFile is what has to stand where before the resumed job begins, as a file of
// slots (plan.SlotsFormat) that --slots reads, with lines that end in a line feed. A
// grid that would take too much room is left out; a comment says so.
func (s *State) SlotsFile() string {
	var named, left strings.Builder
	for _, g := range s.Grids[:min(len(s.Grids), mostGrids)] {
		if g.Feeder() {
			continue
		}
		if text := Selection(g.Grid, g.Full); len(text) <= mostBytes {
			fmt.Fprintf(&named, "  %s: %s\n", g.Name, text)
		} else {
			fmt.Fprintf(&left, "# not written here, too many single slots: %s\n", g.Name)
		}
	}
	if more := len(s.Grids) - mostGrids; more > 0 {
		fmt.Fprintf(&left, "# not written here: %d grids more\n", more)
	}
	filled := "filled: {}\n"
	if named.Len() > 0 {
		filled = "filled:\n" + named.String()
	}
	return fmt.Sprintf("format: %s\n# transfer %d of %d is next:\n# %s\n", plan.SlotsFormat, s.Transfer, s.Transfers, s.Next()) +
		left.String() + filled + count("removed", s.Removed) + count("added", s.Added)
}

// count is a line of the file, and nothing where nothing is counted.
func count(key string, n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s: %d\n", key, n)
}
