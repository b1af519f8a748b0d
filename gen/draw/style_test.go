package draw

import (
	"bytes"
	"encoding/hex"
	"math"
	"regexp"
	"slices"
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
	for _, c := range contrasts {
		front, back := role(t, c.front), role(t, c.back)
		for _, pair := range [][2]string{{front.light, back.light}, {front.dark, back.dark}} {
			if got := ratio(t, pair[0], pair[1]); got < c.least {
				t.Errorf("%s: %s on %s has %.2f:1, wanted %.1f:1", c.what, pair[0], pair[1], got, c.least)
			}
		}
	}
}

func role(t *testing.T, name string) colour {
	for _, c := range palette {
		if c.name == name {
			return c
		}
	}
	t.Fatalf("there is no role %q", name)
	return colour{}
}

// Every role that something is painted with stands in the list of contrasts
// against paper, and against parts where that can meet; letters at 4.5:1.
func TestEveryPaintIsHeld(t *testing.T) {
	roles := regexp.MustCompile(`\$([a-z]+)`)
	for _, s := range styles {
		for _, m := range roles.FindAllStringSubmatch(strings.ReplaceAll(s.paint, "$id", ""), -1) {
			if m[1] == "paper" || m[1] == "part" || m[1] == "due" { // grounds
				continue
			}
			if !slices.ContainsFunc(contrasts, func(c contrast) bool { return c.front == m[1] && c.back == "paper" }) {
				t.Errorf("%q is painted with %q, whose contrast nobody holds", s.class, m[1])
			}
		}
	}
	for _, l := range []lettering{titleText, plainText, quietText, nameText, thingText, quietName, axisText, rulerText, calloutText} {
		class, _, _ := strings.Cut(l.class, " ")
		front := map[string]string{"ink": "ink", "soft": "soft", "order": "path"}[class]
		if !slices.ContainsFunc(contrasts, func(c contrast) bool { return c.front == front && c.back == "paper" && c.least == forText }) {
			t.Errorf("letters of class %q are not held to %v:1", class, forText)
		}
	}
}

// Both schemes are in the style: dark only on a screen that is set so.
func TestStyle(t *testing.T) {
	auto, light, dark := Options{}.Style(), Options{Scheme: Light}.Style(), Options{Scheme: Dark}.Style()
	const media = "@media screen and (prefers-color-scheme:dark){"
	before, after, ok := strings.Cut(auto, media)
	if !ok || before != light || strings.Contains(light+dark, "@media") {
		t.Error("auto has to be light and, behind the query, dark")
	}
	for _, c := range palette {
		if !strings.Contains(light, c.light) || !strings.Contains(dark, c.dark) || !strings.Contains(after, c.dark) {
			t.Errorf("the role %q is not in every scheme", c.name)
		}
		if strings.Contains(after, c.light) || strings.Contains(dark, c.light) {
			t.Errorf("the role %q is light in the dark", c.name)
		}
	}
	if strings.Contains(auto, "$") {
		t.Errorf("a name was not filled in:\n%s", auto)
	}
	if other := (Options{ID: "other"}).Style(); strings.Contains(other, "#picture") || !strings.Contains(other, "#other .ink{") || !strings.Contains(other, "url(#other-hatch)") {
		t.Error("the style does not follow the id")
	}
}

// Every class that is drawn has a style, and colours stand nowhere else.
func TestClasses(t *testing.T) {
	var out bytes.Buffer
	p := everySign()
	if err := p.writeTo(&out); err != nil {
		t.Fatal(err)
	}
	_, body, _ := strings.Cut(out.String(), "</style>")
	if found := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgb\(|(fill|stroke)="`).FindString(body); found != "" {
		t.Errorf("a colour stands outside the style: %q", found)
	}
	known := []string{"view", "legend"}
	for _, s := range styles {
		known = append(known, s.class)
	}
	for _, m := range regexp.MustCompile(`class="([^"]*)"`).FindAllStringSubmatch(body, -1) {
		for _, class := range strings.Fields(m[1]) {
			if !slices.Contains(known, class) {
				t.Errorf("the class %q has no style", class)
			}
		}
	}
}
