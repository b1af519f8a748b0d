package draw

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/colour"
)

// Every role that something is painted with stands in the list of contrasts
// against the ground, and against parts where that can meet; letters at 4.5:1.
func TestEveryPaintIsHeld(t *testing.T) {
	roles := regexp.MustCompile(`\$([a-z]+)`)
	for _, s := range styles {
		for _, m := range roles.FindAllStringSubmatch(strings.ReplaceAll(s.paint, "$id", ""), -1) {
			if slices.Contains([]string{"ground", "part", "due", "tight", "scant", "fair", "ample"}, m[1]) { // grounds
				continue
			}
			if !slices.ContainsFunc(colour.Contrasts, func(c colour.Contrast) bool { return c.Front == m[1] && c.Back == "ground" }) {
				t.Errorf("%q is painted with %q, whose contrast nobody holds", s.class, m[1])
			}
		}
	}
	for _, l := range []lettering{titleText, plainText, quietText, nameText, thingText, quietName, axisText, rulerText, calloutText} {
		class, _, _ := strings.Cut(l.class, " ")
		front := map[string]string{"ink": "ink", "soft": "quiet", "order": "accent"}[class]
		if !slices.ContainsFunc(colour.Contrasts, func(c colour.Contrast) bool {
			return c.Front == front && c.Back == "ground" && c.Least == colour.ForText
		}) {
			t.Errorf("letters of class %q are not held to %v:1", class, colour.ForText)
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
	for _, c := range colour.Roles {
		if !slices.ContainsFunc(styles, func(s style) bool { return strings.Contains(s.paint, "$"+c.Name) }) {
			continue
		}
		if !strings.Contains(light, c.Light) || !strings.Contains(dark, c.Dark) || !strings.Contains(after, c.Dark) {
			t.Errorf("the role %q is not in every scheme", c.Name)
		}
		if strings.Contains(after, c.Light) || strings.Contains(dark, c.Light) {
			t.Errorf("the role %q is light in the dark", c.Name)
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
