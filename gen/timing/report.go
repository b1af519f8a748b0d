package timing

import (
	"fmt"
	"math"
	"slices"

	"gridferry/gen/move"
)

// Report is what one pass over the moves finds about their time.
type Report struct {
	Machine  Machine
	Seconds  float64
	Distance float64 // mm that the tool centre point travels
	Moves    int
	Transfers,
	Parts int // a part that goes from leg to leg counts once
	Outside float64     // s outside any transfer
	Kinds   []KindTime  // of each kind that there is
	Legs    []LegTime   // in the order in which they come
	Slowest []Slow      // motions, the slowest first
	Limits  []LimitTime // what limits the motions: the TCP, then joints that limit any; none where the cell does not say what the arm is
	Waits   Waits
	Hands   int // changes of tool by hand
	Starts  int // motions from a pose that is not known
	Turning int // turns on the spot at a speed that is not known
	Changes []Change
	Program Program
}

// Program is what a family's program does otherwise than the plan; the zero value is for
// the plan itself.
type Program struct {
	Family string
	Stops  bool // at every point
	Rapids bool // the controller chooses the speed of travels
}

// Slow is a motion that takes long.
type Slow struct {
	Move                  move.Move
	Seconds, Length, Turn float64 // s, mm, degrees
	Joint                 string  // that slows it down; "" for none
}

// KindTime is all moves of a kind.
type KindTime struct {
	Kind    move.Kind
	Count   int
	Seconds float64
}

// LegTime is all transfers of one leg of one entry of the plan.
type LegTime struct {
	Line, Leg   int
	From, To    string // grids
	Transfers   int
	Mean, Least float64 // s
	Most        float64
	Spread      float64 // s, the standard deviation
	Quickest    int     // the first transfer that takes Least
	Slowest     int     // and Most
	Joint       string  // that slows its motions down for the longest time; "" for none

	squares float64
	limited limited
}

// Waits are the waits for inputs, whose length is unknown.
type Waits struct {
	Count    int
	Endless  int     // those without a time-out
	TimeOuts float64 // s, if every other one ran into its time-out
}

// Change is how much the whole time changes when one value changes.
type Change struct {
	What       string
	Less, More float64 // s added by 10 % less and by 10 % more
	Note       string
}

// slowest is how many of the slowest motions are listed.
const slowest = 10

// Measure makes one pass over the moves.
func Measure(moves move.Batches, m Machine) *Report {
	g := gatherer{report: &Report{Machine: m}, legs: map[legKey]int{}}
	if m.Joints != nil {
		g.limits = make([]LimitTime, len(m.Joints.Arm.Joints)+1)
	}
	for t := range Times(moves, m) {
		g.see(&t)
	}
	g.done()
	return g.report
}

// PartsPerHour is the rate while the job runs; 0 where nothing takes any time.
func (r *Report) PartsPerHour() float64 {
	if r.Seconds <= 0 {
		return 0
	}
	return float64(r.Parts) / r.Seconds * 3600
}

// AtMost reports whether the times hold no waits, or no people, of which nobody knows how
// long they take.
func (r *Report) AtMost() bool { return r.Hands > 0 || r.Waits.Count > 0 }

// Rate is the parts per hour in words, with the waits that they do not hold.
func (r *Report) Rate() string {
	rate := fmt.Sprintf("%.0f parts per hour", r.PartsPerHour())
	if !r.AtMost() {
		return rate
	}
	what := "the waits"
	switch {
	case r.Hands > 0 && r.Waits.Count > 0:
		what = "people and waits"
	case r.Hands > 0:
		what = "people"
	}
	return "at most " + rate + ", since nobody knows how long " + what + " take"
}

// gatherer sums up the moves as they go by; only the present transfer is kept.
type gatherer struct {
	report *Report
	kinds  [move.NumKinds]KindTime
	legs   map[legKey]int // places in the report's Legs
	now    TransferTime
	limits []LimitTime // by Timed.Limit; nil where the cell does not say what the arm is
}

