// Package manual holds the pages of the rules of findings: what each finds, with an example that
// has it and one that has not, and what to do about it. The rules of package check have their pages
// beside them; those of all other packages are here, since no rule stands alone there.
package manual

import (
	"strings"

	"gridferry/plan/diag"
)

// Page is what is said about a finding.
type Page struct {
	Name     string // kebab-case, as it stands behind a message
	Severity diag.Severity
	Doc      string
	Do       string  // what to do about it
	Bad      Example // files that have this finding and no other; empty where it is the command that does
	Good     Example // some that are like them and have none
	Command  string  // finds it in the examples; empty for a check of the plan
	Unshown  string  // why there are no examples; empty where there are
}

// Guards is why a finding has no example that guards the list of moves.
const Guards = "No plan can cause this: it guards the move list itself."

// Finds is the command that finds it in the examples, without "gridferry".
func (p *Page) Finds() string {
	if p.Command != "" {
		return p.Command
	}
	return "check " + PlanName
}

// Brief is the first sentence of what it finds, on one line.
func (p *Page) Brief() string {
	doc := strings.Join(strings.Fields(p.Doc), " ")
	for i, c := range doc {
		if (c == '.' || c == ':') && (i+1 == len(doc) || doc[i+1] == ' ') {
			return doc[:i]
		}
	}
	return doc
}
