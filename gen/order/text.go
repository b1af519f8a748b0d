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
	fmt.Fprintf(out, "# %s: how far the arm travels between slots, up and down not counted\n", diag.Visible(plan))
	for i := range p.Entries {
		p.Entries[i].comment(out)
	}
	if !p.Changed() {
		fmt.Fprintln(out, "#\n# No improvement found: the plan stays as it is.")
		return out.Flush()
	}
	a, b := p.Written, p.Shortest
	fmt.Fprintf(out, "#\n# The whole job: %.3f m as written, %.3f m in the order below, %.1f %% less;\n", a.Length/1000, b.Length/1000, share(a.Length, b.Length))
	fmt.Fprintf(out, "# with everything else that takes time about %s and %s, %.1f %% less (estimates, see \"gridferry time\").\n",
		wording.Lasts(a.Seconds, p.Waits), wording.Lasts(b.Seconds, p.Waits), share(a.Seconds, b.Seconds))
	fmt.Fprintln(out, "# Parts may go to other slots than before; which slots are emptied and filled stays the same.")
	writeTransfers(out, p.Layout.Entries)
	return out.Flush()
}

func (e *Entry) comment(w io.Writer) {
	what := strings.Join(e.Stops, " to ")
	if e.List != "" {
		what = "the worklist " + e.List
	}
	fmt.Fprintf(w, "#\n# line %d: %s, %s\n", e.Place.Line, what, wording.Count(e.Parts, "part"))
	if why := e.why(); why != "" {
		fmt.Fprintf(w, "#   kept as written: %s\n", why)
		return
	}
	for _, row := range []struct {
		name string
		layout.Travel
	}{{"as written", e.Written}, {"by-row", e.ByRow}, {"by-column", e.ByColumn}, {"serpentine", e.Serpentine}} {
		fmt.Fprintf(w, "#   %-10s %10.3f m, of which the order below saves %.1f %%\n", row.name, row.Length/1000, share(row.Length, e.Shortest.Length))
	}
	proof := fmt.Sprintf("at most %.1f %% above the shortest there can be", e.above())
	if e.Shortest.Exact {
		proof = "no order is shorter"
	}
	fmt.Fprintf(w, "#   %-10s %10.3f m, %s\n", "shortest", e.Shortest.Length/1000, proof)
}

// why says in words why an entry keeps its order.
func (e *Entry) why() string {
	switch e.Kept {
	case layout.ByClear:
		return fmt.Sprintf("the arm passes the pose %q on every way, so each slot is as far\n"+
			"#   whenever its turn comes, and no order is shorter than another", e.Pose)
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