func (g *gatherer) see(t *Timed) {
	r := g.report
	r.Moves++
	r.Seconds += t.Seconds
	r.Distance += t.Length
	k := &g.kinds[t.Move.Kind]
	k.Count++
	k.Seconds += t.Seconds
	g.unknown(t)
	g.slow(t)
	g.limit(t)
	if t.Move.Transfer == 0 {
		r.Outside += t.Seconds
		return
	}
	if t.Move.Unit() != g.now.Transfer {
		g.close()
		g.now = begun(t)
	}
	g.now.add(t)
}

func (g *gatherer) unknown(t *Timed) {
	r := g.report
	switch t.Unknown {
	case Start:
		r.Starts++
	case Turning:
		r.Turning++
	case Wait:
		r.Waits.Count++
		r.Waits.TimeOuts += t.Move.Seconds
		if t.Move.Seconds == 0 {
			r.Waits.Endless++
		}
	case Hand:
		r.Hands++
	case Nothing:
	}
}

// slow keeps the slowest motions; of equally slow ones the first. How long a
// dwell takes stands in the plan.
func (g *gatherer) slow(t *Timed) {
	s := g.report.Slowest
	if !t.Move.Kind.IsMotion() || len(s) == slowest && !slower(t.Seconds, s[len(s)-1].Seconds) {
		return
	}
	at, _ := slices.BinarySearchFunc(s, t.Seconds, func(a Slow, seconds float64) int {
		if slower(seconds, a.Seconds) {
			return 1
		}
		return -1
	})
	s = slices.Insert(s[:min(len(s), slowest-1)], at, Slow{*t.Move, t.Seconds, t.Length, t.Turn, g.report.Machine.jointed(t.Limit)})
	g.report.Slowest = s
}

// slower reports whether a is more than b, and not by rounding alone: of the same
// motion made twice the first is named.
func slower(a, b float64) bool { return a-b > 1e-9 }

// close books the transfer that has ended.
func (g *gatherer) close() {
	if g.now.Transfer == 0 {
		return
	}
	r := g.report
	r.Transfers += g.now.Carried
	if g.now.Leg == 1 {
		r.Parts += g.now.Carried
	}
	each := g.now
	each.Seconds /= float64(each.Carried)
	leg := g.legOf(&g.now)
	for range each.Carried { // of several at once each takes its share of the time
		leg.add(&each)
	}
	for i, seconds := range each.limited {
		leg.limited[i] += seconds
	}
}

type legKey struct {
	line, leg int
	from, to  string
}

func (g *gatherer) legOf(t *TransferTime) *LegTime {
	key := legKey{t.Line, t.Leg, t.From, t.To}
	at, met := g.legs[key]
	if !met {
		at = len(g.report.Legs)
		g.legs[key] = at
		g.report.Legs = append(g.report.Legs, LegTime{Line: t.Line, Leg: t.Leg, From: t.From, To: t.To, Least: math.Inf(1)})
	}
	return &g.report.Legs[at]
}

// add keeps mean and spread up to date (B. Welford, Technometrics 4(3), 1962,
// 419-420), so that no transfer has to be kept.
func (l *LegTime) add(t *TransferTime) {
	l.Transfers++
	off := t.Seconds - l.Mean
	l.Mean += off / float64(l.Transfers)
	l.squares += float64(off * (t.Seconds - l.Mean))
	if slower(l.Least, t.Seconds) {
		l.Least, l.Quickest = t.Seconds, t.Transfer
	}
	if slower(t.Seconds, l.Most) {
		l.Most, l.Slowest = t.Seconds, t.Transfer
	}
}

func (g *gatherer) done() {
	g.close()
	for _, k := range move.Kinds {
		if time := g.kinds[k]; time.Count > 0 {
			time.Kind = k
			g.report.Kinds = append(g.report.Kinds, time)
		}
	}
	for i := range g.report.Legs {
		l := &g.report.Legs[i]
		l.Spread = math.Sqrt(max(0, l.squares) / float64(l.Transfers))
		l.Joint = g.report.Machine.jointed(l.limited.most())
	}
	for i, l := range g.limits {
		if l.Joint = g.report.Machine.jointed(i); i == 0 || l.Travels+l.Straights > 0 {
			g.report.Limits = append(g.report.Limits, l)
		}
	}
}
