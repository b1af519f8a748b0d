package render

import (
	"strings"

	"gridferry/plan/diag"
)

// usedName is an identifier that the function "name" made, and of what.
type usedName struct{ name, text string }

// usedNames is the names that a chunk's blocks made, each once.
type usedNames struct {
	known map[usedName]bool
	news  []usedName // since they were taken last
}

func (u *usedNames) renew() { clear(u.known) }

func (u *usedNames) add(name, text string) {
	used := usedName{name, text}
	if u.known[used] {
		return
	}
	if u.known == nil {
		u.known = map[usedName]bool{}
	}
	u.known[used] = true
	u.news = append(u.news, used)
}

func (u *usedNames) take() []usedName {
	news := u.news
	u.news = nil
	return news
}

// identifiers is what every identifier of a program stands for, by its capital letters:
// many controllers tell names apart by no more than that.
type identifiers map[string]string

// know adds the names of a table.
func (n identifiers) know(all []named, labels []string) {
	for i := range all {
		n.standsFor(all[i].name, labels[i])
	}
}

// standsFor says what a name stands for, which is another text than this one where two
// texts give one name.
func (n identifiers) standsFor(name, text string) string {
	key := strings.ToUpper(name)
	if before, known := n[key]; known {
		return before
	}
	n[key] = text
	return text
}

// called takes the names that a block made, and reports one that stands for something
// else already.
func (p *program) called(names []usedName, at diag.Place) {
	for _, u := range names {
		if other := p.names.standsFor(u.name, u.text); other != u.text {
			p.found.errorf(ruleNames, at, "", "%q and %q give the same identifier, %q", other, u.text, u.name).
				WithHint("give one of them another name, let identifiers be longer under \"names\" in family.yaml, or write {{.Point}} for points: no two of those are alike")
		}
	}
}
