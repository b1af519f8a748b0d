package render

import (
	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// tablesOf is the tables that hold so many moves, and how many the first one holds.
func tablesOf(f *blocks.Blocks, moves int) (int, []blocks.TableView) {
	rows, n := f.Tables.Of(moves)
	tables := make([]blocks.TableView, n)
	for i := range tables {
		tables[i] = blocks.TableView{Number: i + 1, Rows: min(rows, moves-i*rows)}
	}
	return rows, tables
}

// tooManyTables reports moves that the family's tables have no room for.
func (p *program) tooManyTables(moves int) {
	if rows, n := p.family.Tables.Of(moves); p.family.Tables.Rows > 0 && n > p.family.Tables.Most {
		p.found.errorf(ruleTables, p.place, "", "%d moves need %d tables of %d rows, and a program of this family may have %d", moves, n, rows, p.family.Tables.Most).
			WithHint("cut the job into several plans, or raise \"most\" under \"tables\" in family.yaml if the controller has room for it")
	}
}

// table ends the table before a move and begins the next, where one is full.
func (s *worker) table(m *move.Move) {
	if number, rows, begins := s.family.Tables.Next(m.N, s.moves); begins {
		s.print(written{move: m, heading: true}, blocks.Table, &blocks.TableView{Number: number, Rows: rows})
	}
}
