package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"
)

// Factors are those of NIST Special Publication 811 (2008), appendix B.8, where exact ones are printed in bold: inch 25.4 mm,
// foot 0.3048 m, pound 0.45359237 kg, ounce 28.349523125 g, revolution per minute 6 °/s (written there as 0.1047198 rad/s).
// The results must be the floats nearest to the decimal values, hence compared with ==.
func TestParse(t *testing.T) {
	tests := []struct {
		text string
		d    Dimension
		want float64
	}{
		{"90", Length, 90},
		{"-1.5", Length, -1.5},
		{"+2", Length, 2},
		{".5", Length, 0.5},
		{"5.", Length, 5},
		{"1e3", Length, 1000},
		{"1E-3 m", Length, 1},
		{"  7 mm ", Length, 7},
		{"7\u202fmm", Length, 7}, // the narrow blank that typesetters put before a unit
		{"2.5 in", Length, 63.5},
		{"2.5in", Length, 63.5},
		{"1 inch", Length, 25.4},
		{"0.3 in", Length, 7.62},
		{"1 ft", Length, 304.8},
		{"1.005 m", Length, 1005}, // 1.005*1000 in floats is 1004.9999999999999
		{"4.35 cm", Length, 43.5},
		{"50 um", Length, 0.05},
		{"50 \u00b5m", Length, 0.05},
		{"50 \u03bcm", Length, 0.05},
		{"45 deg", Angle, 45},
		{"45°", Angle, 45},
		{"400 ms", Time, 0.4},
		{"1.5 min", Time, 90},
		{"2 h", Time, 7200},
		{"420 g", Mass, 0.42},
		{"1 lb", Mass, 0.45359237},
		{"1 oz", Mass, 0.028349523125},
		{"0.25 m/s", Speed, 250},
		{"6 m/min", Speed, 100},
		{"90 mm/min", Speed, 1.5},
		{"1 in/s", Speed, 25.4},
		{"60 in/min", Speed, 25.4},
		{"2.5 m/s2", Acceleration, 2500},
		{"2.5 m/s²", Acceleration, 2500},
		{"2.5 m/s^2", Acceleration, 2500},
		{"100 mm/s²", Acceleration, 100},
		{"3 m/s3", Jerk, 3000},
		{"3 m/s³", Jerk, 3000},
		{"30 deg/s", AngularSpeed, 30},
		{"30 °/s", AngularSpeed, 30},
		{"10 rpm", AngularSpeed, 60},
		{"90 deg/s²", AngularAcceleration, 90},
		{"2 N·m", Moment, 2},
		{"2 Nm", Moment, 2},
		{"2", Inertia, 2},
		{"2 kg·m²", Inertia, 2},
		{"20 kg*cm2", Inertia, 0.002},
		{"2 kg·mm²", Inertia, 0.000002},
		{"5000 gcm^2", Inertia, 0.0005},
		{"500 N*mm", Moment, 0.5},
		{"1e-300 m", Length, 1e-297}, // beyond the exact range, still right
		{"0e99999999 m", Length, 0},
	}
	for _, tt := range tests {
		if got, err := Parse(tt.text, tt.d); err != nil || got != tt.want {
			t.Errorf("%q: got %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

// A radian is 180/π degrees (the SI brochure, 9th edition, table 8): π/2 rad is a right angle.
func TestParseRadians(t *testing.T) {
	tests := []struct {
		text string
		d    Dimension
		want float64
	}{
		{"1.5707963267948966 rad", Angle, 90},
		{"3.141592653589793 rad/s", AngularSpeed, 180},
		{"3.141592653589793 rad/min", AngularSpeed, 3},
		{"-1 rad/s2", AngularAcceleration, -57.29577951308232},
	}
	for _, tt := range tests {
		got, err := Parse(tt.text, tt.d)
		if err != nil || math.Abs(got-tt.want) > 1e-13 {
			t.Errorf("%q: got %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestNegativeZeroIsZero(t *testing.T) {
	for _, text := range []string{"-0", "-0.0 in", "-0 rad"} {
		d := Length
		if strings.Contains(text, "rad") {
			d = Angle
		}
		if got, err := Parse(text, d); err != nil || got != 0 || math.Signbit(got) {
			t.Errorf("%q: got %v, %v", text, got, err)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	tests := []struct {
		text string
		d    Dimension
		rule string
		part string // of the message or the hint
	}{
		{"fast", Speed, "not-a-number", `"fast" is not a number, wanted a speed in mm/s`},
		{"fast", Speed, "not-a-number", "write a bare number in mm/s, or one with a unit: "},
		{"", Length, "not-a-number", `"" is not a number`},
		{"", Length, "not-a-number", "write a bare number in mm, or one with a unit: mm, cm"},
		{"-", Length, "not-a-number", ""},
		{".", Length, "not-a-number", ""},
		{"mm", Length, "not-a-number", ""},
		{"x", Angle, "not-a-number", "wanted an angle in deg"},
		{"\u22125", Length, "not-a-number", `write the minus sign as "-"`},
		{"٣", Length, "not-a-number", ""},
		{"5 furlong", Length, "unknown-unit", `has the unknown unit "furlong", wanted a length in mm`},
		{"5 furlong", Length, "unknown-unit", "mm, cm, m, um, in or ft"},
		{"5 MM", Length, "unknown-unit", `write "mm"`},
		{"5 M", Length, "unknown-unit", `write "m"`},
		{"5 KG", Mass, "unknown-unit", `write "kg"`},
		{"5 S", Time, "unknown-unit", `write "s"`},
		{"5 mm mm", Length, "unknown-unit", ""},
		{"5e", Length, "unknown-unit", ""},
		{"5 kg", Length, "wrong-dimension", `"5 kg" is a mass, wanted a length in mm`},
		{"5 mm", Speed, "wrong-dimension", "is a length, wanted a speed"},
		{"5 mm/s", Length, "wrong-dimension", ""},
		{"5 s", Angle, "wrong-dimension", "is a time, wanted an angle"},
		{"nan", Length, "not-finite", "write a bare number in mm"},
		{".NaN", Length, "not-finite", ""},
		{"-.inf", Length, "not-finite", ""},
		{"Infinity", Length, "not-finite", ""},
		{"1e999", Length, "not-finite", ""},
		{"1e308 m", Length, "not-finite", ""},
		{"1e308 rad", Angle, "not-finite", ""},
		{"017", Length, "ambiguous-number", "leave out the leading zero"},
		{"-007.5 mm", Length, "ambiguous-number", ""},
		{"1_000", Length, "ambiguous-number", ""},
		{"1 000", Length, "ambiguous-number", ""},
		{"1'000", Length, "ambiguous-number", ""},
		{"0x10", Length, "ambiguous-number", "plain decimal digits"},
		{"0o17", Length, "ambiguous-number", ""},
		{"0b11", Length, "ambiguous-number", ""},
		{"12:30", Time, "ambiguous-number", ""},
		{"12:30:45", Time, "ambiguous-number", ""},
		{"1,5", Length, "ambiguous-number", "decimal point"},
		{"1,000.5", Length, "ambiguous-number", ""},
		{"1.000,5", Length, "ambiguous-number", ""},
		{"1.5.2", Length, "ambiguous-number", ""},
		{"2026-01-02", Length, "unknown-unit", ""},
	}
	for _, tt := range tests {
		_, err := Parse(tt.text, tt.d)
		checkFault(t, tt.text, err, tt.rule, tt.part)
	}
}

func checkFault(t *testing.T, text string, err error, rule, part string) {
	t.Helper()
	var fault *Error
	if !errors.As(err, &fault) {
		t.Errorf("%q: got %v, want rule %s", text, err, rule)
		return
	}
	if fault.Rule() != rule || fault.Text != text {
		t.Errorf("%q: got rule %s for %q (%v), want %s", text, fault.Rule(), fault.Text, err, rule)
	}
	if !strings.Contains(fault.Error()+"\n"+fault.Hint, part) {
		t.Errorf("%q: message %q, hint %q, want %q in one of them", text, fault, fault.Hint, part)
	}
}

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{"5": 5, "-0.25": -0.25, "1e-6": 1e-6, "0": 0} {
		if got, err := ParseNumber(text); err != nil || got != want {
			t.Errorf("%q: got %v, %v", text, got, err)
		}
	}
	for text, rule := range map[string]string{
		"5 mm": "not-a-number", "x": "not-a-number", "inf": "not-finite", "1e400": "not-finite", "017": "ambiguous-number",
		"1,5": "ambiguous-number", "50 %": "not-a-number",
	} {
		_, err := ParseNumber(text)
		checkFault(t, text, err, rule, "")
	}
}

func TestParseWhole(t *testing.T) {
	for text, want := range map[string]int{"0": 0, "4": 4, "-12": -12, " 7 ": 7, "1000": 1000} {
		if got, err := ParseWhole(text); err != nil || got != want {
			t.Errorf("%q: got %v, %v", text, got, err)
		}
	}
	tests := []struct{ text, rule, part string }{
		{"4.0", "not-whole-number", "write 4"},
		{"2,5", "ambiguous-number", "write a whole number in decimal digits, with no mark between them"},
		{"1e3", "not-whole-number", "write 1000"},
		{"+5", "not-whole-number", "write 5"},
		{"4.5", "not-whole-number", "decimal digits"},
		{"5 mm", "not-whole-number", ""},
		{"", "not-whole-number", ""},
		{"-", "not-whole-number", ""},
		{"x", "not-whole-number", ""},
		{"nan", "not-whole-number", ""},
		{"99999999999999999999", "not-whole-number", "bigger"},
		{"017", "ambiguous-number", "leading zero"},
		{"1_000", "ambiguous-number", ""},
		{"0x10", "ambiguous-number", ""},
		{"12:30", "ambiguous-number", ""},
		{"1,000", "ambiguous-number", ""},
	}
	for _, tt := range tests {
		_, err := ParseWhole(tt.text)
		checkFault(t, tt.text, err, tt.rule, tt.part)
	}
}

// Every unit that a hint offers must be understood, and every dimension must offer its base unit.
func TestHintsOfferUnitsThatWork(t *testing.T) {
	for d := Length; d <= Inertia; d++ {
		if got, err := Parse("1 "+d.Base(), d); err != nil || got != 1 {
			t.Errorf("%v: one %s is %v, %v", d, d.Base(), got, err)
		}
		for _, symbol := range strings.Split(strings.ReplaceAll(hintedSymbols(d), " or ", ", "), ", ") {
			if _, err := Parse("1 "+symbol, d); err != nil {
				t.Errorf("%v: %v", d, err)
			}
		}
	}
}

// A symbol gives its dimension only if no other dimension uses it.
func TestSymbolsAreUnique(t *testing.T) {
	seen := make(map[string]Dimension)
	for d := Length; d <= Inertia; d++ {
		for _, s := range table()[d] {
			if before, ok := seen[s.text]; ok {
				t.Errorf("%q stands for %v and %v", s.text, before, d)
			}
			seen[s.text] = d
		}
	}
	if len(seen) != len(meanings()) {
		t.Errorf("%d symbols, %d meanings", len(seen), len(meanings()))
	}
}

func TestZeroValuesAreInvalid(t *testing.T) {
	if got := Dimension(0).String(); got != "invalid dimension" {
		t.Error(got)
	}
	if got := Dimension(200).Base(); got != "" {
		t.Error(got)
	}
	if got := (&Error{}).Rule(); got != "" {
		t.Error(got)
	}
}

// A long text must not make a long message.
func TestMessagesStayShort(t *testing.T) {
	_, err := Parse(strings.Repeat("x", 1<<16), Length)
	if n := utf8.RuneCountInString(err.Error()); n > 200 {
		t.Errorf("%d characters", n)
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"2.5 in", "400 ms", "1e3", "-0", "017", "1e999", "nan", "0x1p-2", "5 N·m", "1,5", "٣", "1e-320 rad", "\xff5"} {
		f.Add(text, uint8(Length))
		f.Add(text, uint8(Moment))
	}
	f.Fuzz(func(t *testing.T, text string, d uint8) {
		check := func(value float64, err error) {
			var fault *Error
			switch {
			case err == nil && (math.IsNaN(value) || math.IsInf(value, 0) || value == 0 && math.Signbit(value)):
				t.Errorf("%q gives %v", text, value)
			case err != nil && !errors.As(err, &fault):
				t.Errorf("%q: %T", text, err)
			case err != nil && (fault.Rule() == "" || err.Error() == ""):
				t.Errorf("%q: no rule or no message", text)
			}
		}
		check(Parse(text, Dimension(d)))
		check(ParseNumber(text))
		n, err := ParseWhole(text)
		check(float64(n), err)
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("2.5 in", Length); err != nil {
			b.Fatal(err)
		}
	}
}
