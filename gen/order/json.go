package order

import (
	"encoding/json"
	"io"
	"math"

	"gridferry/gen/layout"
)

// The proposal as data: lengths in mm or, by time, ms; seconds; figures to a thousandth.
type (
	proposalJSON struct {
		Plan     string      `json:"plan"`
		Changed  bool        `json:"changed"`
		Written  wholeJSON   `json:"as_written"`
		Shortest *wholeJSON  `json:"shortest,omitempty"` // by length,
		Quickest *wholeJSON  `json:"quickest,omitempty"` // or by time
		Entries  []entryJSON `json:"entries"`
	}
	wholeJSON struct {
		Travel  float64 `json:"travel"`
		Seconds float64 `json:"seconds"`
	}
	entryJSON struct {
		Line        int      `json:"line"`
		Stops       []string `json:"stops"`
		List        string   `json:"list,omitempty"`
		Parts       int      `json:"parts"`
		Kept        string   `json:"kept,omitempty"` // list, clear, own-slots, number, work, no-free-side, groups, sequence, balance
		Written     float64  `json:"as_written"`
		ByRow       *float64 `json:"by_row,omitempty"`
		ByColumn    *float64 `json:"by_column,omitempty"`
		Serpentine  *float64 `json:"serpentine,omitempty"`
		Shortest    *float64 `json:"shortest,omitempty"`
		Quickest    *float64 `json:"quickest,omitempty"`
		NoneShorter *bool    `json:"exact,omitempty"`
		Least       *float64 `json:"no_order_below,omitempty"`
		Legs        []leg    `json:"legs,omitempty"`
	}
	leg struct {
		From  string   `json:"from"`
		Slots []string `json:"from_slots"`
		To    string   `json:"to"`
		Goals []string `json:"to_slots"`
	}
)

// WriteJSON writes the proposal as data, with the new order as lists of slots.
func (p *Proposal) WriteJSON(w io.Writer, plan string) error {
	out := proposalJSON{Plan: plan, Changed: p.Changed(), Written: p.Written.data(), Entries: []entryJSON{}}
	found := p.Found.data()
	out.Shortest, out.Quickest = either(p.By, &found)
	for i := range p.Entries {
		out.Entries = append(out.Entries, p.Entries[i].data(p.Layout.Entries[i], p.By))
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

func (w Whole) data() wholeJSON { return wholeJSON{fine(w.Length), fine(w.Seconds)} }

// either is what was found, as the shortest or as the quickest.
func either[T any](by layout.Weight, found *T) (shortest, quickest *T) {
	if by == layout.ByTime {
		return nil, found
	}
	return found, nil
}

func (e *Entry) data(now *layout.Entry, by layout.Weight) entryJSON {
	out := entryJSON{Line: e.Place.Line, Stops: e.Stops, List: e.List, Parts: e.Parts, Kept: string(e.Kept), Written: fine(e.Written.Length)}
	if e.Kept != layout.NotKept {
		return out
	}
	out.ByRow, out.ByColumn, out.Serpentine = ref(e.ByRow.Length), ref(e.ByColumn.Length), ref(e.Serpentine.Length)
	out.Shortest, out.Quickest = either(by, ref(e.Found.Length))
	out.Least, out.NoneShorter = ref(e.Found.Least), &e.Found.Exact
	for i := range now.Legs {
		l := &now.Legs[i]
		out.Legs = append(out.Legs, leg{l.From.Grid.Name, labels(&l.From), l.To.Grid.Name, labels(&l.To)})
	}
	return out
}

func ref(v float64) *float64 {
	v = fine(v)
	return &v
}

// fine rounds to a thousandth.
func fine(v float64) float64 { return math.Round(v*1000)/1000 + 0 }
