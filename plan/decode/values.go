package decode

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"gridferry/plan/schema"
	"gridferry/plan/unit"
	"gridferry/plan/wording"
)

// LongestName and LongestText bound what may stand in a program's comments.
const (
	LongestName = 64
	LongestText = 2000
)

// Text reads words for people: a title, a note. Control characters and
// marks that reverse the reading direction are refused, since they would make
// a program look different from what it does.
func Text(dst *Value[string]) Form {
	return Own(textSchema, func(r *Reader, n Node) {
		if !IsText(n) {
			r.wrongType(n, "a text")
			return
		}
		if len(n.Text()) > LongestText {
			r.List.Errorf("text-too-long", n.Place(), "the text has %d bytes, at most %d fit", len(n.Text()), LongestText)
			return
		}
		if c, bad := hiddenCharacter(n.Text()); bad {
			r.List.Errorf("hidden-character", n.Place(), "the text holds the hidden character %U", c).
				WithHint("write the text again without it")
			return
		}
		*dst = Value[string]{n.Text(), n.Place()}
	})
}

// Selection reads slots, or a grid and slots. It may be very long.
func Selection(dst *Value[string]) Form {
	return Own(schema.Scalar, func(r *Reader, n Node) {
		if !IsText(n) {
			r.wrongType(n, "a text such as \"A1:B6\"")
			return
		}
		if r.curly(n) {
			return
		}
		*dst = Value[string]{n.Text(), n.Place()}
	})
}

// hiddenCharacter finds a character that people cannot see but programs obey.
// A line break is left to the family's comment rules.
func hiddenCharacter(text string) (rune, bool) {
	for _, c := range text {
		if IsHidden(c) {
			return c, true
		}
	}
	return 0, false
}

// IsHidden reports whether a character is one that people cannot see but programs obey, line breaks and tabs aside.
func IsHidden(c rune) bool {
	return unicode.Is(unicode.Cc, c) && c != '\n' && c != '\t' || unicode.Is(unicode.Bidi_Control, c) ||
		c == '\u2028' || c == '\u2029' || c == '\ufeff'
}

// Name reads a name that refers to something named elsewhere.
func Name(dst *Value[string]) Form {
	return Own(nameSchema, func(r *Reader, n Node) {
		if !IsText(n) {
			r.wrongType(n, "a name")
			return
		}
		if r.goodName(n, n.Text()) {
			*dst = Value[string]{n.Text(), n.Place()}
		}
	})
}

// goodName refuses names but of letters and digits of any script, "_" and "-": they
// must stand in "tray A1:B6" and in "--set grids.tray.rows=5" without quotes.
func (r *Reader) goodName(n Node, name string) bool {
	if r.curly(n) {
		return false
	}
	if name == "" {
		r.List.Errorf("bad-name", n.Place(), "a name is empty")
		return false
	}
	if len(name) > LongestName {
		r.List.Errorf("bad-name", n.Place(), "the name %q has %d bytes, at most %d fit", wording.Brief(name), len(name), LongestName)
		return false
	}
	for i, c := range name {
		if !nameCharacter(c, i == 0) {
			r.List.Errorf("bad-name", n.Place(), "the name %q holds the character %q", name, c).
				WithHint("use letters, digits, \"_\" and \"-\", a letter or digit first: %s", suggestName(name))
			return false
		}
	}
	return true
}

// IsName reports whether a text can be a name.
func IsName(name string) bool {
	return name != "" && len(name) <= LongestName && strings.IndexFunc(name, func(c rune) bool { return !nameCharacter(c, false) }) < 0 &&
		nameCharacter([]rune(name)[0], true)
}

func nameCharacter(c rune, first bool) bool {
	if unicode.IsLetter(c) || unicode.IsDigit(c) {
		return true
	}
	return !first && (c == '_' || c == '-' || unicode.Is(unicode.Mn, c))
}

// suggestName is the nearest name that would be accepted.
func suggestName(name string) string {
	mapped := strings.Map(func(c rune) rune {
		if nameCharacter(c, false) {
			return c
		}
		return '_'
	}, name)
	return strconv.Quote(strings.TrimLeft(mapped, "_-"))
}

// OneOf reads one of a few words.
func OneOf(dst *Value[string], words ...string) Form {
	return Own(func() schema.Schema { return wordSchema(words...) }, func(r *Reader, n Node) {
		wanted := "one of " + strings.Join(words, ", ")
		if !IsText(n) {
			r.wrongType(n, wanted)
			return
		}
		if r.curly(n) {
			return
		}
		for _, w := range words {
			if n.Text() == w {
				*dst = Value[string]{w, n.Place()}
				return
			}
		}
		f := r.List.Errorf("unknown-word", n.Place(), "found %q, wanted %s", wording.Brief(n.Text()), wanted)
		if near := r.List.Nearest(n.Text(), words); near != "" {
			f.DidYouMean(n.Text(), near)
		}
	})
}

