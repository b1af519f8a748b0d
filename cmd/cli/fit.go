package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/fitfile"
	"gridferry/plan"
	"gridferry/plan/unit"
)

const fitHelp = `Fit works out a frame, a tool centre point or a grid from points that were touched,
and tells how far they can be trusted: what is left at every point, and how the
points lie to each other. Look at that before anything moves.

FILE is YAML with the keys that a cell has for such points, or a table (CSV) whose
first line names the columns; "-" is standard input.

  frame   nominal_x, nominal_y, nominal_z, measured_x, measured_y, measured_z and
          perhaps name: points whose places in the frame are known; or name, x, y, z
          with one line each for origin, along_x and toward_y
  tool    x, y, z, roll, pitch, yaw (or x, y, z, qw, qx, qy, qz): poses of the flange
          that all hold the tip on one spot
  grid    slot, x, y, z: three or four corners by their labels

--format yaml gives what goes into a cell (or, for a grid, into a plan) as it is;
with an error there is none.`

type fitFlags struct{ format, tolerance, touch, name string }

func newFit(s *streams) *cobra.Command {
	var flags fitFlags
	c := &cobra.Command{
		Use:       "fit frame|tool|grid FILE",
		Short:     "Work out a frame, a tool or a grid from touched points",
		Long:      fitHelp,
		Args:      arguments(2, 2),
		ValidArgs: fitfile.Kinds,
		RunE:      func(_ *cobra.Command, args []string) error { return s.fit(&flags, args[0], args[1]) },
	}
	c.Flags().StringVar(&flags.format, "format", "text", "text, json or yaml")
	c.Flags().StringVar(&flags.tolerance, "tolerance", "", "how far a point may be off, such as \"0.3 mm\" (default: what the file says, or 0.5 mm)")
	c.Flags().StringVar(&flags.touch, "touch-error", "", "how far off one touch may be (default 0.1 mm)")
	c.Flags().StringVar(&flags.name, "name", "", "name of the frame, tool or grid (default: the file's)")
	return c
}

func (s *streams) fit(flags *fitFlags, kind, file string) error {
	request, err := flags.request(kind)
	if err != nil {
		return err
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return err
	}
	job := new(gen.Job)
	answer := fitfile.Solve(source, request, &job.Findings, &job.Sources)
	if err := s.writeFit(answer, flags.format, job.Findings.HasErrors()); err != nil {
		return failure{err}
	}
	return s.report(job)
}

func (s *streams) writeFit(a *fitfile.Answer, format string, wrong bool) error {
	switch {
	case a == nil, format == "yaml" && wrong:
		return nil
	case format == "yaml":
		return a.YAML(s.out)
	case format == "json":
		return a.JSON(s.out)
	default:
		return a.Text(s.out)
	}
}

func (f *fitFlags) request(kind string) (fitfile.Request, error) {
	q := fitfile.Request{Kind: kind, Name: f.name}
	if err := oneOf("what to fit", kind, fitfile.Kinds...); err != nil {
		return q, err
	}
	if err := oneOf("--format", f.format, "text", "json", "yaml"); err != nil {
		return q, err
	}
	if f.name != "" && !plan.IsName(f.name) {
		return q, fmt.Errorf("--name is %q, wanted letters, digits, \"_\" and \"-\"", f.name)
	}
	for _, flag := range []struct {
		name, text string
		dst        *float64
	}{{"--tolerance", f.tolerance, &q.Tolerance}, {"--touch-error", f.touch, &q.Touch}} {
		if flag.text == "" {
			continue
		}
		v, err := unit.Parse(flag.text, unit.Length)
		if err != nil {
			return q, fmt.Errorf("%s: %w", flag.name, err)
		}
		if v <= 0 {
			return q, fmt.Errorf("%s is %s, wanted a length of more than 0", flag.name, flag.text)
		}
		*flag.dst = v
	}
	return q, nil
}
