package compare

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// mostLines is how many of a kind are shown to people.
const mostLines = 10

// Print shows people what differs.
func (r *Report) Print(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "first:  %s, %s\n", diag.Visible(r.A), r.count(r.Transfers[0]))
	fmt.Fprintf(out, "second: %s, %s\n", diag.Visible(r.B), r.count(r.Transfers[1]))
	r.runs(out, "only in the first", r.OnlyA)
	r.runs(out, "only in the second", r.OnlyB)
	if r.Reordered > 0 {
		fmt.Fprintf(out, "of these %s in both all the same, only at another time\n", wording.Number(r.Reordered, "is", "are"))
	}
	for i, run := range r.Elsewhere {
		if i == mostLines {
			fmt.Fprintf(out, "goes elsewhere: and %d more\n", together(r.Elsewhere[i:]))
			break
		}
		fmt.Fprintf(out, "goes elsewhere: %s\n", r.goesElsewhere(run))
	}
	axes := " in base coordinates" // said once
	for _, f := range r.Different {
		fmt.Fprintln(out, f.text(axes))
		if f.hasAxes() {
			axes = ""
		}
	}
	for i := range r.Beside {
		if i == mostLines {
			fmt.Fprintf(out, "beside the moves: and %d more\n", r.BesideCount-mostLines)
			break
		}
		fmt.Fprintln(out, r.Beside[i].String())
	}
	for _, e := range r.Controller {
		if e.Differs {
			fmt.Fprintf(out, "at the controller: %s: not the same for both\n", e.Text)
		}
	}
	fmt.Fprintln(out, r.summary())
	return out.Flush()
}

func (r *Report) count(n int) string { return wording.Count(n, r.Word) }

func (r *Report) runs(out io.Writer, where string, runs []*Run) {
	for i, run := range runs {
		if i == mostLines {
			fmt.Fprintf(out, "%s: and %s\n", where, wording.Count(together(runs[i:]), "more "+r.Word))
			return
		}
		fmt.Fprintf(out, "%s: %s\n", where, r.run(run))
	}
}

// run names transfers that one side lacks.
func (r *Report) run(run *Run) string {
	text := run.First.text(r.Word)
	if run.Count > 1 {
		text = fmt.Sprintf("%s, from %s up to %s", r.count(run.Count), text, run.Last.text(r.Word))
	}
	return text + lines(run.First.Line, 0)
}

// goesElsewhere names a transfer that has another destination on the other side.
func (r *Report) goesElsewhere(run *Run) string {
	return fmt.Sprintf("%s, now to %s%s", run.First.text(r.Word), run.Instead.To, lines(run.First.Line, run.Instead.Line))
}

// together is how many transfers there are in runs.
func together(runs []*Run) int {
	n := 0
	for _, run := range runs {
		n += run.Count
	}
	return n
}

// text names a transfer: "transfer 3, tray A3 to rack B1".
func (e End) text(word string) string {
	name := fmt.Sprintf("%s %d", word, e.Transfer)
	if e.Transfer == 0 {
		name = "what is outside of any " + word
	}
	switch {
	case e.From != "" && e.To != "":
		return fmt.Sprintf("%s, %s to %s", name, e.From, e.To)
	case e.From+e.To != "":
		return name + ", " + e.From + e.To
	}
	return name
}

func lines(a, b int) string {
	f := Difference{Lines: [2]int{a, b}}
	return f.lines()
}

func (r *Report) summary() string {
	if r.Equal() {
		return fmt.Sprintf("the same: all %s", r.count(r.Both))
	}
	var facts []string
	say := func(n int, one, more string) {
		if n > 0 {
			facts = append(facts, wording.Number(n, one, more))
		}
	}
	elsewhere := together(r.Elsewhere)
	say(r.Changed, "is not", "are not")
	say(elsewhere, "goes elsewhere", "go elsewhere")
	say(r.Transfers[0]-r.Both, "is only in the first", "are only in the first")
	say(r.Transfers[1]-r.Both, "is only in the second", "are only in the second")
	alike := r.Both - r.Changed - elsewhere
	if len(facts) == 0 && len(r.Different) == 0 {
		where := "at the controller"
		if r.BesideCount > 0 {
			where = "beside the moves"
		}
		return fmt.Sprintf("different %s: all %s are alike", where, r.count(alike))
	}
	if len(facts) == 0 {
		return fmt.Sprintf("different outside of any %s: all %s are alike", r.Word, r.count(alike))
	}
	return fmt.Sprintf("different: %s alike, %s", r.allAre(alike), strings.Join(facts, ", "))
}

