package sheet

import (
	"regexp"
	"strings"
	"testing"

	"gridferry/gen/draw"
)

// A class that the page gives a look must not be one of the picture's: hidden edges of
// keep-out boxes were once clipped away as text for screen readers is.
func TestPageAndPictureShareNoClass(t *testing.T) {
	class := regexp.MustCompile(`\.[a-z][a-z-]*`)
	pictures := map[string]bool{}
	for _, c := range class.FindAllString(draw.Options{}.Style(), -1) {
		pictures[c] = true
	}
	if !pictures[".hidden"] {
		t.Fatal("the picture has no class of hidden edges")
	}
	for rule := range strings.SplitSeq(pageStyle, "}") {
		selectors, _, _ := strings.Cut(rule, "{")
		for selector := range strings.SplitSeq(selectors, ",") {
			selector = strings.TrimSpace(selector)
			if strings.HasPrefix(selector, ".map ") {
				continue // the page's own picture
			}
			for _, c := range class.FindAllString(selector, -1) {
				if pictures[c] {
					t.Errorf("%q is a class of the picture, too", selector)
				}
			}
		}
	}
}
