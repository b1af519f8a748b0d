package check

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/geom"
)

// TestPointing: what the hint asks to be written points down in the base, and is written as
// people write angles.
func TestPointing(t *testing.T) {
	for _, frame := range []geom.RPY{{}, {Yaw: 30}, {Yaw: 90}, {Yaw: 180}, {Roll: 90}, {Pitch: -90}, {Roll: 45}, {Roll: 12, Pitch: 34, Yaw: 56}} {
		for _, now := range []geom.RPY{{}, {Yaw: 90}, {Yaw: -45}, {Roll: 10, Yaw: 180}} {
			base := frame.Rot().Mul(now.Rot()).RPY()
			text := pointing(base, frame.Rot())
			var in geom.RPY
			if _, err := fmt.Sscanf(text, "[%g, %g, %g]", &in.Roll, &in.Pitch, &in.Yaw); err != nil || strings.Contains(text, "e") || strings.Contains(text, "-0,") || strings.Contains(text, "-0]") {
				t.Errorf("%s (%v)", text, err)
			}
			if off := frame.Rot().Mul(in.Rot()).RPY().FromDown(); off > 0.001 {
				t.Errorf("%s in a frame at %v is %g degrees off straight down", text, frame, off)
			}
		}
	}
}
