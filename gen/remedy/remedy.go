// Package remedy looks for changes of a plan that rid it of errors: a pose between the ends of a travel on which something is hit, a frame at
// another place. Each is tried before it is proposed: the plan, changed in just the figures that are proposed, goes through all
// stages and all rules. It is pure, and the same plan has the same proposals.
package remedy

import (
	"fmt"
	"slices"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Trial is a plan and what is found in it.
type Trial struct {
	Plan     *plan.Plan
	Layout   *layout.Layout
	Moves    move.Batches // with joints
	Findings *diag.List
	Blocked  []*check.Blocked
}

// Try takes a changed plan through all stages up to the rules.
type Try func(*plan.Plan) *Trial

const (
	mostTransfers = 10_000 // of all trials together
	mostTrials    = 16
)

// bench is what one search works with.
type bench struct {
	try    Try
	first  *Trial
	trials int // that are left
	known  map[trouble]bool
}

// trouble is an error, as far as it is one and the same in two trials: what it says is "" where that does not matter.
type trouble struct {
	rule  string
	place diag.Place
	says  string
}

// Propose writes into the hints of errors what would rid the plan of them. A plan of very many transfers gets no proposal, since none could be
// tried.
func Propose(first *Trial, try Try) {
	if first.Layout.Arm == nil {
		return
	}
	b := &bench{try: try, first: first, trials: min(mostTrials, mostTransfers/max(1, first.Layout.Transfers())), known: map[trouble]bool{}}
	for _, f := range first.Findings.All() {
		if f.Severity == diag.Error {
			b.known[trouble{f.Rule, f.Place, ""}] = true
			b.known[trouble{f.Rule, f.Place, f.Message}] = true
		}
	}
	b.frames()
	b.poses()
}

// tried is a trial of a changed plan; nil where no more are made.
func (b *bench) tried(p *plan.Plan) *Trial {
	if b.trials == 0 {
		return nil
	}
	b.trials--
	return b.try(p)
}

// worse is the rules of errors that the plan does not have without a change, in words; "" for none. What moves nothing may leave other
// errors at the same place; where a frame is moved they have to say the very same.
func (b *bench) worse(t *Trial, moved bool) string {
	var rules []string
	for _, f := range t.Findings.All() {
		same := trouble{f.Rule, f.Place, ""}
		if moved {
			same.says = f.Message
		}
		if f.Severity == diag.Error && !b.known[same] && !slices.Contains(rules, f.Rule) {
			rules = append(rules, f.Rule)
		}
	}
	return wording.List(rules, 4)
}

// figures is figures as a plan has them: "[310, -40, 460]".
func figures(values ...float64) string {
	var texts []string
	for _, v := range values {
		texts = append(texts, fmt.Sprintf("%.6g", v+0))
	}
	return "[" + strings.Join(texts, ", ") + "]"
}
