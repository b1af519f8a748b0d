package colour

import (
	"encoding/hex"
	"math"
	"strings"
	"testing"
)

// luminance is the relative luminance of WCAG 2.2 of a colour #rrggbb.
func luminance(t *testing.T, hexColour string) float64 {
	t.Helper()
	linear := linearOf(t, hexColour)
	return float64(0.2126*linear[0]) + float64(0.7152*linear[1]) + float64(0.0722*linear[2])
}

// linearOf is a colour's red, green and blue light.
func linearOf(t *testing.T, hexColour string) (linear [3]float64) {
	t.Helper()
	rgb, err := hex.DecodeString(strings.TrimPrefix(hexColour, "#"))
	if err != nil || len(rgb) != 3 {
		t.Fatalf("%q is no colour #rrggbb", hexColour)
	}
	for i := range linear {
		c := float64(rgb[i]) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		linear[i] = c
	}
	return linear
}

func ratio(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// The arithmetic itself, by values recomputed from the formula of WCAG 2.2
// (threshold 0.04045).
func TestContrastFormula(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{
		{"#000000", "#ffffff", 21}, {"#767676", "#ffffff", 4.5422}, {"#777777", "#ffffff", 4.4781},
		{"#949494", "#ffffff", 3.0335}, {"#959595", "#ffffff", 2.9953},
	} {
		if got := ratio(t, c.a, c.b); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("%s on %s: %.4f, wanted %.4f", c.a, c.b, got, c.want)
		}
	}
}

// WCAG 2.2, 1.4.3 (text 4.5:1) and 1.4.11 (graphics 3:1), in both schemes.
func TestContrasts(t *testing.T) {
	for _, c := range Contrasts {
		front, back := role(t, c.Front), role(t, c.Back)
		for _, pair := range [][2]string{{front.Light, back.Light}, {front.Dark, back.Dark}} {
			if got := ratio(t, pair[0], pair[1]); got < c.Least {
				t.Errorf("%s: %s on %s has %.2f:1, wanted %.1f:1", c.What, pair[0], pair[1], got, c.Least)
			}
		}
	}
}

func role(t *testing.T, name string) Role {
	for _, c := range Roles {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("there is no role %q", name)
	return Role{}
}

// What is filled in is the role itself, and not one whose name begins as its name does.
func TestNamesBeginUnlikeEachOther(t *testing.T) {
	for i, a := range Roles {
		for j, b := range Roles {
			if i != j && strings.HasPrefix(a.Name, b.Name) {
				t.Errorf("%q begins with %q", a.Name, b.Name)
			}
		}
	}
	if got := Fill("fill:$ink;stroke:$rule", true); got != "fill:#e6ebf0;stroke:#55616c" {
		t.Errorf("filled in: %s", got)
	}
}

// lost is colours as those see them who lack one kind of cones, in linear light (Viénot, Brettel and Mollon, Color Research &
// Application 24, 1999, for the first two; the third from memory of Brettel et al. 1997, of which it is a simplification).
var lost = map[string][3][3]float64{
	"no red cones":   {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
	"no green cones": {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
	"no blue cones":  {{1, 0.15236, -0.15236}, {0, 0.86717, 0.13283}, {0, 0.86717, 0.13283}},
	"grey print":     {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}},
}

// What is left of a margin goes one way in lightness, in steps that are told apart in grey and by every eye. WCAG has no
// least ratio for that: 1.5 is our own, with a figure or words beside each colour.
func TestStepsOfMargins(t *testing.T) {
	steps := []string{"tight", "scant", "fair", "ample", "ground"}
	for who, matrix := range lost {
		for _, dark := range []bool{false, true} {
			ground := seenLuminance(t, role(t, "ground").In(dark), matrix)
			for i, name := range steps[:4] {
				here, next := seenLuminance(t, role(t, name).In(dark), matrix), seenLuminance(t, role(t, steps[i+1]).In(dark), matrix)
				if math.Abs(here-ground) <= math.Abs(next-ground) {
					t.Errorf("%s, dark %v: %s stands out less than %s", who, dark, name, steps[i+1])
				}
				if got := (max(here, next) + 0.05) / (min(here, next) + 0.05); i < 3 && got < 1.5 {
					t.Errorf("%s, dark %v: %s and %s have %.2f:1", who, dark, name, steps[i+1], got)
				}
			}
		}
	}
}

func seenLuminance(t *testing.T, hexColour string, matrix [3][3]float64) (sum float64) {
	t.Helper()
	linear := linearOf(t, hexColour)
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		for k, c := range linear {
			sum += weight * matrix[i][k] * c
		}
	}
	return sum
}
