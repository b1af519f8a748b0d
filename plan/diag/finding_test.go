package diag

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// rack is a slot of a grid "rack", or a pose where there is none.
type rack string

func (r rack) InGrid() (grid, slot string) {
	if r == "" {
		return "", ""
	}
	return "rack", string(r)
}

// TestConcerns: a finding has the slots that its message names, each once, and not without end.
func TestConcerns(t *testing.T) {
	var l List
	f := l.Errorf("r", Place{}, "%q above %q, %d", rack("A1"), rack(""), 3)
	f.Concerns("text", rack("A1"), rack("B2"))
	if want := []Slot{{"rack", "A1"}, {"rack", "B2"}}; !slices.Equal(f.Slots, want) {
		t.Errorf("got %v", f.Slots)
	}
	for i := range 2 * mostSlots {
		f.Concerns(rack(fmt.Sprint(i)))
	}
	if len(f.Slots) != mostSlots {
		t.Errorf("it has %d slots", len(f.Slots))
	}
}

// TestEnd: what is underlined ends where what is meant does.
func TestEnd(t *testing.T) {
	var s Sources
	s.Add("f", []byte("from: tray A1:B4, \"x\"\nlist: [a, {b: c}] # d\né: über\n\tat: 3\n"+strings.Repeat("x", 3000)+" end\n"))
	for _, tt := range []struct {
		at   Place
		want int
	}{
		{Place{"f", 1, 12, 5}, 17},
		{Place{"f", 1, 12, 0}, 14}, // A1
		{Place{"f", 1, 7, 0}, 11},  // tray
		{Place{"f", 1, 17, 0}, 18}, // a comma, for want of a word
		{Place{"f", 2, 7, 0}, 18},  // a list
		{Place{"f", 2, 11, 1}, 17}, // a mapping of which only the bracket was meant
		{Place{"f", 3, 4, 0}, 8},
		{Place{"f", 3, 4, 99}, 8},
		{Place{"f", 3, 99, 0}, 100}, // behind the line's end
		{Place{"f", 4, 2, 0}, 4},    // a tab is a character
		{Place{"f", 5, 3002, 0}, 3005},
		{Place{"f", 3, 0, 0}, 0},
		{Place{"f", 9, 1, 0}, 0},
		{Place{"g", 1, 1, 0}, 0},
		{Place{}, 0},
	} {
		if got := s.End(tt.at); got != tt.want {
			t.Errorf("%v, %d wide: got %d, want %d", tt.at, tt.at.Width, got, tt.want)
		}
	}
}
