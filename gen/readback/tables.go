package readback

import (
	"gridferry/gen/family"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
)

// tables is the entries that a program has to hold of the job's frames and
// tools.
type tables struct {
	judge *judge
	job   *move.Job
	known map[reads.Means]reads.FieldSet
	seen  map[reads.Means]map[int]bool
}

func newTables(f *family.Family, j *judge, job *move.Job) *tables {
	t := &tables{judge: j, job: job, known: map[reads.Means]reads.FieldSet{}, seen: map[reads.Means]map[int]bool{}}
	for _, means := range []reads.Means{reads.MeansFrame, reads.MeansTool} {
		t.known[means], t.seen[means] = kept(f.Reads.CarriesEntry(means)), map[int]bool{}
	}
	return t
}

// entry is what a table says of one frame or tool.
type entry struct {
	means  reads.Means
	number int
	name   string
	used   bool
	want   Values
}

// find is the entry of the job that an item is about.
func (t *tables) find(means reads.Means, number int) (entry, bool) {
	switch {
	case means == reads.MeansFrame && 1 <= number && number <= len(t.job.Frames):
		f := &t.job.Frames[number-1]
		e := entry{means: means, number: number, name: f.Name, used: f.Used}
		putPlace(&e.want, f.Base, t.judge.form.OfEntry())
		return e, true
	case means == reads.MeansTool && 1 <= number && number <= len(t.job.Tools):
		tool := &t.job.Tools[number-1]
		e := entry{means: means, number: number, name: tool.Name, used: tool.Used}
		putPlace(&e.want, tool.TCP, t.judge.form.OfEntry())
		e.want.set(reads.Mass, tool.Mass)
		e.want.put3(reads.CentreX, tool.CentreOfGravity.X, tool.CentreOfGravity.Y, tool.CentreOfGravity.Z)
		return e, true
	}
	return entry{}, false
}

// compare holds an item to the job's entry; false when there is no such entry.
func (t *tables) compare(item *Item) (entry, []Delta, bool) {
	number := int(item.Number[reads.Number])
	e, ok := t.find(item.Means, number)
	if !ok {
		return e, nil, false
	}
	t.seen[item.Means][number] = true
	return e, t.judge.differing(&item.Values, &e.want, t.known[item.Means]), true
}

// missing is the entries that some move needs and no line held.
func (t *tables) missing() []entry {
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

// word is what kind of entry it is.
func (e entry) word() string {
	if e.means == reads.MeansFrame {
		return "frame"
	}
	return "tool"
}
