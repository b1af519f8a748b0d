package explain

import (
	"fmt"
	"slices"
	"strconv"
)

// past is why a resumed job may hold no move for a thing in the plan that the whole job
// has moves for: they were made before. "" where that is no reason.
func (c *cast) past(path []string, j *Job) string {
	switch {
	case j.From == 0 || len(path) == 0:
		return ""
	case path[0] == "begin" && !j.Begin:
		return fmt.Sprintf("the beginning is over before transfer %d, with which this run begins", j.From)
	case path[0] == "transfers" && len(path) > 1:
		return c.pastEntry(path, j.From)
	}
	return ""
}

// pastEntry is past for an entry of the transfers or something in it.
func (c *cast) pastEntry(path []string, from int) string {
	n, _ := strconv.Atoi(path[1]) // the outline counts them
	if n < 1 || n > len(c.l.Entries) || c.l.Entries[n-1].Parts == 0 {
		return ""
	}
	first, last := c.l.Entries[n-1].Span()
	switch {
	case last < from:
		return fmt.Sprintf("entry %d is over before transfer %d, with which this run begins, so that nothing of it is left", n, from)
	case first <= from && !slices.Contains(path, "then"): // a prove-out may leave out steps as well
		return fmt.Sprintf("what entry %d does there is done before this run, which begins with transfer %d", n, from)
	}
	return ""
}
