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
	rgb, err := hex.DecodeString(strings.TrimPrefix(hexColour, "#"))
	if err != nil || len(rgb) != 3 {
		t.Fatalf("%q is no colour #rrggbb", hexColour)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		c := float64(rgb[i]) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
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
