package timing

import (
	"fmt"

	"gridferry/plan/wording"
)

// Clock is how long it takes, with the waits and the changes by hand whose length nobody knows.
func (r *Report) Clock() string { return Lasts(r.Seconds, r.Waits.Count, r.Hands) }

// Lasts is a time with the waits, and the changes by hand, that it does not hold.
func Lasts(seconds float64, waits, hands int) string {
	lasts := wording.Lasts(seconds, waits)
	if hands == 0 {
		return lasts
	}
	return lasts + ", and " + byHand(hands)
}

// byHand counts the changes of tool that a person makes.
func byHand(hands int) string { return wording.Count(hands, "change") + " of tool by hand" }

// Assumed says in plain words what the figures rest on.
func (r *Report) Assumed() []string {
	m := &r.Machine
	var said []string
	add := func(format string, args ...any) { said = append(said, fmt.Sprintf(format, args...)) }
	switch {
	case m.Acceleration == 0 && m.Jerk == 0:
		add("the cell does not say \"machine.acceleration\": every motion is counted at constant speed, as if the arm needed no time to speed up or slow down, which is too short")
	case m.Acceleration == 0:
		add("the cell does not say \"machine.acceleration\": only the jerk, %s mm/s3, limits how the speed changes", figure(m.Jerk))
	case m.Jerk == 0:
		add("acceleration %s mm/s2 and no limit on jerk: the speed is a trapezoid, or a triangle on a short way", figure(m.Acceleration))
	default:
		add("acceleration %s mm/s2 and jerk %s mm/s3: the speed is a double S", figure(m.Acceleration), figure(m.Jerk))
	}
	if m.TurnSpeed == 0 && m.TurnAcceleration == 0 {
		add("the cell does not say \"machine.rotation\": a turn takes no longer than the line it goes with")
	} else {
		add("a turn goes along with its line, at most at %s deg/s and %s deg/s2", orNoLimit(m.TurnSpeed), orNoLimit(m.TurnAcceleration))
	}
	corners := "; a fly-by is passed on a parabola inside its radius"
	if r.Program.Stops {
		corners = ""
	}
	travels := "is counted as a straight line at its written speed"
	if m.Joints != nil && m.Joints.Lead {
		travels = "is a way on which all joints go evenly, with the TCP at its written speed on the mean"
	}
	add("every \"travel\" %s%s", travels, corners)
	said = append(said, m.Joints.assumed()...)
	if p := &r.Program; p.Family != "" {
		add("as %q writes it: %s", p.Family, p.inWords(m.Between))
	}
	return said
}

func orNoLimit(v float64) string {
	if v == 0 {
		return "any"
	}
	return figure(v)
}

// inWords is what a family's program makes of fly-bys and speeds.
func (p *Program) inWords(between bool) string {
	text := "fly-bys are passed"
	if between {
		text += " where the next move is a motion, too"
	}
	if p.Stops {
		text = "the arm stops at every point, and no fly-by is passed"
	}
	if p.Rapids {
		return text + "; the controller chooses the speed of travels, which are counted at the plan's"
	}
	return text + ", at the speeds of the program"
}

// LeftOut says in plain words what the figures do not hold.
func (r *Report) LeftOut() []string {
	var said []string
	if r.Starts > 0 {
		said = append(said, "the way to the first point, since nobody knows where the arm stands before it")
	}
	if w := r.Waits; w.Count > 0 {
		said = append(said, w.String())
	}
	if r.Hands > 0 {
		said = append(said, byHand(r.Hands)+", unknown and counted as nothing")
	}
	if r.Turning > 0 {
		said = append(said, fmt.Sprintf("%s on the spot, since the cell does not say \"machine.rotation.speed\"", wording.Count(r.Turning, "turn")))
	}
	joints := "the limits of the single joints, and poses in which a joint has to turn far"
	if r.Machine.Joints != nil {
		joints = "what a joint does in the middle of a straight line, where it may go faster than on the mean of the line; and what the load adds"
	}
	return append(said, joints,
		"the controller's own path between two points, and how it really rounds a corner",
		"the controller's time for each line, for outputs and for communication; speed turned down by hand; people")
}

// String says how much the waits may take.
func (w Waits) String() string {
	text := wording.Count(w.Count, "wait") + " for an input, unknown and counted as nothing"
	switch {
	case w.Endless == w.Count:
		return text + ", without a time-out"
	case w.Endless > 0:
		return fmt.Sprintf("%s (%d without a time-out, the others %s at most)", text, w.Endless, wording.Clock(w.TimeOuts))
	}
	return fmt.Sprintf("%s (%s at most, by their time-outs)", text, wording.Clock(w.TimeOuts))
}
