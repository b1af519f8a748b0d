package sheet

import (
	"fmt"
	"strings"

	"gridferry/gen/layout"
	"gridferry/plan/wording"
)

// mostChanges is how many changes of tool are listed one by one.
const mostChanges = 12

// changeWords is which tool has to be on the flange before the start, and when it is changed;
// "" where the run needs one tool.
func (j *Job) changeWords() string {
	if !j.Layout.ChangesTools() {
		return ""
	}
	from := max(j.Next, 1)
	said, more := []string{fmt.Sprintf("%s is on the flange before the start", j.Layout.ToolAt(from).Whole())}, 0
	slow := ""
	for c := range j.Layout.Changes() {
		first, _ := c.Entry.Span()
		if first > from && c.ByHand() != "" {
			slow = " The first motion behind such a stop is slow."
		}
		switch {
		case first <= from:
		case len(said) <= mostChanges:
			said = append(said, fmt.Sprintf("before transfer %d, at %s, %s", first, c.By.Clear.Name, changed(&c)))
		default:
			more++
		}
	}
	if more > 0 {
		said = append(said, wording.Count(more, "more change"))
	}
	return strings.Join(said, "; ") + "." + slow
}

// changed is who changes the tool, and how.
func changed(c *layout.Change) string {
	words := c.ByHand()
	if words == "" {
		return fmt.Sprintf("the arm leaves %s and fetches %s by itself", c.From.Whole(), c.To.Whole())
	}
	return "the program stops until a person has done this: " + words
}
