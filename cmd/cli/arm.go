package cli

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/plan"
)

const armHelp = `Arm says what the arm of a cell is, and answers for it. FILE is a cell, or a plan:
then it is about the plan's cell.

Without a question it describes the arm: its class, of every joint the axis, the
range and the speed, its configurations, and how far the joints are off what
"known" says was read off the arm itself.

  --joints "0 -20 15 0 85 0"   where flange and tool are at these readings
  --at "400 0 300 180 0 0"     every way in which the arm gets to a pose: x y z
                               roll pitch yaw, in mm and degrees
  --tool NAME                  the tool whose centre point that pose is
                               (default: the flange itself)
  --reach GRID                 of a plan: how the arm gets to each slot of a
                               grid, at the slot and at its approach point
  --urdf                       the arm as URDF, in metres and radians

A margin is how far the joint that is nearest to an end of its range is from it.
What the links would hit, and what lies between two poses, is not looked at.

  gridferry arm bench.cell.yaml --at "400 0 300 180 0 0"`

type armFlags struct {
	readings, at, tool, reach string
	urdf                      bool
	format                    string
}

func newArm(s *streams) *cobra.Command {
	var flags armFlags
	c := planCommand("arm FILE", "Describe the arm of a cell, and ask it", armHelp, func(file string) error { return s.arm(&flags, file) })
	c.Flags().StringVar(&flags.readings, "joints", "", "readings of all joints, in degrees and mm: say where flange and tool are")
	c.Flags().StringVar(&flags.at, "at", "", "a pose, x y z roll pitch yaw in the base: say how the arm gets there")
	c.Flags().StringVar(&flags.tool, "tool", "", "the tool that --joints and --at are about (default: the flange)")
	c.Flags().StringVar(&flags.reach, "reach", "", "a grid of the plan: say how the arm gets to its slots")
	c.Flags().BoolVar(&flags.urdf, "urdf", false, "write the arm as URDF")
	c.MarkFlagsMutuallyExclusive("joints", "at", "reach", "urdf")
	addFormat(c, &flags.format, "the answer", "text", "json")
	return c
}

func (s *streams) arm(flags *armFlags, file string) error {
	source, err := plan.Open(file, s.in)
	if err != nil {
		return err
	}
	job := new(gen.Job)
	if !job.ReadBench(source) {
		return s.report(job)
	}
	if job.Layout.Arm == nil {
		return errors.New("the cell does not say what its arm is: describe it under \"arm\", as plan/FORMAT.md says")
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.answer(flags, job.Layout)
}

// answer answers what was asked.
func (s *streams) answer(flags *armFlags, l *layout.Layout) error {
	tool, err := toolNamed(l, flags.tool)
	if err != nil {
		return err
	}
	ask := joints.Question{Layout: l, Tool: tool}
	switch {
	case flags.urdf:
		_, err := s.out.Write(layout.WriteURDF(l.Arm))
		return failed(err)
	case flags.readings != "":
		if ask.Readings, err = readings(l.Arm.Arm, flags.readings); err != nil {
			return err
		}
	case flags.at != "":
		if ask.At, err = pose(flags.at); err != nil {
			return err
		}
	case flags.reach != "":
		if ask.Grid, err = gridNamed(l, flags.reach); err != nil {
			return err
		}
	}
	return s.inForm(flags.format, writers{
		"text": func(w io.Writer) error { return ask.WriteText(w) },
		"json": func(w io.Writer) error { return ask.WriteJSON(w) },
	})
}

// toolNamed finds a tool of the cell; nil for no name, and a zone by both its words.
func toolNamed(l *layout.Layout, name string) (*layout.Tool, error) {
	if name == "" {
		return nil, nil
	}
	var names []string
	for _, t := range l.Tools {
		if t.Name == name {
			return t, nil
		}
		names = append(names, t.Name)
	}
	return nil, fmt.Errorf("--tool is %q, wanted %w", name, oneOf(name, names...))
}

// gridNamed finds a grid of the plan.
func gridNamed(l *layout.Layout, name string) (*layout.Grid, error) {
	var names []string
	for _, g := range l.Grids {
		if g.Name == name {
			return g, nil
		}
		names = append(names, g.Name)
	}
	if names == nil {
		return nil, errors.New("a cell has no grids: name a plan for --reach")
	}
	return nil, fmt.Errorf("--reach is %q, wanted %w", name, oneOf(name, names...))
}

// readings reads the values of all joints.
func readings(a *arm.Arm, text string) (*arm.Readings, error) {
	values, err := numbers(text)
	if err == nil && len(values) != len(a.Joints) {
		err = fmt.Errorf("found %d values, wanted %d, one for each joint", len(values), len(a.Joints))
	}
	if err != nil {
		return nil, fmt.Errorf("--joints: %w", err)
	}
	var r arm.Readings
	copy(r[:], values)
	return &r, nil
}

// pose reads x y z roll pitch yaw.
func pose(text string) (*geom.Pose, error) {
	v, err := numbers(text)
	if err == nil && len(v) != 6 {
		err = fmt.Errorf("found %d values, wanted 6: x y z roll pitch yaw, in mm and degrees", len(v))
	}
	if err != nil {
		return nil, fmt.Errorf("--at: %w", err)
	}
	at := geom.At(geom.Vec{X: v[0], Y: v[1], Z: v[2]}, geom.RPY{Roll: v[3], Pitch: v[4], Yaw: v[5]})
	return &at, nil
}

// numbers reads numbers with blanks or commas between them.
func numbers(text string) ([]float64, error) {
	var values []float64
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == ',' || c == '\t' }) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil || !geom.Finite(v) {
			return nil, fmt.Errorf("found %q, wanted a number", word)
		}
		values = append(values, v)
	}
	return values, nil
}
