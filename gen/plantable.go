package gen

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// PlanTable is several plans that were checked: a line for each, and what was found in all.
type PlanTable struct {
	Found   diag.List
	Sources diag.Sources
	Notes   []string // with the name of their plan
	Failed  error    // files that could not be opened

	rows         []planRow
	unlooked     []string       // in the order in which they were met
	unlookedIn   map[string]int // in how many plans
	faulty, read int            // plans with errors, and those that have moves
}

type planRow struct {
	file             string
	errors, warnings int
	counts           *move.Counts // nil where there is no list of moves
}

// Len is how many plans could be opened.
func (t *PlanTable) Len() int { return len(t.rows) }

// Add adds a plan.
func (t *PlanTable) Add(c *Checked) {
	if c.Err != nil {
		t.Failed = alsoFailed(t.Failed, c.Err)
		return
	}
	row := planRow{file: c.File, counts: c.Counts}
	row.errors, row.warnings = tally(c.Found.Sorted())
	if row.errors > 0 {
		t.faulty++
	}
	if c.Counts != nil {
		t.read++
	}
	t.rows = append(t.rows, row)
	t.Found.AddAll(&c.Found)
	t.Sources.AddAll(c.Sources)
	for _, note := range c.Notes {
		t.Notes = append(t.Notes, c.File+": "+note)
	}
	t.unlook(c.Unlooked)
}

// unlook counts what was not looked at.
func (t *PlanTable) unlook(parts []string) {
	if t.unlookedIn == nil {
		t.unlookedIn = map[string]int{}
	}
	for _, part := range parts {
		if t.unlookedIn[part] == 0 {
			t.unlooked = append(t.unlooked, part)
		}
		t.unlookedIn[part]++
	}
}

// NotLookedAt says what was not looked at, and in how many plans where that is not all.
func (t *PlanTable) NotLookedAt() string {
	parts := make([]string, len(t.unlooked))
	for i, part := range t.unlooked {
		if parts[i] = part; t.unlookedIn[part] < t.read {
			parts[i] = fmt.Sprintf("%s in %s", part, wording.Count(t.unlookedIn[part], "plan"))
		}
	}
	return strings.Join(parts, ", ")
}

// Write writes the table.
func (t *PlanTable) Write(w io.Writer) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "plan\terrors\twarnings\ttransfers\tmoves")
	for _, r := range t.rows {
		transfers, moves := "-", "-"
		if r.counts != nil {
			transfers, moves = strconv.Itoa(r.counts.Transfers), strconv.Itoa(r.counts.Moves)
		}
		fmt.Fprintf(table, "%s\t%d\t%d\t%s\t%s\n", diag.Visible(r.file), r.errors, r.warnings, transfers, moves)
	}
	return table.Flush()
}

// Summary says in a line how the plans fared.
func (t *PlanTable) Summary() string {
	plans := wording.Count(len(t.rows), "plan")
	if t.faulty == 0 {
		return plans + ": no error"
	}
	return fmt.Sprintf("%s: %d with errors", plans, t.faulty)
}

// alsoFailed is one more trouble, on the same line.
func alsoFailed(before, err error) error {
	if before == nil {
		return err
	}
	return fmt.Errorf("%w; %w", before, err)
}
