package proveout

import (
	"strings"
	"testing"
)

// TestReadNotice reads back what Notice writes, also from comments that have other signs.
func TestReadNotice(t *testing.T) {
	for k, speed := range []float64{250, 62.5, 0.125} {
		for _, lift := range []float64{0, 50, 12.7} {
			for i := range 4 {
				o := Options{Speed: speed, Lift: lift, Grips: i&1 != 0, Steps: i&2 != 0}
				notice := "A title, prove-out " + o.Notice(k%2 == 0) + " CAUTION: and so on"
				for _, text := range []string{notice, strings.ToUpper(notice), strings.NewReplacer(":", "-", ";", ",", "/", ".").Replace(notice)} {
					if got, ok := ReadNotice(text); !ok || got != o {
						t.Errorf("%+v, %v of %s", got, ok, text)
					}
				}
			}
		}
	}
	for _, text := range []string{"", "PROVE-OUT", "A title, prove-out", "PROVE-OUT: at most 1.2.3 mm/s; slots and the points above them NOT lifted; the gripper works; outputs are set"} {
		if got, ok := ReadNotice(text); ok {
			t.Errorf("%+v of %q", got, text)
		}
	}
}
