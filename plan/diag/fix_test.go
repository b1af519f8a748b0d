package diag

import "testing"

func TestFixed(t *testing.T) {
	var s Sources
	s.AddText("f", "from: trey A1:B6\nä: \"bad\"\nx;'trey B1\n")
	for _, tt := range []struct {
		at   Place
		fix  Fix
		want Place
	}{
		{Place{"f", 1, 7, 10}, Fix{"trey", "tray"}, Place{"f", 1, 7, 4}}, // the slots behind it stay
		{Place{"f", 2, 4, 5}, Fix{"bad", "bed"}, Place{"f", 2, 5, 3}},
		{Place{"f", 3, 3, 7}, Fix{"trey", "tray"}, Place{"f", 3, 4, 4}},
		{Place{"f", 2, 4, 5}, Fix{"bed", "bad"}, Place{}}, // written otherwise there
		{Place{"f", 1, 7, 10}, Fix{}, Place{}},
		{Place{"f", 1, 0, 0}, Fix{"from", "to"}, Place{}},
		{Place{"g", 1, 7, 10}, Fix{"trey", "tray"}, Place{}},
		{Place{}, Fix{"trey", "tray"}, Place{}},
	} {
		got, ok := s.Fixed(&Finding{Place: tt.at, Fix: tt.fix})
		if got != tt.want || ok == tt.want.IsZero() {
			t.Errorf("%v %v: got %v %v, wanted %v", tt.at, tt.fix, got, ok, tt.want)
		}
	}
}

func TestDidYouMean(t *testing.T) {
	var l List
	f := l.Errorf("r", Place{}, "no").DidYouMean("trey", "tray")
	if f.Hint != `did you mean "tray"?` || f.Fix != (Fix{"trey", "tray"}) {
		t.Errorf("%+v", f)
	}
}
