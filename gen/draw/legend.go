package draw

// sign is one kind of thing that the legend explains.
type sign int

const (
	signFull sign = iota
	signDue
	signFree
	signSome
	signGone
	signStack
	signUnsized
	signTaken
	signPut
	signBegins
	signFocus
	signStraight
	signTravel
	signDirection
	signPose
	signArm
	signTool
	signBody
	signOpen
	signFrame
	signCentre
	signKeepOut
	signHidden
	signReach
	signs = iota
)

// has notes that the picture shows a kind of thing.
func (p *page) has(s sign) { p.seen[s] = true }

const (
	sampleWidth = 11.0 // of the sample beside a text
	lineHeight  = 3.7
)

// entry is the legend's words and sample.
type entry struct {
	text   string
	sample func(p *page, c pt) // drawn about c
}

// entries are the legend's, in their order.
var entries [signs]entry = [...]entry{
	signFull:      {"slot that holds a part, as large as the part", func(p *page, c pt) { p.sampleSlot("full", 0.5, c) }},
	signDue:       {"slot that is free until a part is put into it", func(p *page, c pt) { p.sampleSlot("due", 0.25, c) }},
	signFree:      {"slot that stays free", func(p *page, c pt) { p.sampleSlot("spare", 0.25, c) }},
	signSome:      {"several slots, some of them hold a part", (*page).sampleSome},
	signGone:      {"slot that is not there", func(p *page, c pt) { p.sampleCross("gone", c) }},
	signStack:     {"slots above each other: how many of how many hold a part", func(p *page, c pt) { p.centred(thingText, c, "A1 2/3") }},
	signUnsized:   {"slot of a part whose size the plan does not give: place to scale, size not", (*page).sampleDiamond},
	signTaken:     {"transfer 7 takes the part from this slot (×5: five transfers do)", func(p *page, c pt) { p.centred(calloutText, c, "↑7") }},
	signPut:       {"transfer 7 puts its part into this slot", func(p *page, c pt) { p.centred(calloutText, c, "↓7") }},
	signBegins:    {"how the order goes: along the first slots, then on from the arrow's tip", (*page).sampleBegins},
	signFocus:     {"the two slots of this transfer", func(p *page, c pt) { p.sampleSlot("focus", 0.9, c) }},
	signStraight:  {"straight: a straight line of the tool centre point", func(p *page, c pt) { p.sampleLine("straight", c) }},
	signTravel:    {"travel: point to point, the arm chooses the path between", func(p *page, c pt) { p.sampleLine("travel", c) }},
	signDirection: {"the way the tool centre point goes", func(p *page, c pt) { p.shape("arrow", arrowHead(c.minus(pt{3, 0}), c.plus(pt{1.2, 0}), 2.4)) }},
	signPose:      {"pose", (*page).samplePose},
	signArm:       {"the arm from its foot to its flange, and the tool: round where a joint turns, square where one slides", (*page).sampleArm},
	signTool:      {"the tool from flange to tool centre point: at the clear pose, and at slots that it does not meet straight", (*page).sampleTool},
	signBody:      {"boxes that the tool fills, where it works, to scale; its fingers closed", func(p *page, c pt) { p.sampleBody("body", 0, c) }},
	signOpen:      {"where the fingers are while they are open", func(p *page, c pt) { p.sampleBody("open", 0.8, c) }},
	signFrame:     {"a frame's axes; a dot: the axis comes towards you, a cross: it goes away", (*page).sampleFrame},
	signCentre:    {"axis of the arm's base", func(p *page, c pt) { p.sampleLine("centre", c) }},
	signKeepOut:   {"keep-out box", (*page).sampleKeepOut},
	signHidden:    {"hidden edge of a box", func(p *page, c pt) { p.sampleLine("hidden", c) }},
	signReach:     {"limit of reach of the tool centre point", func(p *page, c pt) { p.sampleLine("reach", c) }},
}

// legend explains what the picture shows, beside the views or below them.
func (p *page) legend() {
	p.finalNotes()
	x, y, w, columns := edgeWidth, p.height+6, (pageWidth-2*edgeWidth-2*gutter)/3, 3
	if p.beside {
		x = p.top.on.x1 + gutter
		y, w, columns = viewsTop, pageWidth-edgeWidth-x, 1
	}
	blocks := p.blocks(w)
	p.open("g", "class", "legend")
	bottom := p.flow(blocks, pt{x, y}, w, columns)
	p.close("g")
	p.height = max(p.height, bottom) + edgeWidth
}

// block is one entry of the legend: a sample, unless it is a note, and lines.
type block struct {
	sample func(*page, pt)
	lines  []string
}

