package scene

import (
	"strings"

	"gridferry/gen/layout"
)

// Arm is the chain of an arm's joints, as gen/arm has it: with all joints at 0, in the base. What is fixed behind a joint
// goes with the product of the motions of all joints up to it.
type Arm struct {
	At     Vec     `json:"at"` // where it stands
	Joints []Joint `json:"joints"`
	Flange Pose    `json:"flange"`
	Links  []Link  `json:"links"`
	Rods   []Rod   `json:"rods"`
}

// Joint is one axis: readings are mm along it or degrees about it, from Lo to Hi.
type Joint struct {
	Name   string  `json:"name"`
	Slides bool    `json:"slides"`
	Unit   string  `json:"unit"`
	Axis   Axis    `json:"axis"`
	Point  Vec     `json:"point"`
	Lo     Reading `json:"lo"`
	Hi     Reading `json:"hi"`
	Speed  Reading `json:"speed,omitempty"` // mm/s or degrees/s; 0 where not known
}

// Link is a shape behind so many joints: 0 stands still.
type Link struct {
	Behind int `json:"behind"`
	Solid  int `json:"solid"`
}

// Rod is a line behind so many joints, for a link of which nobody says what it fills.
type Rod struct {
	Behind int `json:"behind"`
	From   Vec `json:"from"`
	To     Vec `json:"to"`
}

func (b *builder) arm() {
	a := b.job.Layout.Arm
	if a == nil {
		return
	}
	out := &Arm{At: vecOf(a.Base.T), Flange: poseOf(a.Flange), Links: []Link{}, Rods: rodsOf(a)}
	for i := range a.Joints {
		out.Joints = append(out.Joints, jointOf(a, i))
	}
	for behind, shapes := range a.Shapes {
		for i := range shapes {
			out.Links = append(out.Links, Link{behind, b.solids.link(&shapes[i])})
		}
	}
	b.scene.Arm = out
}

func jointOf(a *layout.Arm, i int) Joint {
	j := &a.Joints[i]
	return Joint{j.Name, j.Slides, strings.TrimSpace(j.Unit()), Axis(vecOf(j.Axis)), vecOf(j.Point), Reading(j.Lo), Reading(j.Hi), Reading(a.Speeds[i])}
}

// rodsOf is the rods of those links of which nobody says what they fill.
func rodsOf(a *layout.Arm) []Rod {
	rods := []Rod{}
	all, _ := a.Rods()
	for _, r := range all {
		if len(a.Shapes[r.Behind]) == 0 {
			rods = append(rods, Rod{r.Behind, vecOf(r.From), vecOf(r.To)})
		}
	}
	return rods
}
