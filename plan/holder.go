package plan

import (
	"fmt"
	"slices"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// Standard is a holder whose places a published standard fixes.
type Standard struct {
	Name   Text
	Corner Text // of Corners of the plate: where the frame's origin is
	Height Real // mm, of the TCP at a slot above the frame's XY plane
}

// The words of "standard" and "corner".
var (
	Standards    = []string{"ansi-slas-96", "ansi-slas-384", "ansi-slas-1536"}
	PlateCorners = []string{"top-left", "top-right", "bottom-left", "bottom-right"}
)

// unfixed are the plates whose outside is standard and whose wells are not.
var unfixed = []string{"6", "12", "24", "48"}

func (s *Standard) keys() []decode.Key {
	return []decode.Key{
		decode.May("standard", "A plate whose rows, columns and positions a standard fixes (ANSI/SLAS 4-2004).", standard(&s.Name)),
		decode.May("corner", "The corner of the plate where the frame's origin is.", decode.OneOf(&s.Corner, PlateCorners...)).Default(PlateCorners[0]),
		decode.May("height", "Of the TCP at a slot, above the frame's XY plane, in mm; needed with `standard`.", decode.Quantity(&s.Height, unit.Length, decode.Any)),
	}
}

func standard(dst *Text) decode.Form {
	words := decode.OneOf(dst, Standards...)
	return decode.Own(words.Schema, func(r *decode.Reader, n decode.Node) {
		for _, wells := range unfixed {
			text := strings.ToLower(n.Text())
			if text == wells || text == "ansi-slas-"+wells || strings.HasPrefix(text, wells+"-well") || strings.HasPrefix(text, wells+" well") {
				noStandard(r, n.Place(), wells)
				return
			}
		}
		words.Read(r, n)
	})
}

func noStandard(r *decode.Reader, at diag.Place, wells string) {
	r.List.Errorf("no-standard-positions", at, "no published standard says where the wells of a plate with %s wells are", wells).
		WithHint("makers differ by tenths of a millimetre and more: measure this plate, and give \"corners\", or \"first\" and \"pitch\"")
}

// Pallet is a footprint that parts may not stand over: from the frame's origin, or
// from "first" of boxes, along +X and +Y.
type Pallet struct {
	Name Text       // as messages name it
	Size [2]float64 // mm along X and Y
}

// palletSizes are those of ISO 6780:2003, in mm.
var palletSizes = [][2]float64{{1200, 800}, {1200, 1000}, {1219, 1016}, {1140, 1140}, {1067, 1067}, {1100, 1100}}

// pallets are those sizes, and the same turned by 90° where that is another one.
func pallets() []Pallet {
	var all []Pallet
	for _, s := range palletSizes {
		all = append(all, palletOf(s[0], s[1]))
		if s[0] != s[1] {
			all = append(all, palletOf(s[1], s[0]))
		}
	}
	return all
}

func palletOf(x, y float64) Pallet {
	return Pallet{Text{V: fmt.Sprintf("%gx%g", x, y)}, [2]float64{x, y}}
}

// pallet reads "1200x800", or "800x1200" for the same pallet turned by 90°, or the size of
// another one.
func pallet(dst *Pallet) decode.Form {
	var size Pair
	other := decode.Then(decode.Pair(&size, "x", "y", decode.Positive), func(*decode.Reader, decode.Node) {
		if size.IsSet() {
			*dst = palletOf(size.V[0], size.V[1])
			dst.Name.Place = size.Place
		}
	})
	return decode.OrList(isoPallet(dst), other)
}

func isoPallet(dst *Pallet) decode.Form {
	var all, words []string
	for _, p := range pallets() {
		all = append(all, p.Name.V)
		if p.Size[0] >= p.Size[1] { // a turned one goes without saying
			words = append(words, p.Name.V)
		}
	}
	return decode.Own(decode.OneOf(nil, all...).Schema, func(r *decode.Reader, n decode.Node) {
		if i := slices.Index(all, n.Text()); i >= 0 {
			*dst = pallets()[i]
			dst.Name.Place = n.Place()
			return
		}
		decode.OneOf(&Text{}, words...).Read(r, n)
	})
}
