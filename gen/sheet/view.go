package sheet

import (
	"html/template"

	"gridferry/gen/margin"
	"gridferry/gen/scene"
	"gridferry/plan/wording"
)

// view is what the page's template prints: texts that are ready, nothing to
// count or to decide.
type view struct {
	Policy        string
	Style         template.CSS
	Script        template.JS
	Data          template.JS
	Picture       template.HTML
	Title         string
	Kind          string
	Files         table
	Plan, Cell    string
	Digest        string
	Version       string
	Family        string
	ToEnter       []string
	Parts         bool
	Bound         *scene.Moves
	Notices       []string
	Summary       []string
	Begin, End    []string
	Entries       table
	Cautions      []string
	Watch         []fact
	Findings      []finding
	Checks        []checkGroup
	Touched       []touched
	Spots         []spots
	Frames        table
	Tools         table
	Parted        table
	Signals       table
	SignalWords   string
	Run           string
	Motion        []fact
	Stand         string
	Stops         bool
	Maps          []gridMap
	MapsLeft      string
	Margins       []marginMap
	Bands         []bandSign
	MarginWords   []string
	Named         table
	Clock         string
	TimeFacts     []fact
	Legs          table
	Assumed, Left []string
}

// fact is a name and what there is to say about it.
type fact struct{ Name, Text string }

// table is rows of cells; Before says something about them, More says that some
// were left out.
type table struct {
	Before string
	Rows   [][]string
	More   string
}

func (t *table) add(cells ...string) { t.Rows = append(t.Rows, cells) }

// keep cuts the table to so many rows, and says in which words.
func (t *table) keep(most int, words string) {
	if len(t.Rows) > most {
		t.More = "… " + wording.Count(len(t.Rows)-most, words) + " more"
		t.Rows = t.Rows[:most]
	}
}

// finding is a warning; Also mentions others like it.
type finding struct{ Message, Also, Hint, Place, Rule string }

// checkGroup is what one person checks and signs.
type checkGroup struct {
	Who, Means string
	Items      []item
}

// item is one thing to check; Want is the figure to find, if there is one.
type item struct {
	N          int
	What, Want string
}

// The most that the sheet lists one by one; what goes beyond is given in sum.
const (
	mostEntries  = 40
	mostFiles    = 40
	mostFindings = 30
	mostFrames   = 40
	mostGrids    = 24
	mostSignals  = 40
	mostLegs     = 30
	mostPoints   = 40
	mostMotions  = 60
	mostNamed    = 120
)

func (j *Job) fill(v *view) {
	s := j.survey()
	v.Summary, v.Begin, v.End = j.summary(s), stepWords(j.done(j.Begin)), stepWords(j.done(j.Layout.End))
	v.Entries = j.entries()
	v.Cautions = cautions()
	v.Watch = j.watch(s)
	v.Findings = j.findings()
	v.Touched, v.Spots = j.touched(s), j.spots(s)
	v.Frames, v.Tools, v.Parted, v.Motion = j.frameTable(s), j.toolTable(s), j.partTable(), j.motion()
	v.Signals, v.SignalWords = j.signals(s), j.signalWords()
	v.Run = j.run()
	v.Stand, v.Stops, v.Maps = j.Stand, !j.empty(), j.maps()
	v.Margins, v.Bands, v.MarginWords = j.margins(), j.bands(), []string{margin.Says, margin.NotLookedAt}
	if left := len(j.Slots.Grids) - len(v.Maps); left > 0 {
		v.MapsLeft = wording.Number(left, "grid more is", "grids more are") + " not drawn here: see “gridferry check --slots”."
	}
	v.Named = j.namedTable(s)
	j.times(v)
	v.Checks = j.checks(s)
}
