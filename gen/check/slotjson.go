package check

import (
	"bufio"
	"encoding/json"
	"io"
	"math"
	"strings"

	"gridferry/gen/layout"
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

// stackJSON is a stack of boxes, or several on one footprint, as programs read it.
type stackJSON struct {
	Grids    []string   `json:"grids"`
	PerLayer int        `json:"boxes_per_layer,omitempty"`
	Layers   int        `json:"layers,omitempty"`
	Boxes    int        `json:"boxes"`
	Share    *float64   `json:"footprint_share,omitempty"`
	Height   float64    `json:"height"`            // mm
	Mass     float64    `json:"mass"`              // kg
	Centre   [3]float64 `json:"centre_of_gravity"` // mm from the corner of the footprint
	Rests    *float64   `json:"least_support,omitempty"`
	Tied     *int       `json:"on_several,omitempty"`
	Through  *float64   `json:"joints_through,omitempty"` // a share
}

func stacksJSON(l *layout.Layout) []stackJSON {
	out, all := []stackJSON{}, Stacks(l)
	for i := range all {
		s := &all[i]
		one := s.asJSON()
		one.Grids, one.PerLayer, one.Layers, one.Share = []string{s.Grid.Name}, s.Grid.PerLayer(), s.Grid.Layers, micro(s.Share)
		if s.On != nil {
			tied := s.On.Tied()
			one.Rests, one.Tied = micro(s.On.Least()), &tied
			if s.On.Joints > 0 {
				one.Through = micro(s.On.Through / s.On.Joints)
			}
		}
		out = append(out, one)
	}
	together := Together(all)
	for i := range together {
		one := together[i].asJSON()
		one.Grids = together[i].names
		out = append(out, one)
	}
	return out
}

func (s *Stacked) asJSON() stackJSON {
	c := s.Centre
	return stackJSON{Boxes: s.boxes, Height: *micro(s.Height), Mass: *micro(s.Mass), Centre: [3]float64{*micro(c.X), *micro(c.Y), *micro(c.Z)}}
}

// micro is a figure to six decimals.
func micro(x float64) *float64 {
	x = math.Round(x*1e6)/1e6 + 0
	return &x
}

// WriteJSON writes one object: "findings" as diag.PrintJSON gives them, "not_looked_at",
// "stacks" of boxes, and "grids", each with its "slots", one on a line, missing ones left out.
func (s *Slots) WriteJSON(w io.Writer, findings []diag.Finding) error {
	out := bufio.NewWriter(w)
	out.WriteString("{\"findings\": ")
	var list strings.Builder
	if err := diag.PrintJSON(&list, findings); err != nil {
		return err
	}
	out.WriteString(strings.TrimSpace(list.String()))
	if s.layout != nil {
		unlooked, err := json.Marshal(append([]string{}, NotLookedAt(s.layout)...)) // never null
		if err != nil {
			return err
		}
		stacks, err := json.Marshal(stacksJSON(s.layout))
		if err != nil {
			return err
		}
		out.WriteString(",\n\"not_looked_at\": ")
		out.Write(unlooked)
		out.WriteString(",\n\"stacks\": ")
		out.Write(stacks)
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
