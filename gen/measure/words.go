package measure

import (
	"fmt"
	"strings"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// Figures is the answer as it would be written, with how far the points are off it: in few words, since it is shown
// beside the line of the frame.
func (f *Frame) Figures() string {
	pose := f.Pose()
	said := at(pose.T)
	if turned := pose.R.RPY(); turned != (geom.RPY{}) {
		said += fmt.Sprintf(", rpy: %s", list(turned.Roll, turned.Pitch, turned.Yaw))
	}
	if f.Best != nil {
		return said + "; " + worst(f.Best.Residuals, f.label(f.Best.Worst))
	}
	return said
}

// Figures is the tool centre point, likewise.
func (t *Tool) Figures() string {
	return at(t.Tip) + "; " + worst(t.Residuals, fmt.Sprintf("pose %d", t.Worst+1))
}

// Figures is the pitch that was found, likewise.
func (g *Grid) Figures() string {
	s := &g.Surface
	said := fmt.Sprintf("pitch: %s", list((s.ColPitch[0]+s.ColPitch[1])/2, (s.RowPitch[0]+s.RowPitch[1])/2))
	if len(g.Corners) == 4 {
		said += fmt.Sprintf("; the fourth corner misses by %s mm", fit.Figure(s.Miss.Norm()))
	}
	return said
}

func worst(r fit.Residuals, which string) string {
	return fmt.Sprintf("at most %s, at %s", r.Each[r.Worst].Words(), which)
}

func at(p geom.Vec) string { return "at: " + list(p.X, p.Y, p.Z) }

func list(figures ...float64) string {
	var texts []string
	for _, f := range figures {
		texts = append(texts, fit.Figure(f))
	}
	return "[" + strings.Join(texts, ", ") + "]"
}
