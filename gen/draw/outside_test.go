package draw_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/slot"
	"gridferry/golden/outside"
)

// libxml2 reads every demo picture without a word.
func TestXMLLint(t *testing.T) {
	for _, name := range demos {
		data := svg(t, demoLayout(t, name), draw.Options{})
		outside.Run(t, "libxml2-utils", data, "xmllint", "--noout", "--nonet", "-")
	}
}

// librsvg paints slots that hold a part in the part's colour, those that
// wait for one in another and free ones as paper, where the layout says they are, in both schemes.
func TestRendered(t *testing.T) {
	const perMM = 10
	part := map[draw.Scheme]color.RGBA{draw.Light: {0xf2, 0xd9, 0xa6, 255}, draw.Dark: {0x5a, 0x4a, 0x22, 255}}
	due := map[draw.Scheme]color.RGBA{draw.Light: {0xdf, 0xea, 0xf5, 255}, draw.Dark: {0x1c, 0x32, 0x47, 255}}
	paper := map[draw.Scheme]color.RGBA{draw.Light: {255, 255, 255, 255}, draw.Dark: {0x14, 0x18, 0x1c, 255}}
	l := demoLayout(t, "mortar-cubes")
	for _, scheme := range []draw.Scheme{draw.Light, draw.Dark} {
		data := svg(t, l, draw.Options{After: 20, Scheme: scheme})
		picture := render(t, data, "1900")
		view := readView(t, read(t, data).all(has("data-view"))[0])
		count := 0
		for place, stands := range standing(l, 20) {
			name, label, _ := strings.Cut(place, " ")
			at, _ := slot.Parse(label)
			_, base := grid(t, l, name).Points(at.Slot)
			corner := base.Vec
			corner.X += 20 // of 25 mm to the edge: beside the letters
			corner.Y += 20
			x, y := view.at(corner)
			want := paper[scheme]
			switch stands {
			case "full":
				want = part[scheme]
			case "due":
				want = due[scheme]
			}
			if got := color.RGBAModel.Convert(picture.At(int(x*perMM), int(y*perMM))); got != want {
				t.Errorf("%s has the colour %v at %.1f, %.1f, wanted %v", place, got, x, y, want)
			}
			count++
		}
		if count != 48 {
			t.Errorf("%d slots were looked at, wanted 23, 1 and 24", count)
		}
	}
}

func render(t *testing.T, data []byte, width string) image.Image {
	t.Helper()
	picture, err := png.Decode(bytes.NewReader(outside.Run(t, "librsvg2-bin", data, "rsvg-convert", "-w", width)))
	if err != nil {
		t.Fatal(err)
	}
	return picture
}
