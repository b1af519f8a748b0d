package order

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"gridferry/gen/layout"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// WriteText writes the proposal as YAML that can stand in the plan in place of
// its "transfers:"; what is to be said about it stands in comments.
func (p *Proposal) WriteText(w io.Writer, plan string) error {
	out := bufio.NewWriter(w)
	what := [...]string{"how far the arm travels between slots", "how long the arm travels between slots, from stop to stop"}[p.By]
	fmt.Fprintf(out, "# %s: %s, up and down not counted\n", diag.Visible(plan), what)
	for i := range p.Entries {
		p.Entries[i].comment(out, p.By)
	}
	if !p.Changed() {
		fmt.Fprintln(out, "#\n# No improvement found: the plan stays as it is.")
		return out.Flush()
	}
	a, b := p.Written, p.Found
	fmt.Fprintf(out, "#\n# The whole job: %.3f %s as written, %.3f %[2]s in the order below, %.1[4]f %% less;\n", a.Length/1000, unit(p.By), b.Length/1000, share(a.Length, b.Length))
	fmt.Fprintf(out, "# with everything else that takes time about %s and %s, %.1f %% less (estimates, see \"gridferry time\").\n",
		wording.Lasts(a.Seconds, p.Waits), wording.Lasts(b.Seconds, p.Waits), share(a.Seconds, b.Seconds))
	fmt.Fprintln(out, "# Parts may go to other slots than before; which slots are emptied and filled stays the same.")
	writeTransfers(out, p.Layout.Entries)
	return out.Flush()
}

// unit is that of a thousand of what a way weighs.
func unit(by layout.Weight) string { return [...]string{"m", "s"}[by] }

func (e *Entry) comment(w io.Writer, by layout.Weight) {
	what := strings.Join(e.Stops, " to ")
	if e.List != "" {
		what = "the worklist " + e.List
	}
	fmt.Fprintf(w, "#\n# line %d: %s, %s\n", e.Place.Line, what, wording.Count(e.Parts, "part"))
	if why := e.why(by); why != "" {
		fmt.Fprintf(w, "#   kept as written: %s\n", why)
		return
	}
	for _, row := range []struct {
		name string
		layout.Travel
	}{{"as written", e.Written}, {"by-row", e.ByRow}, {"by-column", e.ByColumn}, {"serpentine", e.Serpentine}} {
		fmt.Fprintf(w, "#   %-10s %10.3f %s, of which the order below saves %.1f %%\n", row.name, row.Length/1000, unit(by), share(row.Length, e.Found.Length))
	}
	proof := fmt.Sprintf("at most %.1f %% above the %s there can be", e.above(), by.Most())
	if e.Found.Exact {
		proof = "no order is " + by.More()
	}
	fmt.Fprintf(w, "#   %-10s %10.3f %s, %s\n", by.Most(), e.Found.Length/1000, unit(by), proof)
}

// why says in words why an entry keeps its order.
func (e *Entry) why(by layout.Weight) string {
	switch e.Kept {
	case layout.ByClear:
		return fmt.Sprintf("the arm passes the pose %q on every way, so each slot is as far\n"+
			"#   whenever its turn comes, and no order is %s than another", e.Pose, by.More())
	case layout.ByOwnSlots:
		return "it takes from slots, or from layers of a grid, that it also fills"
	case layout.ByNumber:
		return fmt.Sprintf("an order is searched for up to %d slots", layout.MostShortened)
	case layout.ByWork:
		return "the searches for the entries before it have cost as much as those of a plan may"
	case layout.ByList:
		return "its lines are the order"
	case layout.ByGroups:
		return "which parts are carried at once follows from their order"
	case layout.BySequence:
		return "the boxes of a stack are put down and taken in one order only"
	case layout.ByBalance:
		return "its order keeps a ring in balance"
	case layout.ByNoFreeSide:
		return "there is nothing to reorder"
	case layout.NotKept:
	}
	return ""
}

// number writes a number as short as it reads back the same.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
