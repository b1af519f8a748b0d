package timing

import (
	"encoding/json"
	"io"
	"math"
)

// The report as data. Times are seconds, ways are mm; both to a thousandth,
// which is far finer than the estimate.
type (
	reportJSON struct {
		Plan         string       `json:"plan"`
		Family       string       `json:"family,omitempty"` // whose program this is the time of
		Estimate     bool         `json:"estimate"`         // always true: a reminder where only the figures are read
		Seconds      float64      `json:"seconds"`
		Parts        int          `json:"parts"`
		Transfers    int          `json:"transfers"`
		Moves        int          `json:"moves"`
		PartsPerHour float64      `json:"parts_per_hour"`
		Distance     float64      `json:"distance"`
		Outside      float64      `json:"outside_transfers"`
		Waits        waitsJSON    `json:"waits"`
		Kinds        []kindJSON   `json:"kinds"`
		Legs         []legJSON    `json:"legs"`
		Slowest      []moveJSON   `json:"slowest"`
		Limits       []limitJSON  `json:"limits,omitempty"` // the TCP first; not there without an arm
		Changes      []changeJSON `json:"changes"`
		Assumed      []string     `json:"assumed"`
		LeftOut      []string     `json:"left_out"`
	}
	waitsJSON struct {
		Count          int     `json:"count"`
		WithoutTimeOut int     `json:"without_time_out"`
		TimeOuts       float64 `json:"time_outs"`
	}
	kindJSON struct {
		Kind    string  `json:"kind"`
		Moves   int     `json:"moves"`
		Seconds float64 `json:"seconds"`
	}
	legJSON struct {
		Line      int     `json:"line"`
		Leg       int     `json:"leg"`
		From      string  `json:"from"`
		To        string  `json:"to"`
		Transfers int     `json:"transfers"`
		Mean      float64 `json:"mean"`
		Least     float64 `json:"least"`
		Most      float64 `json:"most"`
		Spread    float64 `json:"spread"`
		Quickest  int     `json:"quickest_transfer"`
		Slowest   int     `json:"slowest_transfer"`
		Joint     string  `json:"limit,omitempty"` // the joint that slows its motions down for the longest time
	}
	moveJSON struct {
		N        int     `json:"n"`
		Transfer int     `json:"transfer"`
		Action   string  `json:"action"`
		Target   string  `json:"target,omitempty"`
		Seconds  float64 `json:"seconds"`
		Distance float64 `json:"distance"`
		Turn     float64 `json:"turn"`
		Line     int     `json:"line"`
		Joint    string  `json:"limit,omitempty"`
	}
	limitJSON struct {
		Joint     string  `json:"joint,omitempty"` // none: what plan and cell say of the TCP
		Travels   int     `json:"travels"`
		Straights int     `json:"straights"`
		Seconds   float64 `json:"seconds"`
	}
	changeJSON struct {
		What string  `json:"what"`
		Less float64 `json:"ten_percent_less"`
		More float64 `json:"ten_percent_more"`
		Note string  `json:"note,omitempty"`
	}
)

// WriteJSON writes the report as data.
func (r *Report) WriteJSON(w io.Writer, plan string) error {
	out := reportJSON{
		Plan: plan, Family: r.Program.Family, Estimate: true, Seconds: fine(r.Seconds), Parts: r.Parts, Transfers: r.Transfers, Moves: r.Moves,
		PartsPerHour: fine(r.PartsPerHour()), Distance: fine(r.Distance), Outside: fine(r.Outside),
		Waits: waitsJSON{r.Waits.Count, r.Waits.Endless, fine(r.Waits.TimeOuts)},
		Kinds: []kindJSON{}, Legs: []legJSON{}, Slowest: []moveJSON{}, Changes: []changeJSON{},
		Assumed: r.Assumed(), LeftOut: r.LeftOut(),
	}
	for _, k := range r.Kinds {
		out.Kinds = append(out.Kinds, kindJSON{k.Kind.String(), k.Count, fine(k.Seconds)})
	}
	for _, l := range r.Legs {
		out.Legs = append(out.Legs, legJSON{l.Line, l.Leg, l.From, l.To, l.Transfers, fine(l.Mean), fine(l.Least), fine(l.Most), fine(l.Spread), l.Quickest, l.Slowest, l.Joint})
	}
	for i := range r.Slowest {
		t := &r.Slowest[i]
		m := &t.Move
		out.Slowest = append(out.Slowest, moveJSON{m.N, m.Transfer, m.Kind.String(), m.Target.String(), fine(t.Seconds), fine(t.Length), fine(t.Turn), m.Line(), t.Joint})
	}
	for _, l := range r.Limits {
		out.Limits = append(out.Limits, limitJSON{l.Joint, l.Travels, l.Straights, fine(l.Seconds)})
	}
	for _, c := range r.Changes {
		out.Changes = append(out.Changes, changeJSON{c.What, fine(c.Less), fine(c.More), c.Note})
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

// fine rounds to a thousandth, and never to -0.
func fine(v float64) float64 { return math.Round(v*1000)/1000 + 0 }
