package structuredtext

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
)

var directForm = regexp.MustCompile(`^%[IQM]([XBWDL]?\d+(\.\d+)*|[XBWDL]?\*)$`)

// digits reads digits with single underscores between them, and gives them
// without the underscores.
func (l *lexer) digits() string {
	at := l.here
	var b strings.Builder
	for isDigit(l.peek(0)) || l.peek(0) == '_' {
		b.WriteRune(l.next())
	}
	text := b.String()
	if strings.Contains(text, "__") || strings.HasSuffix(text, "_") {
		l.fault(at, iecNumbers, "in %q an underscore stands elsewhere than between two digits", text)
	}
	return strings.ReplaceAll(text, "_", "")
}

// number reads an integer, a based integer or a real; "1..5" is an integer
// and a range.
func (l *lexer) number() {
	at := l.here
	whole := l.digits()
	switch {
	case l.peek(0) == '#':
		l.based(at, whole)
	case l.peek(0) == '.' && l.peek(1) != '.':
		l.real(at, whole)
	default:
		value, err := strconv.ParseInt(whole, 10, 64)
		if err != nil {
			l.fault(at, iecNumbers, "%s is greater than any integer type holds", whole)
		}
		l.add(tokInt, at, whole, value)
	}
	l.noTail(at)
}

// noTail refuses a letter right behind a number: 12V7, 1E5, 15ms.
func (l *lexer) noTail(at Place) {
	if !isLetter(l.peek(0)) {
		return
	}
	var b strings.Builder
	for isLetter(l.peek(0)) || isDigit(l.peek(0)) {
		b.WriteRune(l.next())
	}
	l.fault(at, iecNumbers, "%q follows a number directly (reals are written 1.0E-5, durations T#15ms, names begin with a letter)", b.String())
}

var basedForm = map[string]*regexp.Regexp{
	"2": regexp.MustCompile(`^[01]+(_[01]+)*$`), "8": regexp.MustCompile(`^[0-7]+(_[0-7]+)*$`),
	"16": regexp.MustCompile(`^[0-9A-Fa-f]+(_[0-9A-Fa-f]+)*$`),
}

func (l *lexer) based(at Place, base string) {
	l.next()
	var b strings.Builder
	for isLetter(l.peek(0)) || isDigit(l.peek(0)) {
		b.WriteRune(l.next())
	}
	text := b.String()
	form := basedForm[base]
	if form == nil || !form.MatchString(text) {
		l.fault(at, iecNumbers, "%s#%s is no based number: base 2, 8 or 16 and its digits were wanted", base, text)
		l.add(tokInt, at, base+"#"+text, int64(0))
		return
	}
	if base == "8" {
		l.mark(at, "base 8 is deprecated")
	}
	radix, _ := strconv.Atoi(base) // one of the three in basedForm
	value, err := strconv.ParseInt(strings.ReplaceAll(text, "_", ""), radix, 64)
	if err != nil {
		l.fault(at, iecNumbers, "%s#%s is greater than any integer that is read here", base, text)
	}
	l.add(tokInt, at, base+"#"+text, value)
}

func (l *lexer) real(at Place, whole string) {
	l.next()
	if !isDigit(l.peek(0)) {
		l.fault(at, iecNumbers, "a real number wants digits on both sides of its point")
		l.add(tokReal, at, whole+".", 0.0)
		return
	}
	text := whole + "." + l.digits() + l.exponent(at)
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(value, 0) {
		l.fault(at, iecNumbers, "%s is beyond the range of LREAL", text)
	}
	l.add(tokReal, at, text, value)
}

func (l *lexer) exponent(at Place) string {
	if c := l.peek(0); c != 'E' && c != 'e' {
		return ""
	}
	l.next()
	sign := ""
	if c := l.peek(0); c == '+' || c == '-' {
		sign = string(l.next())
	}
	if !isDigit(l.peek(0)) {
		l.fault(at, iecNumbers, "the exponent has no digits")
		return ""
	}
	return "E" + sign + l.digits()
}

// timeUnits in the order in which a duration lists them; a unit that is not
// the first must stay below its limit.
var timeUnits = []struct {
	name  string
	size  time.Duration
	limit float64
}{
	{"D", 24 * time.Hour, math.Inf(1)}, {"H", time.Hour, 24}, {"M", time.Minute, 60}, {"S", time.Second, 60},
	{"MS", time.Millisecond, 1000}, {"US", time.Microsecond, 1000}, {"NS", time.Nanosecond, 1000},
}

var timePart = regexp.MustCompile(`^(\d+)(\.\d+)?(D|H|MS|M|S|US|NS)`)

// duration reads what follows T# or TIME# (Table 8).
func (l *lexer) duration(at Place) {
	var b strings.Builder
	for c := l.peek(0); isLetter(c) || isDigit(c) || c == '.' && isDigit(l.peek(1)) || b.Len() == 0 && (c == '-' || c == '+'); c = l.peek(0) {
		b.WriteRune(l.next())
	}
	value, problem := parseDuration(b.String())
	if problem != "" {
		l.fault(at, iecTimes, "T#%s: %s", b.String(), problem)
	}
	if strings.Contains(b.String(), "_") {
		l.mark(at, "a duration with underscores is not read everywhere")
	}
	l.add(tokTime, at, "T#"+b.String(), value)
}

func parseDuration(text string) (time.Duration, string) {
	rest, negative := strings.CutPrefix(strings.ToUpper(text), "-")
	rest = strings.TrimPrefix(rest, "+")
	if rest == "" {
		return 0, "a duration wants a number and a unit"
	}
	total, last := 0.0, -1
	for first := true; rest != ""; first = false {
		part := timePart.FindStringSubmatch(rest)
		if part == nil {
			return 0, "a number and a unit (d, h, m, s, ms, us, ns) were wanted at " + strconv.Quote(rest)
		}
		unit := unitIndex(part[3])
		value, _ := strconv.ParseFloat(part[1]+part[2], 64) // timePart has checked the form
		rest = rest[len(part[0]):]
		if problem := partProblem(unit, last, value, first, part[2] != "" && rest != ""); problem != "" {
			return 0, problem
		}
		total += float64(value * float64(timeUnits[unit].size))
		last = unit
		if strings.HasPrefix(rest, "_") && len(rest) > 1 {
			rest = rest[1:]
		}
	}
	if total > math.MaxInt64/2 {
		return 0, "longer than is read here"
	}
	d := time.Duration(math.Round(total))
	if negative {
		d = -d
	}
	return d, ""
}

func unitIndex(name string) int {
	for i, u := range timeUnits {
		if u.name == name {
			return i
		}
	}
	return -1
}

func partProblem(unit, last int, value float64, first, fractionInside bool) string {
	switch {
	case unit <= last:
		return "the units are not in the order d, h, m, s, ms, us, ns"
	case fractionInside:
		return "only the last unit may have a fraction"
	case !first && value >= timeUnits[unit].limit:
		return "only the first unit may overflow"
	}
	return ""
}
