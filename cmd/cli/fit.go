package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/fitfile"
	"gridferry/plan"
	"gridferry/plan/unit"
)

const fitHelp = `Fit works out a frame, a tool centre point or a grid from touched points, and
reports how far to trust it: the residual of every point, and how well the
points are spread. Look at both before anything moves.

FILE is YAML with the keys that a cell has for touched points, or a CSV table
whose first line names the columns; - is standard input.

  frame   nominal_x, nominal_y, nominal_z, measured_x, measured_y, measured_z,
          and optionally name: points with known positions in the frame; or
          name, x, y, z with a line each for origin, along_x and toward_y
  tool    x, y, z, roll, pitch, yaw (or x, y, z, qw, qx, qy, qz): poses of the
          flange that all keep the tip on one position
  grid    slot, x, y, z: three or four corner slots

--format yaml prints the lines to put into a cell (or, for a grid, into a plan);
nothing if there are errors.

  gridferry fit frame dock-points.csv --tolerance "0.3 mm"`

func newFit(s *streams) *cobra.Command {
	var request fitfile.Request
	var format string
	c := &cobra.Command{
		Use:       "fit frame|tool|grid FILE",
		Short:     "Fit a frame, a tool or a grid to touched points",
		Long:      fitHelp,
		Args:      arguments(2, 2),
		ValidArgs: fitfile.Kinds,
		RunE: func(_ *cobra.Command, args []string) error {
			request.Kind = args[0]
			return s.fit(request, format, args[1])
		},
	}
	addFormat(c, &format, "the result", "text", "json", "yaml")
	addQuantity(c, &request.Tolerance, unit.Length, "tolerance", "largest residual of a point, such as \"0.3 mm\" (default: that of the file, or 0.5 mm)", someLength)
	addQuantity(c, &request.Touch, unit.Length, "touch-error", "error of one touch (default 0.1 mm)", someLength)
	c.Flags().StringVar(&request.Name, "name", "", "name of the frame, tool or grid (default: that of the file)")
	return c
}

func someLength(v float64) error {
	if v > 0 {
		return nil
	}
	return wanted("a length of more than 0")
}

func (s *streams) fit(request fitfile.Request, format, file string) error {
	if err := oneOf(request.Kind, fitfile.Kinds...); err != nil {
		return fmt.Errorf("what to fit is %q, wanted %w", request.Kind, err)
	}
	if request.Name != "" && !plan.IsName(request.Name) {
		return fmt.Errorf("--name is %q, wanted letters, digits, \"_\" and \"-\"", request.Name)
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return err
	}
	job := new(gen.Job)
	answer := fitfile.Solve(source, request, &job.Findings, &job.Sources)
	if err := s.writeFit(answer, format, job.Findings.HasErrors()); err != nil {
		return err
	}
	return s.report(job)
}

func (s *streams) writeFit(a *fitfile.Answer, format string, wrong bool) error {
	if a == nil || format == "yaml" && wrong {
		return nil
	}
	return s.inForm(format, writers{"text": a.Text, "json": a.JSON, "yaml": a.YAML})
}
