package draw

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/margin"
	"gridferry/gen/slot"
	"gridferry/plan/wording"
)

// reachMap is a grid from above, with how the arm reaches its slots.
type reachMap struct {
	pen
	o       Options
	ask     *joints.Question
	all     *joints.Reach
	spots   []reached
	of      int // slots
	reached int
	layers  bool
	crowded bool // some slots have no room for their figures
	v       view
	ratio   string
	radius  float64 // of a slot on the paper
}

// reached is a slot, or those of all layers above each other: the one that is reached worst.
type reached struct {
	joints.At
	at pt
}

// Reach writes a map of a grid that was asked for: each slot with its margin, as a picture from above, to scale.
func Reach(w io.Writer, ask *joints.Question, scheme Scheme) error {
	all := ask.Reach()
	m := &reachMap{o: Options{Scheme: scheme}, ask: ask, all: all, of: len(all.Slots), layers: ask.Grid.Layered()}
	m.arrange()
	m.letters(titleText, edgeWidth, 6.2, "start", cut(m.title(), titleSize, pageWidth-2*edgeWidth))
	m.letters(quietText, edgeWidth, 11.2, "start", cut(m.subtitle(), plainSize, pageWidth-2*edgeWidth))
	m.letters(plainText, edgeWidth, viewsTop-1.6, "start", m.caption())
	m.open("g", "class", "view", "data-view", "top", "data-right", triple(m.v.right), "data-up", triple(m.v.up), "data-scale", figure(m.v.scale))
	for i := range m.spots {
		m.slot(&m.spots[i])
	}
	m.close("g")
	height := m.legend(m.v.on.y1+6) + edgeWidth
	return m.o.document(w, m.title(), m.subtitle()+". "+m.caption()+".", rect{0, 0, pageWidth, height}, func(*pen) {}, &m.pen)
}

// arrange finds the scale, and where on the paper the slots are.
func (m *reachMap) arrange() {
	right, up := Directions(m.ask.Layout)
	m.v = newView("top", right, up)
	places := map[slot.Slot]int{}
	for _, a := range m.all.Slots {
		if a.Reached {
			m.reached++
		}
		_, base := m.ask.Grid.Points(a.Slot)
		m.v.see(base.Vec)
		below := a.Slot
		below.Layer = 0
		if i, known := places[below]; !known {
			places[below] = len(m.spots)
			m.spots = append(m.spots, reached{a, m.v.flat(base.Vec)})
		} else if m.worse(&a, &m.spots[i].At) {
			m.spots[i].At = a
		}
	}
	const most = 9.0
	size := m.v.size()
	m.v.scale, m.ratio = fit(max(size.x, 1), max(size.y, 1), pageWidth-2*(edgeWidth+most), 150)
	m.v.widen(pt{most, most}, pt{0, 0})
	m.v.put(edgeWidth, viewsTop)
	for i := range m.spots {
		m.spots[i].at = m.v.paper(m.spots[i].at)
	}
	m.radius = min(most-1, 0.46*m.closest())
}

// worse says whether a slot is reached worse than another one.
func (m *reachMap) worse(a, b *joints.At) bool {
	if a.Reached != b.Reached {
		return b.Reached
	}
	return m.all.Less(a.Least, b.Least)
}

// closest is how far apart on the paper the two slots are that are nearest to each other.
func (m *reachMap) closest() float64 {
	order := slices.Clone(m.spots)
	slices.SortStableFunc(order, func(a, b reached) int { return cmp.Compare(a.at.x, b.at.x) })
	least := math.Inf(1)
	for i := range order {
		for k := i + 1; k < len(order) && order[k].at.x-order[i].at.x < least; k++ {
			least = min(least, order[k].at.minus(order[i].at).length())
		}
	}
	return least
}

func (m *reachMap) title() string {
	return fmt.Sprintf("Reach of %s with %s", m.ask.Grid.Name, m.all.By.Tool.Name)
}

func (m *reachMap) subtitle() string {
	text := fmt.Sprintf("%s · %d of %s reached, at the slot and at its approach point", m.ask.Layout.Arm.Class(), m.reached, wording.Count(m.of, "slot"))
	if name := m.ask.Layout.Cell.Name.V; name != "" {
		text = "Cell: " + name + " · " + text
	}
	return text
}

