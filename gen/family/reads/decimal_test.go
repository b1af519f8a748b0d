package reads

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/family/rules"
)

// sameDecimal holds Decimal to the pattern of numbers and to strconv, bit by bit, with
// either decimal mark.
func sameDecimal(t interface{ Errorf(string, ...any) }, text string) {
	sameMarked(t, text, '.')
	sameMarked(t, text, ',')
	sameMarked(t, strings.ReplaceAll(text, ".", ","), ',')
}

func sameMarked(t interface{ Errorf(string, ...any) }, text string, mark byte) {
	want := aNumberHere[mark].FindString(text)
	got, n := Decimal([]byte(text), mark)
	if n != len(want) {
		t.Errorf("%q: the number has %d bytes, wanted %q", text, n, want)
		return
	}
	if n == 0 {
		return
	}
	value, _ := strconv.ParseFloat(strings.Replace(want, ",", ".", 1), 64)
	if math.Float64bits(got) != math.Float64bits(value) {
		t.Errorf("%q is %v, wanted %v", text, got, value)
	}
}

var aNumberHere = map[byte]*regexp.Regexp{'.': regexp.MustCompile("^" + X.pattern('.')), ',': regexp.MustCompile("^" + X.pattern(','))}

// With a comma, a figure with a point is no number, and the other way round.
func TestDecimalMarkIsStrict(t *testing.T) {
	for _, comma := range []bool{false, true} {
		v := valuer{form: &rules.Form{Comma: comma}}
		for text, want := range map[string]bool{"1.5": !comma, "1,5": comma, "-.5": !comma, "-,5": comma, "12": true, "1.2,3": false, "1,2.3": false, "1,5,": false, "": false} {
			if got, ok := v.number([]byte(text)); ok != want || ok && text != "12" && math.Abs(got) != 1.5 && got != -0.5 {
				t.Errorf("comma %v: %q is %v, %v", comma, text, got, ok)
			}
		}
	}
}

func TestDecimal(t *testing.T) {
	for _, text := range []string{
		"", "-", "+", ".", "-.", "0", "-0", "-0.000", "+1.5", "1.", ".5", "-.5", "12.345mm", "1.2.3", "1e5", "--1", "007", "0.1", "0.3", "123456.789",
		"999999999999999", "9999999999999999", "9007199254740993", "0.000000000000001", "0.0000000000000001", "1.00000000000000011102230246251565",
		"179769313486231580793728971405301e300", "00000000000000000000000000000000001.5", "\xff1",
	} {
		sameDecimal(t, text)
	}
	long := "1"
	for range 400 {
		long += "0"
	}
	sameDecimal(t, long)
	if v, n := Decimal([]byte("-"+long), '.'); !math.IsInf(v, -1) || n != 402 {
		t.Errorf("a number out of range is %v of %d bytes", v, n)
	}
}

func TestDecimalIsRoundedAsStrconvRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sameDecimal(t, rapid.StringMatching(`[-+]?[0-9]{0,17}(\.[0-9]{0,25})?[ ,xe]?`).Draw(t, "text"))
		value := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		sameDecimal(t, strconv.FormatFloat(value, 'f', rapid.IntRange(-1, 12).Draw(t, "decimals"), 64))
	})
}

func FuzzDecimal(f *testing.F) {
	f.Add("-12.500 y")
	f.Fuzz(func(t *testing.T, text string) { sameDecimal(t, text) })
}
