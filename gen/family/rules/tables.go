package rules

import "gridferry/plan/decode"

// Tables is how the rows of a family that keeps a table of moves are divided.
type Tables struct {
	Rows int // of one table; 0 for a single one, however long
	Most int // tables of one program
}

func (t *Tables) key() decode.Key {
	return decode.May("tables", "For families that write moves as the rows of a table: the block `table` ends a table that is full, and begins the next.",
		decode.Object{What: "tables", Keys: []decode.Key{
			decode.Must("rows", "The most rows of one table.", whole(&t.Rows, 1, 10_000_000)),
			decode.Must("most", "The most tables of one program; what needs more is an error.", whole(&t.Most, 1, 1000)),
		}}).Else("one table, however long")
}

// Of is how many rows each table has, but the last, and how many tables there are for so
// many moves.
func (t *Tables) Of(moves int) (rows, tables int) {
	if t.Rows == 0 || moves <= t.Rows {
		return moves, 1
	}
	return t.Rows, (moves + t.Rows - 1) / t.Rows
}

// Next is the number of the table that begins with a move, by its number, and its rows;
// false where none begins. The first one begins with the program.
func (t *Tables) Next(move, moves int) (number, rows int, begins bool) {
	if t.Rows == 0 || move <= 1 || (move-1)%t.Rows != 0 {
		return 0, 0, false
	}
	return (move-1)/t.Rows + 1, min(t.Rows, moves-move+1), true
}
