package draw

import (
	"strings"
	"testing"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
)

// everySign is a page whose legend explains everything there is.
func everySign() *page {
	l := &layout.Layout{Title: "signs", Cell: &plan.Cell{}}
	p := compose(observe(l, func(func(move.Move) bool) {}, Options{}))
	p.Reset()
	for i := range p.seen {
		p.seen[i] = true
	}
	p.legend()
	return p
}

// Every sign has words and a sample.
func TestLegendIsComplete(t *testing.T) {
	text := everySign().String()
	for i, e := range entries {
		if e.text == "" || e.sample == nil {
			t.Errorf("sign %d is not explained", i)
			continue
		}
		if first := strings.Fields(e.text)[0]; !strings.Contains(text, first) {
			t.Errorf("the legend does not hold %q", e.text)
		}
	}
}

func TestFit(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		want string
	}{{100, 100, "1:1"}, {101, 1, "1:1.25"}, {1, 250, "1:2.5"}, {3000, 1, "1:30"}, {49, 1, "2:1"}, {0, 0, "20:1"}, {1e9, 1, "1:10000000"}} {
		scale, ratio := fit(c.w, c.h, 100, 100)
		if ratio != c.want || c.w*scale > 100 || c.h*scale > 100 {
			t.Errorf("%v × %v: %s, wanted %s", c.w, c.h, ratio, c.want)
		}
	}
}
