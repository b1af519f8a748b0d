package decode

import (
	"fmt"
	"strconv"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/internal/ynode"
	"gridferry/plan/lazy"
	"gridferry/plan/wording"
)

// This file guesses what somebody meant who wrote something else.

var (
	wholePart    = lazy.Regexp(`^[-+]?[0-9]+$`)
	fractionPart = lazy.Regexp(`^[0-9]+( ?[^0-9\s].*)?$`)
)

// decimalComma is the number with a point that two neighbours stand for, if they
// look like one number with a decimal comma: no blank between them.
func decimalComma(before, after Node) (number string, ok bool) {
	a, b := before.Place(), after.Place()
	if !IsText(before) || !IsText(after) || before.Quoted() || after.Quoted() ||
		a.File != b.File || a.Line != b.Line || a.Col+a.Width+1 != b.Col {
		return "", false
	}
	if !wholePart().MatchString(before.Text()) || !fractionPart().MatchString(after.Text()) {
		return "", false
	}
	return before.Text() + "." + after.Text(), true
}

// lengthHint says why a list may have the wrong length.
func lengthHint(items []Node, names []string) string {
	var numbers []string
	for i := 1; i < len(items); i++ {
		if number, ok := decimalComma(items[i-1], items[i]); ok {
			numbers = append(numbers, number)
		}
	}
	surplus, perhaps := len(items)-len(names), ""
	if len(numbers) > surplus { // a list without blanks: any comma may be a decimal one
		perhaps = ", or write decimals with a point, not a comma: 30.5"
	}
	switch {
	case surplus > 0 && len(numbers) == surplus:
		return fmt.Sprintf("a decimal point, not a comma: %s?", strings.Join(numbers, ", "))
	case len(items) == 6 && len(names) == 3:
		return "write the orientation under a key of its own, \"rpy: [roll, pitch, yaw]\"" + perhaps
	case len(items) == 1 && strings.Contains(items[0].Text(), ";"):
		return "write commas between the figures"
	case surplus < 0:
		return "write every figure, 0 as well"
	}
	return fmt.Sprintf("leave out %d of them%s", surplus, perhaps)
}

// commaKey is the number that the value of an entry was meant to be, where the key
// behind it in braces is what stands behind a decimal comma: {near: 60,5}.
func commaKey(entries []ynode.Entry, i int) (number string, ok bool) {
	if i == 0 || entries[i].Value.Kind() != ynode.Null {
		return "", false
	}
	return decimalComma(entries[i-1].Value, entries[i].Key)
}

// typeHint says how to write what was wanted, where the form shows what was meant.
func typeHint(n Node, wanted string) string {
	list := strings.HasPrefix(wanted, "[")
	switch {
	case list && IsMap(n):
		return "write the figures alone, in brackets: " + wanted
	case list && IsText(n) && strings.ContainsAny(n.Text(), ",;"):
		inner := strings.ReplaceAll(strings.Trim(n.Text(), "()<> "), ";", ",")
		return "put it in brackets: [" + wording.Brief(inner) + "]"
	case strings.HasPrefix(wanted, "a list of ") && IsMap(n):
		return "write \"- \" before each entry"
	case strings.HasSuffix(wanted, " by name") && IsList(n):
		return "write \"name:\" without \"-\" before each, and what belongs to it indented below"
	case strings.HasSuffix(wanted, " of keys to values") && IsList(n):
		return "write \"key: value\" without \"-\", or {key: value}"
	}
	return ""
}

// curly refuses a value in curly quotes, which YAML takes for letters. Only texts for
// people may have them.
func (r *Reader) curly(n Node) bool {
	const quotes = "“”„‟‘’‚«»"
	if strings.IndexAny(n.Text(), quotes) != 0 {
		return false
	}
	inner := wording.Brief(strings.Trim(n.Text(), quotes))
	plain := strconv.Quote(inner)
	if wholePart().MatchString(inner) {
		plain = inner // which must not be in quotes
	}
	r.List.Errorf("curly-quotes", n.Place(), "found %q in curly quotes, wanted straight ones or none", inner).
		WithHint("write %s; word processors bend quotes, editors for plain text do not", plain)
	return true
}

// Unknown reports a name that none of those known is, with the nearest of them.
func Unknown(list *diag.List, what string, name Value[string], known []string) {
	f := list.Errorf("unknown-name", name.Place, "there is no %s %q", what, wording.Brief(name.V))
	if near := list.Nearest(name.V, known); near != "" {
		f.DidYouMean(name.V, near)
		return
	}
	if len(known) > 0 && len(known) <= 8 {
		f.WithHint("there are: %s", strings.Join(known, ", "))
	}
}
