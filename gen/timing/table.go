package timing

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"math"

	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// WriteTable writes the report for people.
func (r *Report) WriteTable(w io.Writer, plan string) error {
	out := bufio.NewWriter(w)
	r.head(out, plan)
	r.kindTable(out)
	r.legTable(out)
	r.slowTable(out)
	r.limitTable(out)
	r.changeTable(out)
	list(out, "Assumptions", r.Assumed())
	list(out, "Not included", r.LeftOut())
	return out.Flush()
}

func (r *Report) head(w io.Writer, plan string) {
	fmt.Fprintf(w, "%s: about %s (an estimate)\n", diag.Visible(plan), r.Clock())
	if r.Parts == 0 {
		fmt.Fprintf(w, "%s, no part is carried, %.1f m travelled\n", wording.Count(r.Transfers, "transfer"), r.Distance/1000)
		return
	}
	fmt.Fprintf(w, "%s in %s, %s, %.1f m travelled\n", wording.Count(r.Parts, "part"), wording.Count(r.Transfers, "transfer"),
		r.Rate(), r.Distance/1000)
	if limiting := r.Limiting(); limiting != "" {
		fmt.Fprintln(w, limiting)
	}
}

func (r *Report) kindTable(w io.Writer) {
	rows := grid{sides: "<>>>"}
	rows.add("kind", "moves", "seconds", "share")
	for _, k := range r.Kinds {
		seconds, part := fmt.Sprintf("%.1f", k.Seconds), fmt.Sprintf("%.1f %%", share(k.Seconds, r.Seconds))
		if k.Kind == move.Await {
			seconds, part = "unknown", ""
		}
		rows.add(k.Kind.String(), fmt.Sprint(k.Count), seconds, part)
	}
	rows.write(w, "By kind of move")
}

func share(part, whole float64) float64 {
	if whole == 0 {
		return 0
	}
	return part / whole * 100
}

// mostLegs keeps a plan with a thousand entries on a few screens.
const mostLegs = 40

func (r *Report) legTable(w io.Writer) {
	rows := grid{sides: ">><<>>>>>>><"}
	rows.add(r.limited("limit", "line", "leg", "from", "to", "transfers", "mean", "quickest", "(which)", "slowest", "(which)", "spread")...)
	for _, l := range r.Legs[:min(len(r.Legs), mostLegs)] {
		rows.add(r.limited(cmp.Or(l.Joint, tcp), fmt.Sprint(l.Line), fmt.Sprint(l.Leg), l.From, l.To, fmt.Sprint(l.Transfers), fmt.Sprintf("%.2f", l.Mean),
			fmt.Sprintf("%.2f", l.Least), fmt.Sprint(l.Quickest), fmt.Sprintf("%.2f", l.Most), fmt.Sprint(l.Slowest), fmt.Sprintf("%.2f", l.Spread))...)
	}
	rows.write(w, "By transfer, in seconds")
	if more := len(r.Legs) - mostLegs; more > 0 {
		fmt.Fprintf(w, "  and %d more like these; \"--format csv\" gives every transfer\n", more)
	}
	if r.Outside > 0 {
		fmt.Fprintf(w, "  outside any transfer: %s\n", wording.Clock(r.Outside))
	}
}

// limited is the cells of a row, with what limits it behind them where some joint limits anything.
func (r *Report) limited(by string, cells ...string) []string {
	if !r.slowed() {
		return cells
	}
	return append(cells, by)
}

func (r *Report) limitTable(w io.Writer) {
	if !r.slowed() {
		return
	}
	rows := grid{sides: "<>>>>"}
	rows.add("limit", "travels", "straights", "seconds", "share")
	for _, l := range r.Limits {
		rows.add(cmp.Or(l.Joint, tcp), fmt.Sprint(l.Travels), fmt.Sprint(l.Straights), fmt.Sprintf("%.1f", l.Seconds), fmt.Sprintf("%.1f %%", share(l.Seconds, r.Seconds)))
	}
	rows.write(w, "What limits the motions")
}

func (r *Report) slowTable(w io.Writer) {
	if len(r.Slowest) == 0 {
		return
	}
	rows := grid{sides: ">><>>><"}
	rows.add(r.limited("limit", "n", "transfer", "motion", "seconds", "mm", "degrees")...)
	for i := range r.Slowest {
		t := &r.Slowest[i]
		rows.add(r.limited(cmp.Or(t.Joint, tcp), fmt.Sprint(t.Move.N), fmt.Sprint(t.Move.Transfer), t.name(), fmt.Sprintf("%.2f", t.Seconds),
			fmt.Sprintf("%.0f", t.Length), fmt.Sprintf("%.0f", t.Turn))...)
	}
	rows.write(w, "The slowest motions")
}

// name is the move in a few words: "travel to rack A1 approach".
func (t *Slow) name() string {
	return t.Move.Kind.String() + " to " + t.Move.Target.String()
}

func (r *Report) changeTable(w io.Writer) {
	if len(r.Changes) == 0 {
		return
	}
	rows := grid{sides: "<>>"}
	rows.add("change", "10 % less", "10 % more")
	for _, c := range r.Changes {
		rows.add(c.What, signed(c.Less), signed(c.More))
	}
	rows.write(w, "What a change would do to the whole, in seconds")
	for _, c := range r.Changes {
		if c.Note != "" {
			fmt.Fprintf(w, "  %s: %s\n", c.What, c.Note)
		}
	}
}

// signed is a difference with its sign, and no sign where there is none. It is given in
// tenths of a second, halves away from 0, of whole milliseconds: what is as much more as
// it is less looks so, too, whatever the last bits of two long sums are.
func signed(v float64) string {
	tenths := math.Round(math.Round(v*1000) / 100)
	if tenths == 0 {
		return "0.0"
	}
	return fmt.Sprintf("%+.1f", tenths/10)
}

func list(w io.Writer, title string, items []string) {
	fmt.Fprintf(w, "\n%s\n", title)
	for _, item := range items {
		for i, line := range wording.Wrap(item, 96) {
			bullet := "  - "
			if i > 0 {
				bullet = "    "
			}
			fmt.Fprintf(w, "%s%s\n", bullet, line)
		}
	}
}
