package reads

import (
	"maps"
	"slices"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Reads is how a family's own lines read: what family.yaml says under "reads".
// A line is what the first entry says that fits it.
type Reads struct {
	Label   string       // how people asked for the family
	Rules   *rules.Rules // by which its lines are written
	Entries []Entry
	Place   diag.Place // of the key; zero where the family has none

	// Origin is where the block of a kind of move writes a field; the block's own place
	// for NoField, and where it does not write it.
	Origin func(kind move.Kind, f Field) diag.Place
}

// Means is what a line can be.
type Means uint8

// The meanings; the zero value is a line that nothing fits.
const (
	MeansMove  Means = iota + 1
	MeansText        // nothing that a move list knows: a heading, a declaration
	MeansMode        // values that hold from here on
	MeansBegun       // values of the motion that the next line ends
	MeansFrame       // an entry of the table of frames
	MeansTool        // an entry of the table of tools
	MeansPoint       // an entry of the table of points
)

var otherMeanings = map[string]Means{"text": MeansText, "mode": MeansMode, "begun": MeansBegun, "frame": MeansFrame, "tool": MeansTool, "point": MeansPoint}

// The changes that the line of a select can be written for.
const (
	WhenFrame = "frame-changed"
	WhenLoad  = "load-changed"
	WhenTool  = "tool-changed"
	WhenHand  = "by-hand"
)

// Has reports whether the family says how its lines read.
func (r *Reads) Has() bool { return len(r.Entries) > 0 }

// Knows reports whether some entry reads that kind of move.
func (r *Reads) Knows(kind move.Kind) bool {
	return slices.ContainsFunc(r.Entries, func(e Entry) bool { return e.reads(kind) })
}

// Carries is the fields that a kind of move has in the program: on its own
// lines or, for motions, from a mode before.
func (r *Reads) Carries(kind move.Kind) FieldSet {
	return r.carried(func(e *Entry) bool { return e.Means == MeansMode && kind.IsMotion() || e.reads(kind) })
}

// CarriesWhen is the fields of a select's line that is written for one change.
func (r *Reads) CarriesWhen(when string) FieldSet {
	return r.carried(func(e *Entry) bool { return e.reads(move.Select) && e.When == when })
}

// CarriesEntry is the fields that an entry of the tables has: MeansFrame, MeansTool or
// MeansPoint.
func (r *Reads) CarriesEntry(means Means) FieldSet {
	return r.carried(func(e *Entry) bool { return e.Means == means })
}

func (r *Reads) carried(by func(*Entry) bool) FieldSet {
	var carried FieldSet
	for i := range r.Entries {
		if e := &r.Entries[i]; by(e) {
			carried |= e.fields()
		}
	}
	return carried
}

// Whens is the changes that selects are written for, "" among them for any.
func (r *Reads) Whens() []string {
	var whens []string
	for i := range r.Entries {
		if e := &r.Entries[i]; e.reads(move.Select) && !slices.Contains(whens, e.When) {
			whens = append(whens, e.When)
		}
	}
	return whens
}

// Key is the key "reads" of family.yaml, a list of entries.
func (r *Reads) Key() decode.Key {
	spent := 0
	entries := decode.List{What: "how lines read", Each: func() decode.Form {
		e := &Entry{spent: &spent}
		return e.form(func() { r.Entries = append(r.Entries, *e) })
	}}
	return decode.May("reads", "How the family's own lines read; a line is what the first entry says that fits it. See [reading back](#reading-back).",
		decode.At(&r.Place, decode.Then(entries, func(d *decode.Reader, _ decode.Node) {
			if r.checkCost(d.List) {
				r.checkSections(d.List)
			}
		}))).
		Else("programs are not read back, and there is a warning")
}

// WithComma has every entry take figures with a decimal comma. Which mark a family has is
// known only when all of its file is read.
func (r *Reads) WithComma() {
	for i := range r.Entries {
		e := &r.Entries[i]
		e.comma = true
		if e.Line != nil {
			_ = e.build(',') // it was one with a point
		}
	}
}

// checkSections refuses a section that nothing begins.
func (r *Reads) checkSections(list *diag.List) {
	begun := map[string]bool{"": true}
	for i := range r.Entries {
		begun[r.Entries[i].Then] = true
	}
	for i := range r.Entries {
		if e := &r.Entries[i]; !begun[e.Within] {
			list.Errorf("bad-reading", e.Place, "no line begins the section %q", e.Within).Suggest(e.Within,
				slices.Sorted(maps.Keys(begun)), "write \"then\" at the line before it; begun are: ")
		}
	}
}
