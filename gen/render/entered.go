package render

import (
	"fmt"
	"reflect"
	"strings"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// Entered is a frame or a tool whose figures the program does not hold: a person enters
// them at the controller, and where they are touched anew the program stays as it is.
type Entered struct {
	What    string // "frame" or "tool"
	Number  int    // that the controller knows it by
	Name    string // as the program calls it
	Label   string // as the cell does
	Figures string // as the family would write them
}

// String is what there is to enter, in one line.
func (e *Entered) String() string {
	return fmt.Sprintf("%s %d (%s): %s", e.What, e.Number, e.Label, e.Figures)
}

// ToEnter is the frames, the tools or both that some move of a job selects. The base needs
// no entering.
func ToEnter(f *blocks.Blocks, job move.Job, frames, tools bool) []Entered {
	v := newViewer(f, job)
	var all []Entered
	if frames {
		for i, row := range v.frameTable(job) {
			if row.Used && i > 0 {
				all = append(all, Entered{"frame", row.Number, row.Name, job.Frames[i].Name, v.pose(row.X, row.Y, row.Z, row.Rotation)})
			}
		}
	}
	if tools {
		for i, row := range v.toolTable(job) {
			if job.Tools[i].Selected {
				all = append(all, Entered{"tool", row.Number, row.Name, job.Tools[i].Name, v.pose(row.X, row.Y, row.Z, row.Rotation)})
			}
		}
	}
	return all
}

// pose is a pose in words: the position, then the turns under the names of their fields.
func (v *viewer) pose(x, y, z string, r blocks.Rotation) string {
	turns, fields := []string{}, reflect.ValueOf(r)
	for i := range fields.NumField() {
		if word := fields.Field(i).String(); word != "" {
			turns = append(turns, strings.ToLower(fields.Type().Field(i).Name)+" "+word)
		}
	}
	unit := " " + v.family.Units[rules.Angle].Name
	if r.QW != "" {
		unit = ""
	}
	return fmt.Sprintf("X %s Y %s Z %s %s, %s%s", x, y, z, v.family.Units[rules.Length].Name, strings.Join(turns, " "), unit)
}
