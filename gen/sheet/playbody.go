package sheet

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// playBox is a box of a tool: opposite corners from the tip on, along the axes of the orientation.
type playBox struct {
	From [3]num  `json:"from"`
	To   [3]num  `json:"to"`
	Open *[3]num `json:"open,omitempty"` // how far it stands from there while the gripper is open
}

// playBoxes are the boxes of every tool, by its number less one; nil where none has any.
func playBoxes(tools []*layout.Tool) [][]playBox {
	var all [][]playBox
	some := false
	for _, t := range tools {
		boxes := []playBox{}
		for i := range t.Body {
			b := &t.Body[i]
			p := playBox{From: nums(b.From), To: nums(b.To)}
			if b.Moves() {
				open := nums(b.Open)
				p.Open = &open
			}
			boxes, some = append(boxes, p), true
		}
		all = append(all, boxes)
	}
	if !some {
		return nil
	}
	return all
}

// axesOf are the X, Y and Z of a tool's boxes in the base, to a millionth, which no box is too long for.
func axesOf(r geom.Rot) *[3][3]float64 {
	var axes [3][3]float64
	for i := range axes {
		c := r.Column(i)
		for k, x := range [3]float64{c.X, c.Y, c.Z} {
			axes[i][k] = math.Round(x*1e6)/1e6 + 0 // + 0 turns -0 into 0
		}
	}
	return &axes
}
