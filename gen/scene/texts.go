package scene

import (
	"gridferry/gen/explain"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// uses takes down the line that a move rests on, if it is to be shown.
func (g *gatherer) uses(m *move.Move) {
	if g.job.Sources == nil {
		return
	}
	lines := g.used[m.Place.File]
	if lines == nil {
		lines = map[int]bool{}
		g.used[m.Place.File] = lines
	}
	lines[m.Place.Line] = true
}

// texts takes the lines of program and plan that the moves rest on.
func (b *builder) texts() error {
	b.plan()
	if b.job.Program == nil {
		return nil
	}
	return b.program()
}

// program takes the program's lines of the moves that are shown.
func (b *builder) program() error {
	m, p := &b.scene.Moves, &Program{Family: b.job.Family, Lines: []Line{}}
	m.Lines = make([]int32, 2*m.N)
	b.scene.Program = p
	return explain.Join(b.job.Program, func(one move.Move, own []explain.Line) {
		shown := one.N > 0 && one.N <= m.N
		heading := one.N == 0 && one.Transfer > 0 && one.Transfer <= m.Transfers
		if !shown && !heading || len(own) == 0 || len(p.Lines)+len(own) > b.o.Lines {
			return
		}
		if shown {
			m.Lines[2*one.N-2], m.Lines[2*one.N-1] = int32(own[0].N), int32(own[len(own)-1].N)
		}
		for _, l := range own {
			p.Lines = append(p.Lines, Line{l.N, wording.Shorten(l.Text, mostRunes)})
		}
	})
}

// plan takes the lines that moves rest on, with their neighbours.
func (b *builder) plan() {
	const around = 2
	for file, shown := range b.files { // in no order: each goes to its own place
		used := b.used[file]
		if used == nil {
			continue
		}
		if b.scene.Plan == nil {
			b.scene.Plan = make([]Text, len(b.scene.Files))
		}
		text := &b.scene.Plan[shown]
		last := 0
		for line := range used {
			last = max(last, line)
		}
		for n := 1; n <= last+around; n++ {
			near := false
			for k := n - around; k <= n+around; k++ {
				near = near || used[k]
			}
			if line, ok := b.job.Sources.Line(file, n); ok && near {
				text.Lines = append(text.Lines, Line{n, wording.Shorten(line, mostRunes)})
			}
		}
	}
	for i := range b.scene.Plan {
		b.scene.Plan[i].Name = b.scene.Files[i]
	}
}
