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
	"gridferry/gen/draw"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/plan"
)

const armHelp = `Arm says what the arm of a cell is, and answers for it. FILE is a cell, or a plan:
then it is about the plan's cell, whatever else the plan says.

Without a question it describes the arm: its class, of every joint the axis, the
range and the speed, its configurations, and how far the joints are off what
"known" says was read off the arm itself.

  --joints "0 -20 15 0 85 0"   where flange and tool are at these readings
  --at "400 0 300 180 0 0"     every way in which the arm gets to a pose: x y z
                               roll pitch yaw, in mm and degrees
  --tool NAME                  the tool whose centre point that pose is
                               (default: the flange itself)
  --reach GRID                 of a plan: how the arm gets to each slot of a
                               grid, at the slot and at its approach point, with
                               the plan's tool or --tool; with -o FILE.svg as a
                               picture of the grid from above
  --urdf                       the arm as URDF, in metres and radians

A margin is how far the joint that is nearest to an end of its range is from it;
with --reach the least of that, of how far a joint would have to go to lead to a
singular place, and of the room of links and tool to keep-out boxes, a degree
counting as much as two mm. What lies between two poses is not looked at.
An existing picture by Gridferry is replaced, but no other file. --replace
replaces any file, and keeps the old one as NAME.kept-1.

  gridferry arm bench.cell.yaml --at "400 0 300 180 0 0"
  gridferry arm mortar-cubes.plan.yaml --reach tray -o reach.svg`

type armFlags struct {
	readings, at, tool, reach string
	urdf                      bool
	format, scheme            string
	gen.Output
	given func(flag string) bool
}

func newArm(s *streams) *cobra.Command {
	var flags armFlags
	c := planCommand("arm FILE", "Describe the arm of a cell, and ask it", armHelp, func(file string) error { return s.arm(&flags, file) })
	flags.given = c.Flags().Changed
	c.Flags().StringVar(&flags.readings, "joints", "", "readings of all joints, in degrees and mm: say where flange and tool are")
	c.Flags().StringVar(&flags.at, "at", "", "a pose, x y z roll pitch yaw in the base: say how the arm gets there")
	c.Flags().StringVar(&flags.tool, "tool", "", "the tool that is asked about (default: the flange; with --reach the plan's)")
	c.Flags().StringVar(&flags.reach, "reach", "", "a grid of the plan: say how the arm gets to its slots")
	c.Flags().BoolVar(&flags.urdf, "urdf", false, "write the arm as URDF")
	addFormat(c, &flags.format, "the answer", "text", "json")
	c.Flags().StringVarP(&flags.To, "output", "o", "", "with --reach: file for a picture, or - for standard output")
	c.Flags().BoolVar(&flags.Replace, "replace", false, "replace any file of that name; keep it as NAME.kept-1")
	addChoice(c.Flags(), &flags.scheme, "scheme", "colours of the picture: light, dark, or auto for those of the reader's screen", "auto", "light", "dark")
	return c
}

func (s *streams) arm(flags *armFlags, file string) error {
	if err := flags.fit(); err != nil {
		return err
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return err
	}
	job, read := new(gen.Job), (*gen.Job).ReadBench
	if flags.given("reach") {
		if plan.IsCell(source) {
			return errors.New("a cell has no grids: name a plan for --reach")
		}
		read = func(j *gen.Job, source plan.Source) bool { return j.Read(source, nil, layout.Options{}) }
	}
	if !read(job, source) {
		return s.report(job)
	}
	if job.Layout.Arm == nil {
		return errors.New("the cell does not say what its arm is: describe it under \"arm\", as plan/FORMAT.md says")
	}
	ask, err := flags.question(job.Layout)
	if err != nil {
		return err
	}
	if flags.given("output") {
		return s.page(job, gen.Picture, flags.Output, func(w io.Writer) error { return draw.Reach(w, ask, schemes[flags.scheme]) })
	}
	if err := s.report(job); err != nil {
		return err
	}
	if flags.urdf {
		_, err := s.out.Write(layout.WriteURDF(job.Layout.Arm))
		return failed(err)
	}
	return s.inForm(flags.format, writers{"text": ask.WriteText, "json": ask.WriteJSON})
}

// fit refuses flags that go with others that are not there.
func (f *armFlags) fit() error {
	if err := f.together("joints", "at", "reach", "urdf"); err != nil {
		return err
	}
	if err := f.together("urdf", "format", "output"); err != nil {
		return err
	}
	switch {
	case f.given("tool") && !f.given("joints") && !f.given("at") && !f.given("reach"):
		return errors.New("--tool goes with --joints, --at or --reach")
	case f.given("output") && !f.given("reach"):
		return errors.New("-o is for the picture that --reach gives: name a grid with it")
	case !f.given("output") && (f.given("replace") || f.given("scheme")):
		return errors.New("--replace and --scheme are for a picture: name its file with -o")
	case f.given("output"):
		return gen.Picture.Fits(f.To)
	}
	return nil
}

// together refuses several of some flags.
func (f *armFlags) together(flags ...string) error {
	var given []string
	for _, flag := range flags {
		if f.given(flag) {
			given = append(given, "--"+flag)
		}
	}
	return oneAlone(given)
}

// question is what was asked.
func (f *armFlags) question(l *layout.Layout) (ask *joints.Question, err error) {
	ask = &joints.Question{Layout: l}
	if f.given("tool") {
		if ask.Tool, err = named("tool", f.tool, l.Tools, func(t *layout.Tool) string { return t.Name }); err != nil {
			return nil, err
		}
	}
	switch {
	case f.given("joints"):
		ask.Readings, err = readings(l.Arm.Arm, f.readings)
	case f.given("at"):
		ask.At, err = pose(f.at)
	case f.given("reach"):
		ask.Grid, err = named("reach", f.reach, l.Grids, func(g *layout.Grid) string { return g.Name })
	}
	return ask, err
}

// named finds what a flag names; a zone of a tool by both its words.
func named[T any](flag, name string, all []*T, nameOf func(*T) string) (*T, error) {
	var names []string
	for _, one := range all {
		if nameOf(one) == name {
			return one, nil
		}
		names = append(names, nameOf(one))
	}
	return nil, fmt.Errorf("--%s is %q, wanted %w", flag, name, oneOf(name, names...))
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
