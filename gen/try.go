package gen

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"gridferry/gen/family"
	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/gen/render"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// Trial is a plan as a family writes it, for the authors of the family.
type Trial struct {
	Text   string       `json:"text"`
	Blocks []TrialBlock `json:"blocks"`

	// NotCompared is what reading back does not compare.
	NotCompared []TrialUnread `json:"not_compared,omitempty"`
}

// TrialUnread is the fields of one kind of move that are not compared.
type TrialUnread struct {
	Kind   string   `json:"kind"`
	Fields []string `json:"fields"`
}

// TrialBlock is the use of one block.
type TrialBlock struct {
	Name  string `json:"block"`
	State string `json:"state"` // "written", "not reached", "cannot", "left out"
	Times int    `json:"times"` // how often it was written
	Why   string `json:"why,omitempty"`
}

// mostTrial is a bound on the text, which is for people to read.
const mostTrial = 1 << 20

// ReadTryPlan reads the plan for trials, which has every kind of move.
func (j *Job) ReadTryPlan() bool {
	return j.Read(plan.Source{File: templates.TryName, Data: templates.TryPlan}, nil, layout.Options{Slots: layout.DefaultSlots})
}

// try writes the plan, counts how often each block is used, and reads the text back.
func (p *program) try(every bool) (Trial, error) {
	j, f := p.job, p.family
	times := map[string]int{}
	moves := j.Moves()
	if every {
		moves = possible(f, moves)
	}
	var text bytes.Buffer
	head := p.head()
	f.WarnFrames(&j.Findings)
	before := j.Findings.Len()
	err := render.ProgramWith(&text, f.Blocks, head, move.Batched(moves), &j.Findings, render.Options{
		MostBytes: mostTrial,
		Loops:     p.loops(),
		Used:      func(block string) { times[block]++ },
	})
	if err == nil && j.Findings.Len() == before {
		readTrial(f, &head, moves, text.Bytes(), every, &j.Findings)
	}
	if !j.Findings.HasErrors() {
		f.WarnUnread(&j.Findings) // an error says as much
	}
	t := Trial{Text: text.String()}
	for _, b := range blocks.List(&f.Rules) {
		t.Blocks = append(t.Blocks, blockOf(f, b.Name, times[b.Name]))
	}
	for _, u := range f.NotCompared() {
		unread := TrialUnread{Kind: u.Kind.String()}
		for _, field := range u.Fields {
			unread.Fields = append(unread.Fields, field.String())
		}
		t.NotCompared = append(t.NotCompared, unread)
	}
	return t, err
}

// readTrial reads a trial back, so that an author sees early where a template does not
// say what the move is.
func readTrial(f *family.Family, head *move.Job, moves move.Seq, text []byte, own bool, list *diag.List) {
	if !f.Reads.Has() {
		return
	}
	c := readback.NewChecker(&f.Reads, head, move.Batched(moves), list, nil)
	if own {
		c.OfTrial()
	}
	c.NextFile()
	_, _ = c.Write(text) // it holds no error
	c.Close()
}

func blockOf(f *family.Family, name string, times int) TrialBlock {
	b := TrialBlock{Name: name, Times: times}
	reason, writes := f.WritesBlock(name)
	switch {
	case times > 0:
		b.State = "written"
	case writes:
		b.State = "not reached"
	case f.Cannot[name] != "":
		b.State, b.Why = "cannot", reason
	default:
		b.State = "left out"
	}
	return b
}

// possible leaves out the moves that the family has no block for.
func possible(f *family.Family, moves move.Seq) move.Seq {
	return func(yield func(move.Move) bool) {
		for m := range moves {
			if _, ok := f.WritesBlock(rules.Change); m.ByHand && !ok {
				m.ByHand = false // what comes behind it needs the select all the same
			}
			if _, ok := f.WritesBlock(rules.BlockOf(&m)); ok && !yield(m) {
				return
			}
		}
	}
}

// PrintBlocks lists the blocks with their use, and what reading back does not compare.
func (t *Trial) PrintBlocks(to io.Writer) {
	w := tabwriter.NewWriter(to, 0, 0, 2, ' ', 0)
	for _, b := range t.Blocks {
		switch b.State {
		case "written":
			fmt.Fprintf(w, "block %s\twritten %s\n", b.Name, times(b.Times))
		case "cannot":
			fmt.Fprintf(w, "block %s\tcannot: %s\n", b.Name, b.Why)
		case "not reached":
			fmt.Fprintf(w, "block %s\tnot used: no move of this plan needs it\n", b.Name)
		default:
			fmt.Fprintf(w, "block %s\tnot written (optional)\n", b.Name)
		}
	}
	w.Flush()
	for _, u := range t.NotCompared {
		is := "is"
		if len(u.Fields) > 1 {
			is = "are"
		}
		fmt.Fprintf(to, "%s: %s %s not compared\n", u.Kind, strings.Join(u.Fields, ", "), is)
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// JSON writes the trial as data.
func (t *Trial) JSON(w io.Writer) error { return writeJSON(w, t) }

// writeJSON writes a value as indented JSON.
func writeJSON(w io.Writer, value any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(value)
}
