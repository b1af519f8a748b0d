package diag

import (
	"strings"
	"testing"
)

// The values separate the optimal string alignment distance from its relatives; "ca" and "abc" is the usual example of where it
// exceeds the unrestricted Damerau-Levenshtein distance (3 and not 2), "kitten" and "sitting" that of Levenshtein's (from
// memory; both stand in every textbook on approximate matching).
func TestDistance(t *testing.T) {
	tests := []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0},
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"ab", "ba", 1}, {"pitch", "ptich", 1}, {"höhe", "hohe", 1},
	}
	for _, tt := range tests {
		if got := distance([]rune(tt.a), []rune(tt.b), 3); got != tt.want {
			t.Errorf("%q to %q: got %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"frame", "rows", "columns", "layers", "pitch", "layer_pitch", "stagger", "first", "rpy", "part", "filled", "missing"}
	tests := []struct {
		name  string
		known []string
		want  string
	}{
		{"rwos", keys, "rows"},
		{"colums", keys, "columns"},
		{"cols", keys, "columns"}, // short for it
		{"lyr", keys, ""},         // short for two of them
		{"la", keys, ""},          // too short to guess
		{"slop", keys, ""},        // letters of none
		{"tub", []string{"tube_rack", "tube_rack"}, "tube_rack"},
		{"Pitch", keys, "pitch"},
		{"layer-pitch", keys, "layer_pitch"},
		{"layerPitch", keys, "layer_pitch"},
		{"colour", keys, ""},
		{"x", keys, ""},
		{"", keys, ""},
		{"rows", nil, ""},
		{"rack", []string{"rock", "race"}, ""},         // two are equally near
		{"rack", []string{"rock", "rock"}, "rock"},     // the same name twice is no doubt
		{"RACK", []string{"rock", "rack"}, "rack"},     // letter case alone is nearer than a slip
		{"tray1", []string{"tray2", "tray3"}, ""},      // no guess between siblings
		{"ab", []string{"ba"}, "ba"},                   // a swap is one slip
		{"a", []string{"b"}, ""},                       // nothing in common
		{strings.Repeat("x", 1000), []string{"x"}, ""}, // bounded
		{"x", []string{strings.Repeat("x", 1000)}, ""},
	}
	for _, tt := range tests {
		if got := Nearest(tt.name, tt.known); got != tt.want {
			t.Errorf("%q in %q: got %q, want %q", tt.name, tt.known, got, tt.want)
		}
	}
}
