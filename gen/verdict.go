package gen

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"gridferry/gen/move"
	"gridferry/gen/seal"
	"gridferry/gen/verify"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Print writes a verdict as text.
func (v *Verdict) Print(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, f := range v.Files {
		for _, line := range f.inWords() {
			fmt.Fprintf(out, "%s: %s\n", diag.Visible(f.Name), line)
		}
	}
	if v.AsText {
		fmt.Fprintln(out, "this family has no readings of its lines, so they are compared as text, without comments")
	}
	for i := range v.controller {
		fmt.Fprintln(out, v.controller[i].line())
	}
	for _, d := range v.Differences {
		printDifference(out, d)
	}
	fmt.Fprintln(out, v.summary())
	return out.Flush()
}

// inWords says what the seal and the line ends show, a line each.
func (s *Sealed) inWords() []string {
	words := []string{s.stateInWords()}
	if s.State != seal.None && !s.PlanSame {
		words = append(words, "the plan, its cell or a setting has changed since then")
	}
	if s.State != seal.None && !s.FamilySame {
		words = append(words, "the family has changed since then")
	}
	if end := s.OtherEnd; end.Line > 0 {
		words = append(words, end.String()+": a controller may take two lines for one or one for two; write the program again, and copy it byte for byte")
	}
	return words
}

func (s *Sealed) stateInWords() string {
	switch {
	case s.State == seal.Whole:
		return "untouched since Gridferry " + s.Seal.Version + " wrote it"
	case s.State == seal.Changed:
		return "changed by hand since Gridferry " + s.Seal.Version + " wrote it"
	case !s.Possible:
		return "no seal: programs of this family carry none, so only the moves show whether something was changed"
	}
	return "no seal: this file was not written by Gridferry, or its seal was removed or changed"
}

func printDifference(out io.Writer, d *verify.Difference) {
	fmt.Fprintf(out, "%s:%d: %s\n", diag.Visible(d.File), d.Line, firstLine(d))
	for _, f := range d.Fields {
		fmt.Fprintf(out, "    %s\n", f.Text)
	}
	for i := range d.Astray {
		fmt.Fprintf(out, "    %s\n", d.Astray[i].String())
	}
	if d.Open {
		fmt.Fprintln(out, "    the comment on this line is not closed, or another one begins in it")
	}
	if d.Given != "" {
		fmt.Fprintf(out, "    program: %s\n", diag.Visible(d.Given))
	}
	if d.Wanted != "" {
		fmt.Fprintf(out, "    plan:    %s\n", diag.Visible(d.Wanted))
	}
	if d.Times > 1 && (d.What == verify.Missing || d.What == verify.Extra) {
		fmt.Fprintf(out, "    and %d more\n", d.Times-1)
	} else if d.Times > 1 {
		fmt.Fprintf(out, "    and %d more like it%s\n", d.Times-1, upTo(d))
	}
}

func upTo(d *verify.Difference) string {
	if d.Last <= d.Move {
		return ""
	}
	return fmt.Sprintf(", up to move %d", d.Last)
}

// firstLine is the first line about a difference.
func firstLine(d *verify.Difference) string {
	move := fmt.Sprintf("move %d (%s, plan line %d)", d.Move, d.Name, d.Place.Line)
	switch {
	case d.What == verify.Changed && d.Move == 0:
		return "a line differs"
	case d.What == verify.Changed:
		return move + " differs"
	case d.What == verify.Missing:
		return move + " is missing after this line"
	case d.What == verify.Extra:
		return "an extra " + d.Name + " that is not in the plan"
	case d.What == verify.Entry && d.Name != "":
		return d.Name + " differs"
	case d.Given == "":
		return "a line is missing after this one"
	case d.Wanted == "":
		return "an extra line"
	}
	return "a line that is no move differs"
}

func (v *Verdict) summary() string {
	as := fmt.Sprintf("all %d moves are as planned", v.planned.Moves)
	if v.AsText {
		as = fmt.Sprintf("all %d lines are as Gridferry would write them now", v.Lines)
	}
	if v.Same() {
		return "the same: " + as + v.without()
	}
	if v.Report.Same() {
		return "different: " + as + ", but " + strings.Join(v.besideLines(), ", and ")
	}
	var parts []string
	for _, p := range []struct {
		n    int
		word string
	}{{v.Changed, "changed"}, {v.Missing, "missing"}, {v.Extra, "extra"}} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.word))
		}
	}
	text := "different"
	if len(parts) > 0 {
		text += fmt.Sprintf(": of %d moves %s", v.planned.Moves, strings.Join(parts, ", "))
	}
	switch v.Others {
	case 0:
		return text
	case 1:
		return text + "; 1 " + v.other() + "line"
	}
	return text + fmt.Sprintf("; %d %slines", v.Others, v.other())
}

// besideLines is what differs where every line says what it should.
func (v *Verdict) besideLines() []string {
	var differs []string
	if changed := changedEntries(v.controller); changed > 0 {
		differs = append(differs, wording.Number(changed, "entry at the controller is not as it was", "entries at the controller are not as they were"))
	}
	if v.otherEnds() {
		differs = append(differs, "not all lines end as the family's do")
	}
	return differs
}

