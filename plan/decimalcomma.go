package plan

import (
	"strings"

	"gridferry/plan/lazy"
)

// withComma is a number with a comma in it, as spreadsheets write decimals in some
// countries and thousands in others, and what may follow it.
var withComma = lazy.Regexp(`^\s*[-+]?([0-9]+),([0-9]+)(\D.*)?$`)

// isDecimal reports whether a comma cannot stand behind thousands: those are 1 to 3 digits
// that begin with no 0, and 3 digits follow.
func isDecimal(before, after string) bool {
	return len(after) != 3 || before[0] == '0' || len(before) > 3
}

// decimalCommas turns the decimal commas of a table into decimal points. It is false,
// and the reason reported once, where every comma may also stand between thousands, or the
// table has points as well.
func (r *reader) decimalCommas(columns []string, lines [][]Text) bool {
	var commas []*Text
	sure, point := false, false
	for _, fields := range lines {
		for i := range min(len(fields), len(columns)) {
			f := &fields[i]
			if columns[i] == "name" || columns[i] == "slot" {
				continue
			}
			point = point || strings.Contains(f.V, ".")
			if m := withComma().FindStringSubmatch(f.V); m != nil {
				commas = append(commas, f)
				sure = sure || isDecimal(m[1], m[2])
			}
		}
	}
	switch {
	case len(commas) == 0:
		return true
	case point:
		r.List.Errorf("ambiguous-number", commas[0].Place, "found %q, and decimal points in the same table, wanted one of the two", commas[0].V).
			WithHint("write a decimal point in all figures (\"1.5\"), and no mark between thousands")
		return false
	case !sure:
		r.List.Errorf("ambiguous-number", commas[0].Place, "%q can be read as more than one number, as can every figure with a comma in this table", commas[0].V).
			WithHint("write decimal points (\"1.5\"), and no mark between thousands")
		return false
	}
	for _, f := range commas {
		f.V = strings.Replace(f.V, ",", ".", 1)
	}
	return true
}
