package check_test

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// The simulator below says what a plan does to the slots. It is written from
// the plan format's own words, not from the code: it keeps slots as texts in a
// map, makes every list as a whole, and moves one part after the other.

// toyGrid is a grid as the simulator knows it.
type toyGrid struct {
	name                  string
	rows, columns, layers int
	missing               map[string]bool // labels
	filled                []toyRect       // nil for none
	flow                  string          // in, out; "" for none
}

// toyRect is a rectangle of slots; layer 0 means all layers.
type toyRect struct{ top, left, bottom, right, layer int }

type toyStop struct {
	grid  *toyGrid
	rects []toyRect // nil for the whole grid
}

type toyEntry struct {
	stops     []toyStop
	from, to  string // orders
	take      int    // 0 for none
	advance   string
	chainForm bool
}

type toyPlan struct {
	grids   []*toyGrid
	entries []toyEntry
}

func (g *toyGrid) label(row, col, layer int) string {
	text := fmt.Sprintf("%c%d", 'A'+row-1, col)
	if g.layers > 1 {
		text += fmt.Sprintf(".%d", layer)
	}
	return text
}

// whole is the rectangle of all slots.
func (g *toyGrid) whole() toyRect { return toyRect{1, 1, g.rows, g.columns, 0} }

// labels lists the slots of a rectangle that are there, in an order; leaving
// takes the top layer first.
func (g *toyGrid) labels(r toyRect, order string, leaving bool) []string {
	var layers []int
	for layer := 1; layer <= g.layers; layer++ {
		if r.layer == 0 || r.layer == layer {
			layers = append(layers, layer)
		}
	}
	if leaving {
		slices.Reverse(layers)
	}
	var list []string
	for _, layer := range layers {
		for _, cell := range cells(r, order) {
			if label := g.label(cell[0], cell[1], layer); !g.missing[label] {
				list = append(list, label)
			}
		}
	}
	return list
}

// cells are the rows and columns of a rectangle in an order.
func cells(r toyRect, order string) [][2]int {
	var list [][2]int
	if order == "by-column" {
		for col := r.left; col <= r.right; col++ {
			for row := r.top; row <= r.bottom; row++ {
				list = append(list, [2]int{row, col})
			}
		}
		return list
	}
	for row := r.top; row <= r.bottom; row++ {
		var line [][2]int
		for col := r.left; col <= r.right; col++ {
			line = append(line, [2]int{row, col})
		}
		if order == "serpentine" && (row-r.top)%2 == 1 {
			slices.Reverse(line)
		}
		list = append(list, line...)
	}
	return list
}

// slots lists a stop's slots, rectangle after rectangle.
func (s toyStop) slots(order string, leaving bool) []string {
	if s.rects == nil {
		return s.grid.labels(s.grid.whole(), order, leaving)
	}
	var list []string
	for _, r := range s.rects {
		list = append(list, s.grid.labels(r, order, leaving)...)
	}
	return list
}

// state says which slots hold a part: "tray A1".
type state map[string]bool

var errRefused = errors.New("refused")

// simulate gives the state after a plan, or an error where something would go
// wrong on the way.
func simulate(p *toyPlan) (state, error) {
	now, err := atStart(p)
	if err != nil {
		return nil, err
	}
	moved := 0
	for i := range p.entries {
		n, err := now.entry(&p.entries[i])
		if err != nil {
			return nil, err
		}
		moved += n
	}
	if moved == 0 {
		return nil, fmt.Errorf("%w: nothing is moved", errRefused)
	}
	return now, nil
}

func atStart(p *toyPlan) (state, error) {
	now := state{}
	for _, g := range p.grids {
		filled := g.filled
		if g.flow == "in" {
			filled = []toyRect{g.whole()}
		}
		for _, r := range filled {
			for _, label := range g.labels(r, "by-row", false) {
				now[g.name+" "+label] = true
			}
		}
	}
	for _, g := range p.grids {
		for _, label := range g.labels(g.whole(), "by-row", false) {
			if now[g.name+" "+label] && !now.supported(g, label) {
				return nil, fmt.Errorf("%w: %s hangs in the air", errRefused, label)
			}
		}
	}
	return now, nil
}

// shifted is the slot so many layers above a label, "" where there is none.
func (g *toyGrid) shifted(label string, by int) string {
	base, layer, layered := strings.Cut(label, ".")
	if !layered {
		return ""
	}
	n := int(layer[0]-'0') + by
	if n < 1 || n > g.layers {
		return ""
	}
	return fmt.Sprintf("%s.%d", base, n)
}