// allAre is how many of which are …: "1 transfer is", "no transfer is".
func (r *Report) allAre(n int) string {
	if n == 0 {
		return "no " + r.Word + " is"
	}
	return wording.Number(n, r.Word+" is", r.Word+"s are")
}

// The forms of a report as data.
type (
	reportJSON struct {
		Same        bool             `json:"same"`
		First       sideJSON         `json:"first"`
		Second      sideJSON         `json:"second"`
		Counted     string           `json:"counted"` // "transfer" or "step"
		Both        int              `json:"both"`
		Changed     int              `json:"changed"`
		OnlyFirst   []runJSON        `json:"only_first"`
		OnlySecond  []runJSON        `json:"only_second"`
		Reordered   int              `json:"at_another_time"`
		Elsewhere   []elsewhereJSON  `json:"elsewhere"`
		Differences []differenceJSON `json:"differences"`
		Beside      []besideJSON     `json:"beside"` // lines that no move is read from, the first thousand
		BesideCount int              `json:"beside_count"`
		Controller  []Entry          `json:"controller"`
	}
	besideJSON struct {
		A     string `json:"first,omitempty"`
		B     string `json:"second,omitempty"`
		Lines [2]int `json:"lines"`
		Text  string `json:"text"`
	}
	sideJSON struct {
		Name  string `json:"name"`
		Count int    `json:"count"`
	}
	endJSON struct {
		Transfer int    `json:"number"`
		Line     int    `json:"line,omitempty"`
		From     string `json:"from,omitempty"`
		To       string `json:"to,omitempty"`
	}
	runJSON struct {
		Count int     `json:"count"`
		First endJSON `json:"first"`
		Last  endJSON `json:"last"`
	}
	elsewhereJSON struct {
		Count  int     `json:"count"`
		First  endJSON `json:"first"`
		Second endJSON `json:"second"`
	}
	differenceJSON struct {
		What  string     `json:"what"`
		Name  string     `json:"name"`
		Count int        `json:"count"`
		In    [2]int     `json:"first_in"` // numbers on either side
		Until [2]int     `json:"last_in"`
		Lines [2]int     `json:"lines"`
		Same  bool       `json:"all_alike"`
		A     string     `json:"first,omitempty"`
		B     string     `json:"second,omitempty"`
		Moved *[]float64 `json:"moved,omitempty"` // X, Y, Z in mm in base coordinates, of the first
		Least *float64   `json:"least,omitempty"`
		Most  *float64   `json:"most,omitempty"`
		Text  string     `json:"text"`
	}
)

// JSON gives what differs as data.
func (r *Report) JSON(w io.Writer) error {
	data := reportJSON{
		Same: r.Equal(), First: sideJSON{r.A, r.Transfers[0]}, Second: sideJSON{r.B, r.Transfers[1]}, Counted: r.Word, Both: r.Both, Changed: r.Changed,
		OnlyFirst: runsJSON(r.OnlyA), OnlySecond: runsJSON(r.OnlyB), Reordered: r.Reordered,
		Elsewhere: []elsewhereJSON{}, Differences: []differenceJSON{}, Controller: append([]Entry{}, r.Controller...),
		Beside: []besideJSON{}, BesideCount: r.BesideCount,
	}
	for _, run := range r.Elsewhere {
		data.Elsewhere = append(data.Elsewhere, elsewhereJSON{run.Count, endJSON(run.First), endJSON(run.Instead)})
	}
	for i := range r.Beside {
		d := &r.Beside[i]
		data.Beside = append(data.Beside, besideJSON{d.A, d.B, d.Lines, d.String()})
	}
	for _, f := range r.Different {
		data.Differences = append(data.Differences, f.json())
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(data)
}

func runsJSON(runs []*Run) []runJSON {
	out := []runJSON{}
	for _, r := range runs {
		out = append(out, runJSON{r.Count, endJSON(r.First), endJSON(r.Last)})
	}
	return out
}

func (f *Difference) json() differenceJSON {
	d := differenceJSON{
		What: string(f.What), Name: f.Name, Count: f.Count, In: f.First, Until: f.Last, Lines: f.Lines,
		Same: f.Same, A: f.A, B: f.B, Text: f.Text(),
	}
	switch f.What {
	case Positions:
		d.Moved = &[]float64{f.Way.X, f.Way.Y, f.Way.Z}
		d.Least, d.Most = &f.Min, &f.Max
	case Turns, Speeds, FlyBys, Loads, Centres, Inertias, Times:
		d.Least, d.Most = &f.Min, &f.Max
	case Frames, Tools, Signals, Levels, GoesOn, Texts, Kinds, Rests, OnlyA, OnlyB, IDs: // no amounts
	}
	return d
}
