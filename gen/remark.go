package gen

import "fmt"

// Remarks is what is no finding and still worth a line of its own beside a job without
// errors: what stays behind, of many grids the first. There are none of another run
// than the whole job, which begins or ends elsewhere.
func (j *Job) Remarks() []string {
	const most = 5
	if j.OtherRun() != "" {
		return nil
	}
	var remarks []string
	behind := j.Layout.Behind
	for _, b := range behind[:min(len(behind), most)] {
		parts := fmt.Sprintf("%d parts stay", b.Parts)
		if b.Parts == 1 {
			parts = "1 part stays"
		}
		remarks = append(remarks, fmt.Sprintf("%s:%d: %s in %q, since %q is full", b.Place.File, b.Place.Line, parts, b.From.Name, b.To.Name))
	}
	if more := len(behind) - most; more > 0 {
		remarks = append(remarks, fmt.Sprintf("parts stay in %d more grids, too", more))
	}
	return remarks
}
