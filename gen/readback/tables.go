package readback

import (
	"fmt"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
)

// Tables is the entries that a program has to hold of the job's frames and
// tools.
type Tables struct {
	judge *Judge
	job   *move.Job
	known map[reads.Means]reads.FieldSet
	seen  map[reads.Means]map[int]bool
}

// NewTables returns the entries of a job, of which none was met yet.
func NewTables(r *reads.Reads, j *Judge, job *move.Job) *Tables {
	t := &Tables{judge: j, job: job, known: map[reads.Means]reads.FieldSet{}, seen: map[reads.Means]map[int]bool{}}
	for _, means := range []reads.Means{reads.MeansFrame, reads.MeansTool} {
		t.known[means], t.seen[means] = r.CarriesEntry(means).Kept(), map[int]bool{}
	}
	return t
}

// entry is what a table says of one frame or tool.
type entry struct {
	means  reads.Means
	number int
	name   string
	used   bool
	want   reads.Values
}

// find is the entry of the job that an item is about.
func (t *Tables) find(means reads.Means, number int) (entry, bool) {
	switch {
	case means == reads.MeansFrame && 1 <= number && number <= len(t.job.Frames):
		f := &t.job.Frames[number-1]
		e := entry{means: means, number: number, name: f.Name, used: f.Used}
		putPlace(&e.want, f.Base, t.judge.rules.Rotation.OfEntry())
		return e, true
	case means == reads.MeansTool && 1 <= number && number <= len(t.job.Tools):
		tool := &t.job.Tools[number-1]
		e := entry{means: means, number: number, name: tool.Name, used: tool.Used}
		putPlace(&e.want, tool.TCP, t.judge.rules.Rotation.OfEntry())
		e.want.Set(reads.Mass, tool.Mass)
		e.want.Put3(reads.CentreX, tool.CentreOfGravity.X, tool.CentreOfGravity.Y, tool.CentreOfGravity.Z)
		e.want.Put3(reads.InertiaX, tool.Inertia.X, tool.Inertia.Y, tool.Inertia.Z)
		return e, true
	}
	return entry{}, false
}

// Compare holds an item to the job's entry; false when there is no such entry.
func (t *Tables) Compare(item *reads.Item) (entry, []Delta, bool) {
	number := int(item.Number[reads.Number])
	e, ok := t.find(item.Means, number)
	if !ok {
		return e, nil, false
	}
	t.seen[item.Means][number] = true
	return e, t.judge.Differing(&item.Values, &e.want, t.known[item.Means]), true
}

// missing is the entries that some move needs and no line held.
func (t *Tables) missing() []entry {
	var missing []entry
	for _, means := range []reads.Means{reads.MeansFrame, reads.MeansTool} {
		for number := 1; t.known[means] != 0; number++ {
			e, ok := t.find(means, number)
			if !ok {
				break
			}
			if e.used && !t.seen[means][number] {
				missing = append(missing, e)
			}
		}
	}
	return missing
}

// Name is what the cell calls the frame or the tool that a field has as its number; "" for
// other fields, and for none.
func (t *Tables) Name(f reads.Field, number float64) string {
	means, is := map[reads.Field]reads.Means{reads.Frame: reads.MeansFrame, reads.Tool: reads.MeansTool}[f]
	if !is {
		return ""
	}
	e, _ := t.find(means, int(number))
	return e.name
}

// String is an entry as messages name it: frame "bath".
func (e entry) String() string {
	if e.means == reads.MeansFrame {
		return fmt.Sprintf("frame %q", e.name)
	}
	return fmt.Sprintf("tool %q", e.name)
}