func (m *reachMap) caption() string {
	return fmt.Sprintf("Top view, seen along −Z: %s to the right, %s up · scale %s", signed(m.v.right), signed(m.v.up), m.ratio)
}

// slot draws a slot, with its name and its margin as far as there is room.
func (m *reachMap) slot(s *reached) {
	m.open("g", "data-slot", s.Label)
	m.words("title", s.Label+": "+m.full(s))
	m.sample(m.class(s), s.at, m.radius)
	if lines := m.lines(s); lines != nil {
		letters := axisText
		if s.Reached {
			letters = lettering{[...]string{"lit", "lit", "ink", "ink"}[m.all.Band(s.Least)], leastSize}
		}
		for k, line := range lines {
			m.centred(letters, s.at.plus(pt{0, float64((float64(k) - float64(len(lines)-1)/2) * 2.6)}), line)
		}
	} else {
		m.crowded = true
	}
	m.close("g")
}

// The radius of a slot, mm, that has room for two lines, and for three.
const (
	twoLines   = 3.2
	threeLines = 5.2
)

// lines is what is written into a slot: its name, its margin, and to what that is as far as there is room; nil where there is
// none.
func (m *reachMap) lines(s *reached) []string {
	room := float64(2*m.radius) - 0.8
	name, figure, all := cut(s.Label, leastSize, room), m.margin(s, false), m.margin(s, true)
	switch {
	case m.radius < twoLines || width(figure, leastSize) > room:
		return nil
	case width(all, leastSize) <= room:
		return []string{name, all}
	case m.radius >= threeLines && s.Reached:
		return []string{name, figure, cut(m.all.To(s.Least), leastSize, float64(0.9*room))}
	}
	return []string{name, figure}
}

// class is that of a slot's outline.
func (m *reachMap) class(s *reached) string {
	if !s.Reached {
		return "keep"
	}
	return margin.BandName(m.all.Band(s.Least))
}

// full is how a slot is reached, in words.
func (m *reachMap) full(s *reached) string {
	if !s.Reached {
		return "not reached"
	}
	return m.all.Words(s.Least)
}

// margin is how much is left at a slot, and with all of it of what.
func (m *reachMap) margin(s *reached, all bool) string {
	switch {
	case !s.Reached:
		return "no"
	case all:
		return m.all.Figure(s.Least) + " " + m.all.To(s.Least)
	}
	return m.all.Figure(s.Least)
}

// legend explains what the picture shows, from y down to where it ends.
func (m *reachMap) legend(y float64) (end float64) {
	const beside = edgeWidth + sampleWidth + 1.5
	if m.reached > 0 {
		y = m.text("Reached in one configuration, at the slot and at its approach point, all joints inside their ranges. The figure is the least margin, rounded down: "+margin.Says+".", edgeWidth, y)
		for band := range margin.Bands {
			m.sample(margin.BandName(band), pt{edgeWidth + sampleWidth/2, y + lineHeight/2}, 1.7)
			y = m.text(margin.BandWords(band), beside, y)
		}
	}
	if m.reached < m.of {
		m.sampleKeepOut(pt{edgeWidth + sampleWidth/2, y + lineHeight/2})
		y = m.text("no: not reached so, in any configuration", beside, y)
	}
	if m.layers {
		y = m.text("Of slots above each other the one is shown that is reached worst.", edgeWidth, y)
	}
	if m.crowded {
		y = m.text("Where slots lie too close for figures, the same question without a picture gives them.", edgeWidth, y)
	}
	return m.text(margin.NotLookedAt, edgeWidth, y)
}

// text writes lines and returns where the next text begins.
func (m *reachMap) text(text string, x, y float64) float64 {
	for _, line := range wrap(text, plainSize, pageWidth-edgeWidth-x) {
		m.letters(plainText, x, y+2.8, "start", line)
		y += lineHeight
	}
	return y + 1.3
}

// signed is an axis of the base with its direction.
func signed(d geom.Vec) string {
	name, sign := axisName(d)
	if sign < 0 {
		return "−" + name
	}
	return "+" + name
}

// sample is the outline of a slot.
func (m *reachMap) sample(class string, at pt, radius float64) {
	if class == "keep" {
		m.circle("keep", at, radius)
		m.circle("edge", at, radius)
		return
	}
	m.circle(class, at, radius)
}
