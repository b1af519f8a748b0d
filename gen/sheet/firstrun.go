package sheet

import (
	"fmt"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// In what a prove-out differs from the job: its sheet says what the prove-out does, and
// lists what it leaves out.

// empty reports whether the run carries no part.
func (j *Job) empty() bool { return j.FirstRun != nil && j.FirstRun.Empty() }

// still reports whether the run leaves the gripper alone.
func (j *Job) still() bool { return j.FirstRun != nil && !j.FirstRun.Grips }

// silent reports whether the run sets no output of the plan's steps and awaits no input.
func (j *Job) silent() bool { return j.FirstRun != nil && !j.FirstRun.Steps }

// speed is how fast the run goes where the plan gives this speed.
func (j *Job) speed(inPlan float64) float64 {
	if j.FirstRun == nil {
		return inPlan
	}
	return j.FirstRun.Slowed(inPlan)
}

// done is those of the plan's steps that the run does.
func (j *Job) done(steps []layout.Step) []layout.Step {
	if !j.silent() {
		return steps
	}
	return slices.DeleteFunc(slices.Clone(steps), func(s layout.Step) bool { return j.FirstRun.LeavesOut(s.Kind, move.Asked, s.Pulse) })
}

// leftOut says what of the plan a prove-out does not do; "" for nothing.
func (j *Job) leftOut() string {
	signals := j.silent() && len(j.otherSignals()) > 0
	switch {
	case signals && j.still():
		return "The gripper is left alone, and so are the outputs and inputs of the plan's steps: those steps are not listed here."
	case signals:
		return "The outputs and inputs of the plan's steps are left alone: those steps are not listed here."
	case j.still():
		return "The gripper is left alone."
	}
	return ""
}

// carriage is how one transfer goes.
func (j *Job) carriage() string {
	by, way := j.Layout.Figures(nil, nil), j.approach()
	over, grip, release, source, destination := "", " grip,", " release,", "the part", "the destination"
	if by.Clear != nil {
		over = fmt.Sprintf(" by way of the pose %s", by.Clear.Name)
	}
	if j.empty() {
		source, destination = "the part's slot", "its destination"
	}
	if j.still() {
		grip, release = "", ""
	}
	height, down := by.Approach.V, way.in+","
	if j.FirstRun != nil && j.FirstRun.Lift > 0 {
		height, down = height+j.FirstRun.Lift, fmt.Sprintf("%s to %s %s it,", way.in, mm(j.FirstRun.Lift), way.off)
	}
	words := fmt.Sprintf("Each transfer: to the point %s %s %s%s, %s%s %s, to the point %s %s%s, %s%s %s.",
		mm(height), way.off, source, over, down, grip, way.out, way.off, destination, over, down, release, way.out)
	if len(j.Layout.AllFigures()) > 1 {
		words += " In what grids and entries differ from that, “Motion” says."
	}
	return words
}

// approachWords are how slots are approached: "straight down" is only said where every grid
// stands upright.
type approachWords struct{ off, in, out string }

func (j *Job) approach() approachWords {
	const level = 0.9998 // cosine of 1 degree
	for _, g := range j.Layout.Grids {
		by := j.Layout.Figures(nil, g)
		if by.Lift(g, g.Slot(0)).Z < level*by.Approach.V {
			return approachWords{"off", "straight in", "straight out"}
		}
	}
	return approachWords{"above", "straight down", "straight up"}
}

// signalWords is what there is to know about the signals of a prove-out.
func (j *Job) signalWords() string {
	switch {
	case j.still() && j.silent():
		return "This prove-out switches none of these outputs and waits for no input: they are listed to be tried by hand."
	case j.still():
		return "This prove-out leaves the gripper's outputs alone: they are listed to be tried by hand."
	case j.silent():
		return "Of these outputs and inputs this prove-out uses those of the gripper only: the others are listed to be tried by hand."
	}
	return ""
}

// kind is what kind of run the sheet is about, as its head and the edges of its paper say
// it: who takes one for another may start the wrong program.
func (j *Job) kind() string {
	switch {
	case j.FirstRun != nil && j.Next > 0:
		return fmt.Sprintf("PROVE-OUT of the job resumed at transfer %d", j.Next)
	case j.FirstRun != nil:
		return "PROVE-OUT"
	case j.Next > 0:
		return fmt.Sprintf("RESUMED JOB from transfer %d", j.Next)
	}
	return "WHOLE JOB"
}

// run is what the sheet is about, as sentences name it.
func (j *Job) run() string {
	switch {
	case j.FirstRun != nil && j.Next > 0:
		return "this prove-out of a resumed job"
	case j.FirstRun != nil:
		return "this prove-out"
	case j.Next > 0:
		return "this resumed job"
	}
	return "the whole job"
}