// without says which moves no line of the program was compared with: "; not compared: 2 note".
func (v *Verdict) without() string {
	if v.AsText {
		return ""
	}
	var kinds []string
	compared := v.Compared
	if lines := compared[move.Straight] - v.planned.Kind[move.Straight]; lines > 0 { // travels that had to be written as lines
		compared[move.Travel] += lines
	}
	for _, kind := range move.Kinds {
		if n := v.planned.Kind[kind] - compared[kind]; n > 0 {
			kinds = append(kinds, fmt.Sprintf("%d %s", n, kind))
		}
	}
	if kinds == nil {
		return ""
	}
	return "; not compared: " + strings.Join(kinds, ", ")
}

// other sets lines apart from moves, where there are moves.
func (v *Verdict) other() string {
	if v.AsText {
		return ""
	}
	return "other "
}

// The forms of a verdict as data.
type (
	verdictJSON struct {
		Same        bool             `json:"same"`
		AsText      bool             `json:"as_text"`
		Files       []sealJSON       `json:"files"`
		Controller  []enteredJSON    `json:"controller"`
		Moves       int              `json:"moves"`    // of the plan, as "check" counts them
		Compared    int              `json:"compared"` // that lines of the program say
		Changed     int              `json:"changed"`
		Missing     int              `json:"missing"`
		Extra       int              `json:"extra"`
		Other       int              `json:"other"`
		Differences []differenceJSON `json:"differences"`
	}
	enteredJSON struct {
		What    string `json:"what"` // frame, tool
		Number  int    `json:"number"`
		Name    string `json:"name"`
		Figures string `json:"figures"`
		Changed bool   `json:"changed"` // since the program was written
	}
	sealJSON struct {
		File       string `json:"file"`
		Seal       string `json:"seal"` // none, untouched, changed
		Version    string `json:"version,omitempty"`
		PlanSame   *bool  `json:"plan_same,omitempty"`
		FamilySame *bool  `json:"family_same,omitempty"`
		OtherEnd   int    `json:"other_end,omitempty"` // the first line that does not end as the family's do
	}
	differenceJSON struct {
		What     string      `json:"what"`
		Times    int         `json:"times"`
		File     string      `json:"file,omitempty"`
		Line     int         `json:"line"`
		Move     int         `json:"move,omitempty"`
		Last     int         `json:"last_move,omitempty"`
		Name     string      `json:"name,omitempty"`
		PlanFile string      `json:"plan_file,omitempty"`
		PlanLine int         `json:"plan_line,omitempty"`
		Fields   []fieldJSON `json:"fields,omitempty"`
		Astray   []string    `json:"astray,omitempty"` // what a lost selection does to the points behind it
		Program  string      `json:"program,omitempty"`
		Wanted   string      `json:"wanted,omitempty"`
	}
	fieldJSON struct {
		Field   string   `json:"field"`
		Unit    string   `json:"unit,omitempty"`
		Plan    *float64 `json:"plan,omitempty"`
		Program *float64 `json:"program,omitempty"`
		Text    string   `json:"text"`
	}
)

// JSON writes a verdict as data.
func (v *Verdict) JSON(w io.Writer) error {
	data := verdictJSON{
		Same: v.Same(), AsText: v.AsText, Moves: v.planned.Moves, Compared: v.Moves, Changed: v.Changed, Missing: v.Missing, Extra: v.Extra, Other: v.Others,
		Files: []sealJSON{}, Controller: enteredAsJSON(v.controller), Differences: []differenceJSON{},
	}
	for _, f := range v.Files {
		s := sealJSON{File: f.Name, Seal: [...]string{seal.None: "none", seal.Whole: "untouched", seal.Changed: "changed"}[f.State], OtherEnd: f.OtherEnd.Line}
		if f.State != seal.None {
			s.Version, s.PlanSame, s.FamilySame = f.Seal.Version, &f.PlanSame, &f.FamilySame
		}
		data.Files = append(data.Files, s)
	}
	for _, d := range v.Differences {
		data.Differences = append(data.Differences, asJSON(d))
	}
	return writeJSON(w, data)
}

func enteredAsJSON(all []atController) []enteredJSON {
	data := []enteredJSON{}
	for _, a := range all {
		data = append(data, enteredJSON{a.What, a.Number, a.Label, a.Figures, a.Changed})
	}
	return data
}

func asJSON(d *verify.Difference) differenceJSON {
	out := differenceJSON{
		What: string(d.What), Times: d.Times, File: d.File, Line: d.Line, Move: d.Move, Last: d.Last, Name: d.Name,
		PlanFile: d.Place.File, PlanLine: d.Place.Line, Program: d.Given, Wanted: d.Wanted,
	}
	for i := range d.Astray {
		out.Astray = append(out.Astray, d.Astray[i].String())
	}
	for _, f := range d.Fields {
		out.Fields = append(out.Fields, fieldJSON{f.Name, f.Unit, f.Plan, f.Program, f.Text})
	}
	return out
}
