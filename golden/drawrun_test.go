package golden

import (
	"strings"
	"testing"
)

// The picture of a prove-out says how fast it is and how far it is lifted, speaks of no
// parts and shows none; one that carries them shows them.
func TestDrawnProveOut(t *testing.T) {
	scale := demoFolder + "/mortar-cubes-scale.plan.yaml"
	for _, c := range []struct {
		flags []string
		says  string
		parts bool
	}{
		{nil, "prove-out, at most 250 mm/s as written, lifted by 50 mm · no parts", false},
		{[]string{"--speed", "100", "--lift", "20"}, "prove-out, at most 100 mm/s as written, lifted by 20 mm · no parts", false},
		{[]string{"--gripper", "work", "--lift", "0"}, "prove-out, at most 250 mm/s as written, NOT lifted · parts as they stand", true},
	} {
		args := append([]string{scale, "--prove-out", "-o", "-"}, c.flags...)
		drawn := mustRun(t, append([]string{"draw"}, args...)...)
		sheet := mustRun(t, append([]string{"sheet"}, args...)...)
		_, inSheet, _ := strings.Cut(sheet, `id="picture"`)
		inSheet, _, _ = strings.Cut(inSheet, "</svg>")
		for what, page := range map[string]string{"picture": drawn, "sheet": inSheet} {
			parts := strings.Contains(page, "slot that holds a part")
			if !strings.Contains(page, c.says) || parts != c.parts || !c.parts && !strings.Contains(page, "slots, no parts") {
				t.Errorf("%v: the %s shows parts: %v, or does not say %q", c.flags, what, parts, c.says)
			}
		}
	}
}
