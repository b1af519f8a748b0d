package sheet_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestBoxesOfATurnedZone: a zone that stands turned in its tool has the boxes, in the base's
// axes, of a plain tool for which they are written along the axes of that zone: turned by 90
// degrees, its X is the tool's Y.
func TestBoxesOfATurnedZone(t *testing.T) {
	actions := "grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}"
	boxes := func(tool string) []string {
		source := small("boxes", "", 1, 2)
		source.Data = []byte(strings.Replace(string(source.Data), actions, tool, 1))
		return reaches(t, page(t, source, "listing"))
	}
	want := boxes(actions + ", body: {finger: {from: [-17, 30, -61], to: [3, 35, -7], open: [0, 8, 0]}}")
	got := boxes("zones: {one: {at: [5, 7, 11], rpy: [0, 0, 90], " + actions + "}}, body: {finger: {from: [-30, -10, -50], to: [-25, 10, 4], open: [-8, 0, 0]}}")
	if len(want) != 2 || !slices.Equal(got, want) {
		t.Errorf("the zone's finger reaches over %v, wanted %v", got, want)
	}
}

// reaches is how far the tool's boxes reach from the tip, closed and open, however it is turned.
func reaches(t *testing.T, text string) (all []string) {
	t.Helper()
	type player struct {
		Tools        [][]struct{ From, To, Open [3]float64 }
		Orientations []struct {
			Tool int
			Axes [3][3]float64
		}
	}
	var whole struct{ Player player }
	if err := json.Unmarshal([]byte(scripts.FindStringSubmatch(text)[2]), &whole); err != nil {
		t.Fatal(err)
	}
	d := whole.Player
	for _, o := range d.Orientations {
		for _, b := range d.Tools[o.Tool-1] {
			for _, open := range []float64{0, 1} {
				var lo, hi [3]float64
				for k := range lo {
					for i, axis := range o.Axes {
						a, c := axis[k]*(b.From[i]+open*b.Open[i]), axis[k]*(b.To[i]+open*b.Open[i])
						lo[k], hi[k] = lo[k]+math.Min(a, c), hi[k]+math.Max(a, c)
					}
				}
				all = append(all, fmt.Sprintf("%.2f to %.2f", lo, hi))
			}
		}
	}
	return all
}
