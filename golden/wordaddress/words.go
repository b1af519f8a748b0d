package wordaddress

import (
	"math"
	"strings"
)

// Modal groups of NISTIR 6556 Table 4. A code is held as ten times its number.
const (
	nonModal   = 0
	motion     = 1
	plane      = 2
	distance   = 3
	feedMode   = 5
	units      = 6
	cutter     = 7
	toolLength = 8
	cycleBack  = 10
	system     = 12
	path       = 13

	stopping   = 4
	toolChange = 6
	spindle    = 7
	coolant    = 8
	override   = 9
	clamping   = 100 // our own number for the ISO 6983-1 words
)

var groupsG = map[int]int{
	0: motion, 10: motion, 20: motion, 30: motion, 382: motion,
	800: motion, 810: motion, 820: motion, 830: motion, 840: motion,
	850: motion, 860: motion, 870: motion, 880: motion, 890: motion,
	170: plane, 180: plane, 190: plane,
	900: distance, 910: distance,
	930: feedMode, 940: feedMode,
	200: units, 210: units,
	400: cutter, 410: cutter, 420: cutter,
	430: toolLength, 490: toolLength,
	980: cycleBack, 990: cycleBack,
	540: system, 550: system, 560: system, 570: system, 580: system,
	590: system, 591: system, 592: system, 593: system,
	610: path, 611: path, 640: path,
	40: nonModal, 100: nonModal, 280: nonModal, 300: nonModal, 530: nonModal,
	920: nonModal, 921: nonModal, 922: nonModal, 923: nonModal,
}

var groupsM = map[int]int{
	0: stopping, 10: stopping, 20: stopping, 300: stopping, 600: stopping,
	60: toolChange,
	30: spindle, 40: spindle, 50: spindle,
	70: coolant, 80: coolant, 90: coolant,
	480: override, 490: override,
}

// takesAxes are the group-0 words that use axis words (Table 4, note).
var takesAxes = map[int]bool{100: true, 280: true, 300: true, 920: true}

// closeness is how near to a whole number a value must be where a whole one
// is wanted (3.3.2.1).
const closeness = 0.0001

// code gives ten times the number of a G or M word, or -1 when it is no
// multiple of a tenth.
func (w Word) code() int {
	near := math.Round(w.Value * 10)
	if math.Abs(w.Value-near/10) > closeness || near < 0 || near > 1000 {
		return -1
	}
	return int(near)
}

// checkWords holds the words of one line to the repetition limits (3.3.5),
// the modal groups (Table 4) and the signs that letters demand.
func checkWords(b Block, o Options) *Error {
	u := usage{line: b.Line, letters: map[byte]bool{}, g: map[int]Word{}, m: map[int]Word{}, options: o}
	for _, w := range b.Words {
		if err := u.add(w); err != nil {
			return err
		}
	}
	return u.axesTwice()
}

// usage gathers what one line has used so far.
type usage struct {
	line    int
	options Options
	letters map[byte]bool
	g, m    map[int]Word // by modal group
	countM  int
}

func (u *usage) add(w Word) *Error {
	switch w.Letter {
	case 'G':
		return u.addG(w)
	case 'M':
		return u.addM(w)
	}
	if u.letters[w.Letter] {
		return fault(u.line, w.Column, "3.3.5", "%q stands twice on one line", w.Letter)
	}
	u.letters[w.Letter] = true
	return u.sign(w)
}

func (u *usage) addG(w Word) *Error {
	group, known := groupsG[w.code()]
	if !known {
		return fault(u.line, w.Column, "3.5", "%s is not in the language", w)
	}
	return u.once(u.g, group, w)
}

func (u *usage) addM(w Word) *Error {
	group, known := groupsM[w.code()]
	if u.options.Clamp && (w.code() == 100 || w.code() == 110) {
		group, known = clamping, true
	}
	if !known {
		return fault(u.line, w.Column, "3.6", "%s is not in the language", w)
	}
	if u.countM++; u.countM > 4 {
		return fault(u.line, w.Column, "3.3.5", "%s is the fifth M word of the line, at most four are allowed", w)
	}
	return u.once(u.m, group, w)
}

func (u *usage) once(seen map[int]Word, group int, w Word) *Error {
	if earlier, twice := seen[group]; twice {
		return fault(u.line, w.Column, "3.3.5", "%s and %s are of one modal group and may not share a line", earlier, w)
	}
	seen[group] = w
	return nil
}

// sign refuses what a letter cannot carry: negative F, S and T (3.7), and T,
// H, D, L that are not whole (3.5, 3.7.3).
func (u *usage) sign(w Word) *Error {
	if strings.IndexByte("FSTHDL", w.Letter) >= 0 && w.Value < 0 {
		return fault(u.line, w.Column, "3.7", "%s may not be negative", w)
	}
	if strings.IndexByte("THDL", w.Letter) >= 0 && math.Abs(w.Value-math.Round(w.Value)) > closeness {
		return fault(u.line, w.Column, "3.3.2.1", "%s must be a whole number", w)
	}
	return nil
}

// axesTwice refuses two words of groups 0 and 1 that would both use the axis
// words of the line (3.3.5, Table 4).
func (u *usage) axesTwice() *Error {
	zero, has0 := u.g[nonModal]
	one, has1 := u.g[motion]
	if has0 && has1 && takesAxes[zero.code()] && one.code() != 800 {
		return fault(u.line, zero.Column, "3.4", "%s and %s both use the axis words of this line", zero, one)
	}
	return nil
}