func (b block) height() float64 { return float64(float64(len(b.lines))*lineHeight) + 1.3 }

func (p *page) blocks(w float64) []block {
	var out []block
	for i, e := range entries {
		if p.seen[i] {
			out = append(out, block{e.sample, wrap(e.text, plainSize, w-sampleWidth-1.5)})
		}
	}
	for _, n := range p.notes {
		out = append(out, block{nil, wrap(n+".", plainSize, w)})
	}
	return out
}

// flow writes the blocks into columns of about one height and returns where the
// longest ends.
func (p *page) flow(blocks []block, at pt, w float64, columns int) float64 {
	total := 0.0
	for _, b := range blocks {
		total += b.height()
	}
	room, y, lowest := total/float64(columns), at.y, at.y
	for _, b := range blocks {
		if columns > 1 && y > at.y && y+b.height()/2 > at.y+room {
			at.x, y, columns = at.x+w+gutter, at.y, columns-1
		}
		p.block(b, pt{at.x, y})
		y += b.height()
		lowest = max(lowest, y)
	}
	return lowest
}

func (p *page) block(b block, at pt) {
	x := at.x
	if b.sample != nil {
		b.sample(p, pt{x + sampleWidth/2, at.y + lineHeight/2})
		x += sampleWidth + 1.5
	}
	for i, text := range b.lines {
		p.letters(plainText, x, at.y+float64(lineHeight*float64(i))+2.8, "start", text)
	}
}

// finalNotes say what was left out and what is not known.
func (p *page) finalNotes() {
	t := &p.s.trace
	if t.thinned() {
		p.note("The path shows %d of %d transfers: one in %d, and the last", t.drawn(), t.total, t.every)
	}
	if p.s.reachWords() == "" {
		p.note("Limits of reach are not known")
	} else if !p.seen[signReach] {
		p.note("The limits of reach lie outside this picture: %s", p.s.reachWords())
	}
}

func (p *page) sampleSlot(class string, wide float64, c pt) {
	p.element("path", "class", class, "stroke-width", num(wide), "d", polyline(true, square(c, 1.4)...))
}

// square is the corners of a square about a point.
func square(c pt, half float64) []pt {
	return []pt{{c.x - half, c.y - half}, {c.x + half, c.y - half}, {c.x + half, c.y + half}, {c.x - half, c.y + half}}
}

func (p *page) sampleSome(c pt) {
	p.sampleSlot("free", 0.12, c)
	p.element("path", "class", "full", "stroke-width", num(0.12), "d", polyline(true, square(c, 1.4)[:3]...))
}

func (p *page) sampleBegins(c pt) {
	p.begin([]pt{c.plus(pt{-4, -1}), c.plus(pt{4, -1}), c.plus(pt{-4, 1.6})})
}

func (p *page) sampleDiamond(c pt) {
	p.element("path", "class", "free", "stroke-width", num(0.25), "d", polyline(true, pt{c.x - 1.5, c.y}, pt{c.x, c.y - 1.5}, pt{c.x + 1.5, c.y}, pt{c.x, c.y + 1.5}))
}

func (p *page) sampleCross(class string, c pt) {
	p.line(class, c.plus(pt{-1.3, -1.3}), c.plus(pt{1.3, 1.3}))
	p.line(class, c.plus(pt{-1.3, 1.3}), c.plus(pt{1.3, -1.3}))
}

func (p *page) sampleLine(class string, c pt) {
	p.line(class, c.minus(pt{sampleWidth / 2, 0}), c.plus(pt{sampleWidth / 2, 0}))
}

func (p *page) samplePose(c pt) {
	p.circle("way", c, waySize)
	p.line("axis", c.minus(pt{waySize, 0}), c.plus(pt{waySize, 0}))
	p.line("axis", c.minus(pt{0, waySize}), c.plus(pt{0, waySize}))
}

func (p *page) sampleFrame(c pt) {
	o, x, y := c.plus(pt{-2.4, 1.6}), c.plus(pt{3, 1.6}), c.plus(pt{-2.4, -2})
	p.line("axis", o, x)
	p.shape("tip", arrowHead(o, x, 1.6))
	p.line("axis", o, y)
	p.shape("tip", arrowHead(o, y, 1.6))
	p.circle("way", o, 0.9)
	p.circle("tip", o, 0.35)
}

func (p *pen) sampleKeepOut(c pt) {
	r := []pt{{c.x - 4, c.y - 1.4}, {c.x + 4, c.y - 1.4}, {c.x + 4, c.y + 1.4}, {c.x - 4, c.y + 1.4}}
	p.shape("keep", r)
	p.shape("edge", r)
}
