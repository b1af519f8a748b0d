package names

import (
	"fmt"
	"slices"
	"strings"

	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Edit writes a text in the place of another.
type Edit struct {
	Place diag.Place
	Text  string
}

// words are what stands in the place of a name, and so is none.
var words = map[string][]string{"frames": {plan.BaseFrame}, "poses": {plan.NoPose}}

// nothing are the words that YAML takes for nothing at all (section 10.3.2 of YAML 1.2), but in quotes.
var nothing = []string{"null", "Null", "NULL"}

// unnamed reports whether a joint without a name is called so.
func unnamed(name string) bool {
	number, is := strings.CutPrefix(name, "J")
	return is && strings.Trim(number, "0123456789") == ""
}

// Rename is what has to be written so that a thing has another name: all of it, or an error that says why that cannot be.
func (x *Index) Rename(n Name, to string) ([]Edit, error) {
	if to == n.Text {
		return nil, nil
	}
	if err := x.free(n, to); err != nil {
		return nil, err
	}
	for _, name := range x.Files() {
		if fault := x.faults[name]; fault != "" {
			return nil, fmt.Errorf("mend this first, since the name may stand there too: %s", fault)
		}
	}
	uses := x.Uses(n)
	if !slices.ContainsFunc(uses, func(u Use) bool { return u.Defines }) {
		return nil, fmt.Errorf("no %s %q is defined in these files", n.What(), n.Text)
	}
	if err := x.apart(n, uses); err != nil {
		return nil, err
	}
	var edits []Edit
	for _, u := range uses {
		if u.Plain {
			edits = append(edits, Edit{u.Place, to})
		}
	}
	return edits, nil
}

// free reports whether a text can be the name of a thing, and no other thing has it.
func (x *Index) free(n Name, to string) error {
	switch {
	case !decode.IsName(to):
		return fmt.Errorf("%q is no name: wanted letters, digits, \"_\" and \"-\", a letter or digit first, at most %d bytes", wording.Brief(to), decode.LongestName)
	case slices.Contains(words[n.Table], to), slices.Contains(nothing, to):
		return fmt.Errorf("%q has a meaning of its own there and cannot be the name of a %s", to, n.What())
	case n.Table == "joints" && unnamed(to):
		return fmt.Errorf("%q is what a joint without a name is called", to)
	}
	other := n
	other.Text = to
	if has := x.of[other]; len(has) > 0 {
		u := x.uses[has[0]]
		if i := slices.IndexFunc(has, func(i int) bool { return x.uses[i].Defines }); i >= 0 {
			return fmt.Errorf("there is a %s %q already: %v", n.What(), to, x.uses[has[i]].Place)
		}
		return fmt.Errorf("%v speaks of a %s %q that is not there, and would then mean this one", u.Place, n.What(), to)
	}
	return nil
}

// apart refuses uses whose letters cannot be replaced, or mean something else as well.
func (x *Index) apart(n Name, uses []Use) error {
	written := map[diag.Place]bool{} // texts in which the letters stand plainly
	for _, u := range uses {
		written[u.stands] = written[u.stands] || u.Plain
	}
	for _, u := range uses {
		if !written[u.stands] {
			return fmt.Errorf("%v: write the name %q out here, without an alias, an escape or a break", u.Place, n.Text)
		}
	}
	for _, u := range x.uses {
		if u.Name != n && u.before == "" && written[u.stands] {
			return fmt.Errorf("%v: this stands for the %s %q as well: write that out, without an alias", u.Place, u.Name.What(), u.Name.Text)
		}
	}
	for _, at := range x.others {
		if written[at] {
			return fmt.Errorf("%v: this stands for another text as well, by an alias: write that out", at)
		}
	}
	return nil
}