// Level reads "on" or "off" from the text itself: YAML readers disagree
// whether those words are truth values.
func Level(dst *Value[bool]) Form {
	return Own(levelSchema, func(r *Reader, n Node) {
		if !IsText(n) {
			r.wrongType(n, "on or off")
			return
		}
		if text := n.Text(); text == "on" || text == "off" {
			*dst = Value[bool]{text == "on", n.Place()}
			return
		}
		// No "did you mean": "no" is one letter away from "on".
		r.List.Errorf("unknown-word", n.Place(), "found %q, wanted one of on, off", wording.Brief(n.Text())).
			WithHint("write \"on\" for a signal that is high, \"off\" for one that is low")
	})
}

// Whole reads a whole number from lo to hi.
func Whole(dst *Value[int], lo, hi int) Form {
	form := Own(func() schema.Schema { return wholeSchema(lo, hi) }, func(r *Reader, n Node) {
		if IsText(n) && n.Quoted() {
			f := r.List.Errorf("wrong-type", n.Place(), "found %q in quotes, wanted a whole number", wording.Brief(n.Text()))
			if number, err := unit.ParseWhole(n.Text()); err == nil {
				f.WithHint("write it without quotes: %d", number)
			} else {
				f.WithHint("write a whole number in decimal digits, without quotes, such as 4")
			}
			return
		}
		if v, ok := r.whole(n, lo, hi); ok {
			*dst = Value[int]{v, n.Place()}
		}
	})
	return bounded(form, Figure{Whole: true, Low: lo, High: hi})
}

// whole reads a whole number, in quotes or not.
func (r *Reader) whole(n Node, lo, hi int) (int, bool) {
	if !IsText(n) {
		r.wrongType(n, "a whole number")
		return 0, false
	}
	if r.curly(n) {
		return 0, false
	}
	v, err := unit.ParseWhole(n.Text())
	if err != nil {
		r.quantity(n, err)
		return 0, false
	}
	if v < lo || v > hi {
		r.List.Errorf("out-of-range", n.Place(), "found %d, wanted a whole number from %d to %d", v, lo, hi)
		return 0, false
	}
	return v, true
}

// Bound says which quantities are sensible for a key.
type Bound struct {
	ok      func(float64) bool
	want    string
	keyword string // that says so in a schema; may be empty
}

// The bounds that keys need.
var (
	Any         = Bound{func(float64) bool { return true }, "any number", ""}
	Positive    = Bound{func(v float64) bool { return v > 0 }, "more than 0", "exclusiveMinimum"}
	NotNegative = Bound{func(v float64) bool { return v >= 0 }, "0 or more", "minimum"}
)

// farthest bounds every quantity, so that sums and squares stay finite.
const farthest = 1e9

// Quantity reads a number with or without a unit, into the dimension's base unit.
func Quantity(dst *Value[float64], d unit.Dimension, bound Bound) Form {
	form := Own(func() schema.Schema { return bound.on(quantitySchema(d)) }, func(r *Reader, n Node) {
		if !IsText(n) {
			r.wrongType(n, fmt.Sprintf("a %s such as \"12 %s\"", d, d.Base()))
			return
		}
		if r.curly(n) {
			return
		}
		v, err := unit.Parse(n.Text(), d)
		if err != nil {
			r.quantity(n, err)
			return
		}
		if !bound.ok(v) {
			r.List.Errorf("out-of-range", n.Place(), "found %s, wanted a %s of %s", n.Text(), d, bound.want)
			return
		}
		if v > farthest || v < -farthest {
			r.List.Errorf("out-of-range", n.Place(), "found %s, which is out of range", n.Text())
			return
		}
		*dst = Value[float64]{v, n.Place()}
	})
	return bounded(form, Figure{Dimension: d, Bound: bound})
}

// Number reads a number without a dimension.
func Number(dst *Value[float64]) Form {
	form := Own(numberSchema, func(r *Reader, n Node) {
		if !IsText(n) {
			r.wrongType(n, "a number")
			return
		}
		v, err := unit.ParseNumber(n.Text())
		if err != nil {
			r.quantity(n, err)
			return
		}
		*dst = Value[float64]{v, n.Place()}
	})
	return bounded(form, Figure{Bound: Any})
}

// quantity reports what package unit found wrong.
func (r *Reader) quantity(n Node, err error) {
	var e *unit.Error
	if !errors.As(err, &e) {
		r.List.Errorf("not-a-number", n.Place(), "%v", err)
		return
	}
	f := r.List.Errorf(e.Rule(), n.Place(), "%v", e)
	if e.Hint != "" {
		f.WithHint("%s", e.Hint)
	}
}
