package proveout

import (
	"fmt"
	"strconv"
	"strings"

	"gridferry/plan/lazy"
)

// Notice is what the head of every program of a prove-out says. Of a tool on a straight line
// it is known how fast it goes; on a travel that is the controller's.
func (o Options) Notice(lines bool) string {
	what := "Take every part out of the slots before it runs."
	if !o.Empty() {
		what = "It carries parts."
	}
	return fmt.Sprintf("PROVE-OUT: a quarter of the speeds in the plan, at most %s mm/s%s; slots and the points above them %s; %s; %s. %s",
		short(o.Speed), onTravels(lines), o.lift(), o.gripper(), o.outputs(), what)
}

func onTravels(lines bool) string {
	if lines {
		return ""
	}
	return " as written, but how fast the tool itself goes on a travel is the controller's"
}

// Brief is what a picture says of a prove-out.
func (o Options) Brief() string {
	return fmt.Sprintf("prove-out, at most %s mm/s as written, %s", short(o.Speed), o.lift())
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
	if o.Grips {
		return "no other output is set, no other input awaited"
	}
	return "no other output is set, no input awaited"
}

func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// notice is Notice with whatever characters a family's comments have in place of others.
var notice = lazy.Regexp(`(?i)\bPROVE\WOUT\b.*?\bat most ([0-9.]+) mm\Ws\b.{0,120}?\bslots and the points above them (?:NOT lifted|lifted by ([0-9.]+) mm)\W+` +
	`the gripper (works|is left alone)\W+(no other output|outputs are set)`)

// ReadNotice finds in the comments of a program, one blank between words, what Notice
// wrote there; false where it wrote nothing.
func ReadNotice(remarks string) (Options, bool) {
	m := notice().FindStringSubmatch(remarks)
	if m == nil {
		return Options{}, false
	}
	o := Options{Grips: strings.EqualFold(m[3], "works"), Steps: strings.EqualFold(m[4], "outputs are set")}
	var err error
	if o.Speed, err = strconv.ParseFloat(m[1], 64); err != nil {
		return Options{}, false
	}
	if m[2] != "" {
		o.Lift, err = strconv.ParseFloat(m[2], 64)
	}
	return o, err == nil
}
