package layout

import (
	"fmt"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// numbers are those that a controller knows frames, or tools, by: each is of one of them.
type numbers struct {
	what string
	list *diag.List
	all  []number
}

// number is that of one frame or tool; written where the cell gives it.
type number struct {
	name    string
	known   int
	written plan.Whole
}

func (n *numbers) add(name string, known int, written plan.Whole) {
	n.all = append(n.all, number{name, known, written})
}

// check reports numbers that two have, where one of them is written. Of two that are not,
// no number is the same.
func (n *numbers) check() {
	before := map[int]number{}
	for _, own := range []bool{false, true} { // those that nobody chose first
		for _, a := range n.all {
			if a.written.IsSet() != own {
				continue
			}
			b, taken := before[a.known]
			if !taken {
				before[a.known] = a
				continue
			}
			why := fmt.Sprintf("write another one, or a \"number\" for the %s %q too", n.what, b.name)
			if b.name == plan.BaseFrame {
				why = "write another one: the base is always number 1"
			}
			n.list.Errorf("number-twice", a.written.Place, "the %s %q has number %d already", n.what, b.name, a.known).WithHint("%s", why)
		}
	}
}
