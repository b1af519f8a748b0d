package sheet

import (
	"fmt"
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/plan/wording"
)

// checks is who checks what before the prove-out. Who they are is for the shop
// to say; the three are what a person has to answer for.
func (j *Job) checks(s *survey) []checkGroup {
	n := 0
	group := func(who, means string, items []item) checkGroup {
		for i := range items {
			n++
			items[i].N = n
		}
		return checkGroup{who, means, items}
	}
	return []checkGroup{
		group("Safety", "who answers for the risk assessment and the guarding", j.safetyChecks()),
		group("Setter", "who sets up the arm and its controller", j.setterChecks(s)),
		group("Operator", "who loads the grids and starts the run", j.operatorChecks(s)),
	}
}

func (j *Job) safetyChecks() []item {
	return []item{
		{What: "The risk assessment covers this arm with this tool, these parts and this job."},
		{What: "Guards and interlocks are in place and were tried today."},
		{What: "The emergency stop was tried today; it can be reached from where the prove-out is watched."},
		{What: "Everybody who takes part has the licence and the instruction that local rules ask for."},
	}
}

func (j *Job) setterChecks(s *survey) []item {
	items := []item{j.programCheck()}
	for _, tool := range j.Layout.UsedTools() {
		items = append(items, toolChecks(tool)...)
	}
	items = append(items, j.loadCheck(s))
	items = append(items, j.frameChecks(s)...)
	for _, tool := range j.Layout.UsedTools() {
		items = append(items, signalChecks(tool)...)
	}
	if n := len(j.otherSignals()); n > 0 {
		items = append(items, item{What: "Every other output and input does what section 7 says, tried one by one", Want: wording.Count(n, "row")})
	}
	if len(j.Layout.Boxes) > 0 {
		items = append(items, item{What: "What is in the way stands where the picture hatches it", Want: wording.Count(len(j.Layout.Boxes), "keep-out box")})
	}
	if j.empty() {
		return append(items, item{What: "At manual reduced speed, step by step, a hand on the emergency stop; every slot is met in a straight line, and nothing is touched on the way", Want: fmt.Sprintf("%d mm/s or less", manualSpeed)})
	}
	return append(items,
		item{What: "Prove-out without parts, at manual reduced speed, step by step, a hand on the emergency stop; every slot is met in a straight line, and nothing is touched on the way", Want: fmt.Sprintf("%d mm/s or less", manualSpeed)},
		item{What: "Prove-out with one part: it is held, lifted clear, and stands in its slot without a push"},
	)
}

func (j *Job) loadCheck(s *survey) item {
	if j.empty() {
		return item{What: "The load stays that of the tool: no part is carried", Want: kg(s.heaviest)}
	}
	return item{What: "The load changes with the part: tool and part together", Want: kg(s.heaviest)}
}

func gravity(t *layout.Tool) string {
	if t.CentreOfGravity == (geom.Vec{}) {
		return "not in the cell: find out"
	}
	return place(t.CentreOfGravity)
}

// mostFrameChecks keeps the list short; the table of frames has them all.
const mostFrameChecks = 6

func (j *Job) frameChecks(s *survey) []item {
	var items []item
	more := 0
	for _, f := range j.Layout.Frames {
		switch {
		case f.Parent == nil || !s.usesFrame(f):
		case len(items) == mostFrameChecks:
			more++
		default:
			items = append(items, item{What: fmt.Sprintf("Frame %s in the controller, mm in the base; %s", f.Name, proof(f)), Want: place(f.Base.T)})
		}
	}
	if more > 0 {
		items = append(items, item{What: "The same for the other frames of section 6", Want: wording.Count(more, "frame")})
	}
	return items
}

// proof is how a frame is shown to be where the cell says.
func proof(f *layout.Frame) string {
	if f.Fit != nil {
		return "its points were touched again and agree (section 5)"
	}
	return "slots in it were driven to and agree (section 5)"
}

func toolChecks(t *layout.Tool) []item {
	items := []item{
		{What: "Tool on the flange, and its mass in the controller", Want: t.Name + ", " + kg(t.Mass)},
		{What: "Its centre of gravity in the controller, mm on the flange", Want: gravity(t)},
		{What: "Its centre point in the controller, mm on the flange; turned about the tip by hand, the tip stays where it is", Want: place(t.TCP.T)},
	}
	if i := t.Inertia; i != (geom.Vec{}) {
		items = append(items, item{What: "Its moments of inertia in the controller, kg·m² about its centre of gravity, along the flange's X, Y, Z", Want: short(i.X, 6) + ", " + short(i.Y, 6) + ", " + short(i.Z, 6)})
	}
	return items
}

func signalChecks(t *layout.Tool) []item {
	items := []item{
		{What: "Switched by hand, the gripper takes hold", Want: actionWords(&t.Grip)},
		{What: "Switched by hand, the gripper lets go", Want: actionWords(&t.Release)},
	}
	if h := t.Grip.Holds; h != nil {
		items = append(items,
			item{What: "With a part in the gripper", Want: fmt.Sprintf("input %d %s", h.Input, wording.Level(h.Level))},
			item{What: "With none, the gripper open and closed", Want: fmt.Sprintf("input %d %s", h.Input, wording.Level(!h.Level))})
	}
	return items
}

// actionWords is the outputs of a grip or a release: "output 1 on, output 2 off, output 3 on for 0.2 s".
func actionWords(a *layout.Action) string {
	var words []string
	for _, s := range a.Sets {
		words = append(words, s.String())
	}
	for _, p := range a.Pulses {
		words = append(words, fmt.Sprintf("output %d on for %s s", p.Output, short(p.Seconds, 3)))
	}
	return strings.Join(words, ", ")
}

func (j *Job) operatorChecks(s *survey) []item {
	var items []item
	for _, g := range j.Slots.Grids {
		if !s.grids[g.Name] {
			continue
		}
		if len(items) == mostGrids {
			items = append(items, item{What: "The other grids stand in their places, filled as the plan says"})
			break
		}
		items = append(items, item{What: fmt.Sprintf("Grid %s stands fast in its place, A1 where the picture shows it, and is filled as section 8 draws it", g.Name), Want: holding(g, g.Before)})
	}
	for _, text := range stepWords(j.done(j.Begin)) {
		items = append(items, item{What: "The plan begins with: " + text})
	}
	items = append(items, item{What: "Nothing else lies in the cell: no tools, cables, lids, hands."})
	if j.empty() {
		return items
	}
	return append(items, item{What: "After the prove-out: every part stands where section 8 draws it."})
}
