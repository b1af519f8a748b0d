package proveout

import (
	"fmt"
	"strconv"
)

// Notice is what the head of every program of a first run says.
func (o Options) Notice() string {
	what := "Take every part out of the slots before it runs."
	if !o.Empty() {
		what = "It carries parts."
	}
	return fmt.Sprintf("PROVE-OUT: at most %s mm/s; slots and the points above them %s; %s; %s. %s",
		short(o.Speed), o.lift(), o.gripper(), o.outputs(), what)
}

func (o Options) lift() string {
	if o.Lift == 0 {
		return "NOT lifted"
	}
	return "lifted by " + short(o.Lift) + " mm"
}

func (o Options) gripper() string {
	if o.Grips {
		return "the gripper works"
	}
	return "the gripper is left alone"
}

func (o Options) outputs() string {
	if o.Steps {
		return "outputs are set and inputs awaited"
	}
	return "no other output is set, no input awaited"
}

func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
