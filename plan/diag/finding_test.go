package diag

import (
	"slices"
	"testing"
)

func TestPlaceString(t *testing.T) {
	tests := []struct {
		place Place
		want  string
	}{
		{Place{}, ""},
		{Place{File: "f"}, "f"},
		{Place{File: "f", Line: 3}, "f:3"},
		{Place{"f", 3, 7, 2}, "f:3:7"},
	}
	for _, tt := range tests {
		if got := tt.place.String(); got != tt.want {
			t.Errorf("%#v: got %q, want %q", tt.place, got, tt.want)
		}
	}
}

func TestPlaceOrder(t *testing.T) {
	ordered := []Place{{File: "a"}, {"a", 1, 2, 9}, {"a", 1, 3, 0}, {"a", 2, 1, 0}, {"a", 10, 1, 0}, {"b", 1, 1, 0}, {}}
	for i, p := range ordered {
		for j, q := range ordered {
			if got := p.Less(q); got != (i < j) {
				t.Errorf("%v before %v: %v", p, q, got)
			}
		}
	}
}

func TestListIsSortedByPlace(t *testing.T) {
	var l List
	l.Warnf("w", Place{}, "5")
	l.Errorf("e", Place{"b", 1, 1, 0}, "4")
	first := l.Errorf("e", Place{"a", 2, 1, 0}, "2")
	l.Warnf("w", Place{"a", 2, 1, 0}, "3")
	l.Warnf("w", Place{"a", 1, 9, 0}, "1")
	first.WithHint("%d", 42) // must not be lost when the list grew
	var got []string
	for _, f := range l.Sorted() {
		got = append(got, f.Message)
	}
	if want := []string{"1", "2", "3", "4", "5"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if hint := l.Sorted()[1].Hint; hint != "42" {
		t.Errorf("the hint is %q", hint)
	}
}

func TestHasErrors(t *testing.T) {
	var l List
	l.Warnf("w", Place{}, "m")
	if l.HasErrors() || l.Len() != 1 {
		t.Error("a warning is not an error")
	}
	l.Errorf("e", Place{}, "m")
	if !l.HasErrors() || l.Len() != 2 {
		t.Error("the error is not seen")
	}
}

func TestSeverityZeroIsInvalid(t *testing.T) {
	var s Severity
	if s == Error || s == Warning || s.String() == "error" {
		t.Error("the zero severity must not pass for a real one")
	}
}

func TestSourcesLine(t *testing.T) {
	var src Sources
	if _, ok := src.Line("f", 1); ok {
		t.Error("a line of no file")
	}
	src.Add("f", []byte("\ufeffone\r\ntwo\rthree\nfour"))
	for i, want := range []string{"one", "two", "three", "four"} {
		if got, ok := src.Line("f", i+1); !ok || got != want {
			t.Errorf("line %d: %q %v", i+1, got, ok)
		}
	}
	for _, n := range []int{-1, 0, 5} {
		if _, ok := src.Line("f", n); ok {
			t.Errorf("line %d is there", n)
		}
	}
}