func (s state) supported(g *toyGrid, label string) bool {
	below := g.shifted(label, -1)
	return below == "" || s[g.name+" "+below]
}

// entry makes one entry of the transfers and gives the number of its parts.
func (s state) entry(e *toyEntry) (int, error) {
	for _, stop := range e.stops {
		if err := written(stop); err != nil {
			return 0, err
		}
	}
	if against(e) {
		return 0, fmt.Errorf("%w: against the flow", errRefused)
	}
	n, err := s.howMany(e)
	if err != nil || n == 0 {
		return 0, err
	}
	fill := make([][]string, len(e.stops))  // where parts arrive
	leave := make([][]string, len(e.stops)) // where they leave from
	leave[0] = s.chosen(e.stops[0], e.from, true, n)
	for i := 1; i < len(e.stops); i++ {
		fill[i] = s.chosen(e.stops[i], e.to, false, n)
		leave[i] = fill[i]
		if e.advance != "part" {
			leave[i] = again(e.stops[i], e.from, fill[i])
		}
	}
	return n, s.run(e, n, leave, fill)
}

// written refuses slots that are named twice or are not there.
func written(stop toyStop) error {
	seen := map[string]bool{}
	for _, r := range stop.rects {
		all := stop.grid.labels(r, "by-row", false)
		single := r.top == r.bottom && r.left == r.right && (r.layer != 0 || stop.grid.layers == 1)
		if single && len(all) == 0 {
			return fmt.Errorf("%w: a slot is missing", errRefused)
		}
		for _, label := range all {
			if seen[label] {
				return fmt.Errorf("%w: %s twice", errRefused, label)
			}
			seen[label] = true
		}
	}
	return nil
}

// inTurn reports whether a stop is a single slot on the way.
func (e *toyEntry) inTurn(i int) bool {
	return i > 0 && i < len(e.stops)-1 && len(e.stops[i].slots("by-row", false)) == 1
}

// against reports whether an entry puts parts into an infeed or takes them from a chute.
func against(e *toyEntry) bool {
	for i, stop := range e.stops {
		if i > 0 && stop.grid.flow == "in" || i < len(e.stops)-1 && stop.grid.flow == "out" {
			return true
		}
	}
	return false
}

// fed reports whether a stop gives or takes any number of parts.
func (s toyStop) fed() bool { return s.grid.flow != "" && len(s.slots("by-row", false)) > 0 }

// howMany parts an entry moves: slots that are written out are meant exactly,
// whole grids give and take what they can.
func (s state) howMany(e *toyEntry) (int, error) {
	exact, most := -1, -1
	for i, stop := range e.stops {
		if e.inTurn(i) || stop.fed() {
			continue
		}
		n := len(stop.slots("by-row", false))
		if stop.rects == nil {
			n = len(s.usable(stop, "by-row", i == 0))
		}
		if e.take > 0 {
			n = min(n, e.take)
		}
		switch {
		case stop.rects == nil && (most < 0 || n < most):
			most = n
		case stop.rects != nil && exact >= 0 && n != exact:
			return 0, fmt.Errorf("%w: %d slots against %d", errRefused, exact, n)
		case stop.rects != nil:
			exact = n
		}
	}
	n := exact
	if exact < 0 && most < 0 { // from feeder to feeder, past single slots if any
		if n = e.take; n == 0 {
			return 0, fmt.Errorf("%w: how many?", errRefused)
		}
	} else if exact < 0 {
		n = most
	} else if most >= 0 && most < exact {
		return 0, fmt.Errorf("%w: only %d for %d", errRefused, most, exact)
	}
	for i := range e.stops {
		if e.inTurn(i) && e.advance != "part" && n > 1 {
			return 0, fmt.Errorf("%w: %d parts in one slot", errRefused, n)
		}
	}
	return n, nil
}

// usable is a whole grid's slots that hold a part, or that are free.
func (s state) usable(stop toyStop, order string, leaving bool) []string {
	var list []string
	for _, label := range stop.slots(order, leaving) {
		if s[stop.grid.name+" "+label] == leaving {
			list = append(list, label)
		}
	}
	return list
}

// chosen is the n slots that a stop uses, in their order.
func (s state) chosen(stop toyStop, order string, leaving bool, n int) []string {
	list := stop.slots(order, leaving)
	if stop.fed() {
		return slices.Repeat(list, n/len(list)+1)[:n]
	}
	if stop.rects == nil && !(len(list) == 1 && !leaving) {
		list = s.usable(stop, order, leaving)
	}
	for len(list) < n && len(list) == 1 {
		return slices.Repeat(list, n) // one slot that serves all in turn
	}
	return list[:n]
}

