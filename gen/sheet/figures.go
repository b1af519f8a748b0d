package sheet

import (
	"math"
	"strconv"
	"strings"

	"gridferry/gen/geom"
)

// fixed is a number with so many decimals, never "-0".
func fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "−", 1)
}

// short is a number without needless zeros.
func short(x float64, decimals int) string {
	s := fixed(x, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// place is a point to a hundredth of a millimetre, which is finer than a touch.
func place(v geom.Vec) string {
	return fixed(v.X, 2) + ", " + fixed(v.Y, 2) + ", " + fixed(v.Z, 2)
}

func turn(a geom.RPY) string {
	return short(a.Roll, 3) + ", " + short(a.Pitch, 3) + ", " + short(a.Yaw, 3)
}

func kg(x float64) string { return short(x, 3) + " kg" }
func mm(x float64) string { return short(x, 3) + " mm" }

// fine is a figure that is reckoned with: what is behind its ninth decimal is rounding.
type fine float64

// MarshalJSON writes the figure to nine decimals at most.
func (f fine) MarshalJSON() ([]byte, error) {
	x := math.Round(float64(f)*1e9) / 1e9
	return strconv.AppendFloat(nil, x+0, 'f', -1, 64), nil
}
