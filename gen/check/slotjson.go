package check

import (
	"bufio"
	"encoding/json"
	"io"
	"strings"

	"gridferry/plan/diag"
)

// jsonGrid and jsonSlot are a grid as programs read it.
type jsonGrid struct {
	Name    string `json:"name"`
	Rows    int    `json:"rows"`
	Columns int    `json:"columns"`
	Layers  int    `json:"layers"`
	Before  int    `json:"before"` // parts
	After   int    `json:"after"`
}

type jsonSlot struct {
	Slot   string `json:"slot"`
	Before bool   `json:"before"`
	After  bool   `json:"after"`
	First  int32  `json:"first,omitempty"` // transfer
	Last   int32  `json:"last,omitempty"`
	Times  int32  `json:"times,omitempty"` // how many transfers change it
}

// WriteJSON writes one object: "findings" as diag.PrintJSON gives them, "not_looked_at",
// and "grids", each with its "slots", one on a line, missing ones left out.
func (s *Slots) WriteJSON(w io.Writer, findings []diag.Finding) error {
	out := bufio.NewWriter(w)
	out.WriteString("{\"findings\": ")
	var list strings.Builder
	if err := diag.PrintJSON(&list, findings); err != nil {
		return err
	}
	out.WriteString(strings.TrimSpace(list.String()))
	if s.layout != nil {
		unlooked, err := json.Marshal(NotLookedAt(s.layout))
		if err != nil {
			return err
		}
		out.WriteString(",\n\"not_looked_at\": ")
		out.Write(unlooked)
	}
	out.WriteString(",\n\"grids\": [")
	for i, g := range s.Grids {
		if i > 0 {
			out.WriteString(",")
		}
		if err := g.writeJSON(out); err != nil {
			return err
		}
	}
	out.WriteString("\n]}\n")
	return out.Flush() // keeps the first error of all writes above
}

func (g *GridSlots) writeJSON(out *bufio.Writer) error {
	head, err := json.Marshal(jsonGrid{g.Name, g.Rows, g.Columns, g.Layers, count(g.Before, g.Size()), count(g.After, g.Size())})
	if err != nil {
		return err
	}
	out.WriteString("\n")
	out.Write(head[:len(head)-1])
	out.WriteString(",\"slots\":[")
	separator := "\n"
	for i := range g.Size() {
		if g.Missing.Has(i) {
			continue
		}
		one := jsonSlot{Slot: g.Label(g.Slot(i)), Before: g.Before.Has(i), After: g.After.Has(i)}
		if g.First != nil {
			one.First, one.Last, one.Times = g.First[i], g.Last[i], g.Times[i]
		}
		line, err := json.Marshal(one)
		if err != nil {
			return err
		}
		out.WriteString(separator)
		out.Write(line)
		separator = ",\n"
	}
	out.WriteString("]}")
	return nil
}