// again lists chosen slots in the order in which parts leave.
func again(stop toyStop, order string, chosen []string) []string {
	if len(chosen) > 1 && chosen[0] == chosen[1] {
		return chosen
	}
	var list []string
	for _, label := range stop.slots(order, true) {
		if slices.Contains(chosen, label) {
			list = append(list, label)
		}
	}
	return list
}

func (s state) run(e *toyEntry, n int, leave, fill [][]string) error {
	carry := func(leg, part int) error {
		return s.carry(e.stops[leg].grid, leave[leg][part], e.stops[leg+1].grid, fill[leg+1][part])
	}
	legs := len(e.stops) - 1
	for k := range n * legs {
		leg, part := k/n, k%n
		if e.advance == "part" {
			leg, part = k%legs, k/legs
		}
		if err := carry(leg, part); err != nil {
			return err
		}
	}
	return nil
}

// carry moves one part.
func (s state) carry(from *toyGrid, a string, to *toyGrid, b string) error {
	source, goal := from.name+" "+a, to.name+" "+b
	if !s[source] {
		return fmt.Errorf("%w: nothing stands in %s", errRefused, source)
	}
	for k := 1; k <= from.layers; k++ {
		if above := from.shifted(a, k); above != "" && s[from.name+" "+above] {
			return fmt.Errorf("%w: something stands above %s", errRefused, source)
		}
	}
	if source == goal {
		return fmt.Errorf("%w: %s to itself", errRefused, source)
	}
	if from.flow == "" {
		delete(s, source)
	}
	if s[goal] {
		return fmt.Errorf("%w: %s is taken", errRefused, goal)
	}
	if !s.supported(to, b) {
		return fmt.Errorf("%w: %s would hang in the air", errRefused, goal)
	}
	if to.flow == "" {
		s[goal] = true
	}
	return nil
}

// text is the plan as a file.
func (p *toyPlan) text() string {
	var b strings.Builder
	b.WriteString(`format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  poses: {clear: {at: [0, 0, 500]}}
parts: {p: {mass: 0.1}}
grids:
`)
	for i, g := range p.grids {
		fmt.Fprintf(&b, "  %s: {frame: base, rows: %d, columns: %d, layers: %d, pitch: [10, 10], layer_pitch: 10, first: [%d, 0, 0], part: p, %s, missing: [%s]}\n",
			g.name, g.rows, g.columns, g.layers, 100*i, g.filledText(), strings.Join(slices.Sorted(maps.Keys(g.missing)), ", "))
	}
	b.WriteString("motion: {tool: jaw, approach: 50, speed: {travel: 100, near: 10}, clear: clear}\ntransfers:\n")
	for i := range p.entries {
		p.entries[i].write(&b)
	}
	return b.String()
}

func (g *toyGrid) filledText() string {
	switch {
	case g.flow != "":
		return "flow: " + g.flow
	case g.filled == nil:
		return "filled: none"
	}
	return fmt.Sprintf("filled: %q", toyStop{g, g.filled}.rectsText())
}

func (s toyStop) rectsText() string {
	var items []string
	for _, r := range s.rects {
		layer := ""
		if r.layer > 0 && s.grid.layers > 1 {
			layer = fmt.Sprintf(".%d", r.layer)
		}
		item := fmt.Sprintf("%c%d%s", 'A'+r.top-1, r.left, layer)
		if r.top != r.bottom || r.left != r.right {
			item += fmt.Sprintf(":%c%d%s", 'A'+r.bottom-1, r.right, layer)
		}
		items = append(items, item)
	}
	return strings.Join(items, ", ")
}

func (e *toyEntry) write(b *strings.Builder) {
	var stops []string
	for _, s := range e.stops {
		stops = append(stops, fmt.Sprintf("%q", strings.TrimSpace(s.grid.name+" "+s.rectsText())))
	}
	if e.chainForm || len(stops) > 2 {
		fmt.Fprintf(b, "  - chain: [%s]\n", strings.Join(stops, ", "))
	} else {
		fmt.Fprintf(b, "  - from: %s\n    to: %s\n", stops[0], stops[1])
	}
	fmt.Fprintf(b, "    order: {from: %s, to: %s}\n    advance: %s\n", e.from, e.to, e.advance)
	if e.take > 0 {
		fmt.Fprintf(b, "    take: %d\n", e.take)
	}
}
