package kinematics

import (
	_ "embed"
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"gridferry/golden/outside"
)

//go:embed heldout.py
var heldOutScript string

// heldOut is a plan of which the script knows whether it can be carried out, and why.
type heldOut struct {
	Kind    string
	Faulty  bool
	Why     string
	Plan    object
	Targets []string
}

// refusals is by which errors the plans of each kind are to be refused.
var refusals = map[string][]string{
	"out of range": {"joint-out-of-range"},
	"flip":         {"configuration-not-possible", "joint-long-way", "joint-out-of-range", "straight-not-possible"},
	"singular":     {"joint-too-fast", "straight-not-possible"},
	"elbow":        {"link-hits"},
	"wound":        {"wound-up"},
}

// TestHeldOutPlans: no plan passes check that breaks a rule by a clear margin, and none is refused that keeps all of them by one, in
// the eyes of a script that follows every motion with kinematics of its own. GRIDFERRY_PLANS says how many plans, of which half are faulty.
func TestHeldOutPlans(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	const seed = 29
	var cases []heldOut
	outside.Python(t, chainScript+heldOutScript, map[string]int{"seed": seed, "count": plans(t, 2*len(refusals))}, &cases)
	judged := map[string]int{}
	for n, c := range cases {
		text := written(t, c.Plan)
		errors := errorsOf(t, text)
		switch {
		case !c.Faulty && len(errors) > 0:
			t.Errorf("plan %d, %s, %s, is refused: %v\n%s", n, c.Kind, c.Why, errors, text)
		case c.Faulty && !slices.ContainsFunc(errors, func(rule string) bool { return slices.Contains(refusals[c.Kind], rule) }):
			t.Errorf("plan %d, %s, %s, passes, or is refused for something else: %v\n%s", n, c.Kind, c.Why, errors, text)
		}
		if got := targets(list(t, c.Plan).Moves); !slices.Equal(got, c.Targets) {
			t.Errorf("plan %d: the script takes the motions to be %q, they are %q", n, c.Targets, got)
		}
		if c.Faulty {
			judged[c.Kind]++
		}
	}
	t.Logf("%d plans, faulty ones of each kind: %v", len(cases), judged)
	if !maps.EqualFunc(judged, refusals, func(n int, _ []string) bool { return n > 0 }) {
		t.Errorf("faulty plans are missing: %v", judged)
	}
}

// errorsOf is the rules of the errors that check finds in a plan.
func errorsOf(t *testing.T, text []byte) (rules []string) {
	t.Helper()
	var found []struct{ Rule, Severity string }
	_, out := gridferry(text, "check", "-", "--format", "json")
	if err := json.Unmarshal(out, &found); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, f := range found {
		if f.Severity == "error" {
			rules = append(rules, f.Rule)
		}
	}
	return rules
}

// targets is where all motions of a list lead.
func targets(moves []move) (names []string) {
	for _, m := range moves {
		if m["action"] == "travel" || m["action"] == "straight" {
			names = append(names, m["target"].(string))
		}
	}
	return names
}
