package sheet

import (
	"path"

	"gridferry/gen/draw"
	"gridferry/gen/layout"
)

// stop is what the page needs to say what stands where after a stop: for as many transfers and grids as
// there is room for. What stands where when transfer First is next is in the scene.
type stop struct {
	Plan      string    `json:"plan"` // the file's name
	Family    string    `json:"family"`
	First     int       `json:"first"`
	Transfers int       `json:"transfers"` // of the whole job
	Back      *[2]int   `json:"back"`      // grid and slot of the part that the gripper holds at the start; nil for none
	Removed   int       `json:"removed"`   // parts that people took away before that, and put in
	Added     int       `json:"added"`
	Runs      []run     `json:"runs"`
	Groups    []int     `json:"groups"` // first and last transfer of those whose parts are carried at once
	Lies      [][3]bool `json:"lies"`   // of each grid, as a lie: across, left, up
}

// run is transfers that follow each other, each of them so many slots on: from grid and slot, to grid and
// slot, how many, and the two steps.
type run [7]int

// mostRuns keeps the page small; a job of many whole grids has few.
const mostRuns = 4000

// stop is nil for a run that carries no part.
func (j *Job) stop() *stop {
	if j.empty() {
		return nil
	}
	s := &stop{
		Plan: path.Base(j.Layout.File), Family: j.Family, First: max(1, j.Next), Transfers: j.Layout.Transfers(), Removed: j.Removed, Added: j.Added,
		Runs: []run{}, Groups: groups(j.Layout, mostRuns), Lies: [][3]bool{},
	}
	right, up := draw.Directions(j.Layout)
	number := map[string]int{}
	for i, g := range j.Layout.Grids {
		l := lieOf(g, right, up)
		number[g.Name], s.Lies = i, append(s.Lies, [3]bool{l.across, l.left, l.up})
	}
	if h := j.Layout.Held; h != nil {
		s.Back = &[2]int{number[h.Grid.Name], h.Grid.Index(h.Slot)}
	}
	j.runs(s, number)
	return s
}

// runs follows every part from where it is taken to where it is put.
func (j *Job) runs(s *stop, number map[string]int) {
	taken, put := map[int][2]int{}, map[int][2]int{} // by transfer, while it is under way
	if s.Back != nil {
		taken[s.First] = *s.Back
	}
	next := s.First
	for m := range j.Moves {
		if !m.Takes() && !m.Puts() {
			continue
		}
		n, g := m.Carries(), number[m.Target.Grid]
		at := [2]int{g, j.Layout.Grids[g].Index(m.Target.Slot)}
		if m.Takes() {
			taken[n] = at
			continue
		}
		put[n] = at
		for to, done := put[next]; done; to, done = put[next] { // those of one descent may be put down in any order
			if !s.goOn(taken[next], to) {
				return
			}
			delete(taken, next)
			delete(put, next)
			next++
		}
	}
}

// goOn adds the next transfer; false where there is no room for it.
func (s *stop) goOn(from, to [2]int) bool {
	if n := len(s.Runs); n > 0 && s.Runs[n-1].goesOn(from, to) {
		return true
	}
	if len(s.Runs) == mostRuns {
		return false
	}
	s.Runs = append(s.Runs, run{from[0], from[1], to[0], to[1], 1, 0, 0})
	return true
}

// goesOn takes a transfer into a run, if it is the next of it.
func (r *run) goesOn(from, to [2]int) bool {
	if r[0] != from[0] || r[2] != to[0] {
		return false
	}
	if r[4] == 1 {
		r[5], r[6] = from[1]-r[1], to[1]-r[3]
	}
	if from[1] != r[1]+r[4]*r[5] || to[1] != r[3]+r[4]*r[6] {
		return false
	}
	r[4]++
	return true
}

// groups lists the transfers whose parts are carried at once.
func groups(l *layout.Layout, most int) []int {
	out := []int{}
	for _, e := range l.Entries {
		first, last := e.Span()
		for n := first; n <= last && e.AtOnce > 1 && len(out) < 2*most; {
			from, to := e.Group(n)
			if to > from {
				out = append(out, from, to)
			}
			n = to + 1
		}
	}
	return out
}
