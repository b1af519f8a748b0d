package joints

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// describe says what the arm of a layout is.
func describe(w io.Writer, l *layout.Layout) error {
	a := l.Arm
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "%s\n", a.Class())
	fmt.Fprintf(t, "joint\tdoes\tthrough\trange\tspeed\n")
	for i, j := range a.Joints {
		does, through := "turns about", vectorText(j.Point)
		if j.Slides {
			does, through = "slides along", "-"
		}
		speed := "not known"
		if s := a.Speeds[i]; s > 0 {
			speed = figure(s) + j.Unit() + "/s"
		}
		fmt.Fprintf(t, "%s\t%s %s\t%s\t%s to %s%s\t%s\n", j.Name, does, direction(j.Axis), through, figure(j.Lo), figure(j.Hi), j.Unit(), speed)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "flange, with all joints at 0: %s\n", poseText(a.Flange))
	if all := arm.Texts(a.Configurations()); len(all) > 0 {
		fmt.Fprintf(w, "configurations: %s\n", strings.Join(all, ", "))
	}
	return known(w, a)
}

// known says how far off the joints are from what was read off the arm itself.
func known(w io.Writer, a *layout.Arm) error {
	if len(a.Known) == 0 {
		_, err := fmt.Fprintln(w, "known readings: none; nothing holds these joints to the arm itself")
		return err
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "known readings\tline\toff\tturned off\n")
	for _, k := range a.Known {
		fmt.Fprintf(t, "%s\t%d\t%.3f mm\t%.3f°\n", readingsText(a.Arm, &k.Readings), k.Place.Line, k.Way, k.Turn)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "allowed are %s mm and %s°\n", figure(a.Tolerance), figure(a.Turned))
	return err
}

// writePose says where flange and tool are at some readings; tool is nil for none.
func writePose(w io.Writer, l *layout.Layout, r *arm.Readings, tool *layout.Tool) error {
	flange := l.Arm.Pose(*r)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "flange\t%s\n", poseText(flange))
	if tool != nil {
		fmt.Fprintf(t, "%s\t%s\n", tool.Name, poseText(flange.Mul(tool.TCP)))
	}
	if words, _ := l.Arm.Configuration(*r); words != 0 {
		fmt.Fprintf(t, "configuration\t%s\n", words)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for i := range l.Arm.Joints {
		if j := &l.Arm.Joints[i]; j.Margin(r[i]) < 0 {
			if _, err := fmt.Fprintf(w, "%s is %s%s outside of its range of %s to %s%s\n", j.Name, figure(-j.Margin(r[i])), j.Unit(), figure(j.Lo), figure(j.Hi), j.Unit()); err != nil {
				return err
			}
		}
	}
	return nil
}

// writeStands says in how many ways the arm gets to a pose, off degrees off it.
func writeStands(w io.Writer, l *layout.Layout, stands []Stand, off float64) error {
	switch {
	case off > MostTilt:
		_, err := fmt.Fprintf(w, "the arm cannot turn so: the nearest that it can is %.2f° off\n", off)
		return err
	case len(stands) == 0:
		_, err := fmt.Fprintln(w, "the arm does not get there, whatever its joints do")
		return err
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, j := range l.Arm.Joints {
		fmt.Fprintf(t, "%*s\t", readingWidth, j.Name)
	}
	words := stands[0].Configuration != 0
	if words {
		fmt.Fprintf(t, "configuration\t")
	}
	fmt.Fprintf(t, "margin\n")
	for _, s := range stands {
		for i := range l.Arm.Joints {
			fmt.Fprintf(t, "%*.3f\t", readingWidth, tidy(s.Readings[i]))
		}
		if words {
			fmt.Fprintf(t, "%s\t", s.Configuration)
		}
		fmt.Fprintf(t, "%s\n", marginText(l.Arm.Arm, &s))
	}
	if off > 0.0005 {
		fmt.Fprintf(t, "turned %.3f° off what was asked for, which is as near as this arm can turn\n", off)
	}
	return t.Flush()
}

// readingWidth is that of a reading with three decimals.
const readingWidth = 8

// marginText says how far the joint is from the end of its range that is nearest to one.
func marginText(a *arm.Arm, s *Stand) string {
	j := &a.Joints[s.Joint]
	text := fmt.Sprintf("%.1f%s (%s)", s.Margin, j.Unit(), j.Name)
	if s.Margin < 0 {
		text = fmt.Sprintf("%s %.1f%s outside", j.Name, -s.Margin, j.Unit())
	}
	if s.Free != 0 {
		text += ", singular: " + wording.List(freeNames(a, s.Free), arm.MaxJoints) + " may turn against each other"
	}
	return text
}

// freeNames is the joints that may be turned against each other.
func freeNames(a *arm.Arm, free uint8) (names []string) {
	for i, j := range a.Joints {
		if free>>i&1 == 1 {
			names = append(names, j.Name)
		}
	}
	return names
}

// writeReach says how the arm gets to the slots of a grid.
func writeReach(w io.Writer, l *layout.Layout, g *layout.Grid, all *Reach) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	if fmt.Fprint(t, "slot\tmargin\tto"); len(l.Arm.Configurations()) > 0 {
		fmt.Fprint(t, "\tconfigurations, the best first")
	}
	fmt.Fprintln(t)
	reached := 0
	for i := range all.Slots {
		at := &all.Slots[i]
		if !at.Reached {
			fmt.Fprintf(t, "%s\tnot reached\n", at.Label)
			continue
		}
		reached++
		fmt.Fprintf(t, "%s\t%s\t%s", at.Label, all.Figure(at.Least), all.To(at.Least))
		if at.Best != 0 {
			fmt.Fprintf(t, "\t%s", strings.Join(at.inOrder(), ", "))
		}
		fmt.Fprintln(t)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "reached by %q, at the slot and at its approach point: %d of %s of %q\n", all.By.Tool.Name, reached, wording.Count(len(all.Slots), "slot"), g.Name)
	return err
}

// inOrder is the configurations in which a slot is reached, the best first; none of an arm without words.
func (at *At) inOrder() (texts []string) {
	for _, c := range at.Configurations {
		switch {
		case c == 0:
		case c == at.Best:
			texts = slices.Insert(texts, 0, c.String())
		default:
			texts = append(texts, c.String())
		}
	}
	return texts
}

func poseText(p geom.Pose) string {
	at := move.Point{Vec: p.T, RPY: p.R.RPY()}
	return fmt.Sprintf("%s, rpy %s %s %s", vectorText(at.Vec), figure(at.Roll), figure(at.Pitch), figure(at.Yaw))
}

func vectorText(v geom.Vec) string { return figure(v.X) + " " + figure(v.Y) + " " + figure(v.Z) }

func direction(v geom.Vec) string { return "[" + vectorText(v) + "]" }

func readingsText(a *arm.Arm, r *arm.Readings) string {
	var texts []string
	for i := range a.Joints {
		texts = append(texts, figure(r[i]))
	}
	return strings.Join(texts, " ")
}

// figure writes a number with at most three decimals.
func figure(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.3f", tidy(v)), "0"), ".")
}

// tidy rounds to what is shown, so that "-0.000" never is.
func tidy(v float64) float64 {
	if v > -0.0005 && v < 0.0005 {
		return 0
	}
	return v
}
