package wording

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestCount(t *testing.T) {
	for _, c := range []struct {
		n    int
		noun string
		want string
	}{{1, "row", "1 row"}, {2, "row", "2 rows"}, {0, "part", "0 parts"}, {-1, "part", "-1 parts"}, {1, "entry", "1 entry"}, {12, "entry", "12 entries"}, {3, "keep-out box", "3 keep-out boxes"}} {
		if got := Count(c.n, c.noun); got != c.want {
			t.Errorf("found %q, wanted %q", got, c.want)
		}
	}
	if one, two := Number(1, "part stands", "parts stand"), Number(2, "part stands", "parts stand"); one != "1 part stands" || two != "2 parts stand" {
		t.Errorf("found %q and %q", one, two)
	}
}

func TestLevel(t *testing.T) {
	if Level(true) != "on" || Level(false) != "off" {
		t.Errorf("found %q and %q", Level(true), Level(false))
	}
}

// A time never reads "60.0 s", "1 min 60 s" or "1 h 60 min".
func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{
		0: "0.0 s", 0.84: "0.8 s", 59.94: "59.9 s", 59.95: "1 min 00 s", 59.96: "1 min 00 s", 90: "1 min 30 s", 63.4: "1 min 03 s", 119.6: "2 min 00 s", 399: "6 min 39 s",
		3599.4: "59 min 59 s", 3599.5: "1 h 00 min", 3599.6: "1 h 00 min", 3725.4: "1 h 02 min", 7169.9: "1 h 59 min", 7170: "2 h 00 min", 7500: "2 h 05 min", 200000: "55 h 33 min",
	} {
		if got := Clock(seconds); got != want {
			t.Errorf("%g seconds are %q, wanted %q", seconds, got, want)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 10, nil},
		{" \n ", 10, nil},
		{"one two three", 7, []string{"one two", "three"}},
		{"one\n two\tthree", 20, []string{"one two three"}},
		{"a longword b", 4, []string{"a", "longword", "b"}},
		{"äöü äöü", 7, []string{"äöü äöü"}}, // characters, not bytes
	} {
		if got := Wrap(c.text, c.width); !slices.Equal(got, c.want) {
			t.Errorf("%q at %d is %q, wanted %q", c.text, c.width, got, c.want)
		}
	}
}

func TestList(t *testing.T) {
	words := strings.Fields("a b c d e")
	for n, want := range []string{"", "a", "a and b", "a, b and c", "a, b and 2 more", "a, b and 3 more"} {
		most := 3
		if n > most {
			most = 2
		}
		if got := List(words[:n], most); got != want {
			t.Errorf("%d words are %q, wanted %q", n, got, want)
		}
	}
}

func TestShorten(t *testing.T) {
	for _, c := range []struct {
		text string
		most int
		want string
	}{{"", 3, ""}, {"abc", 3, "abc"}, {"abcd", 3, "ab…"}, {"äöüß", 4, "äöüß"}, {"äöüßx", 4, "äöü…"}, {"abc", 1, "…"}} {
		if got := Shorten(c.text, c.most); got != c.want {
			t.Errorf("%q at %d is %q, wanted %q", c.text, c.most, got, c.want)
		}
	}
	if got := Shorten(strings.Repeat("é", 1000), 40); utf8.RuneCountInString(got) != 40 {
		t.Errorf("%q has %d characters", got, utf8.RuneCountInString(got))
	}
}

func TestStem(t *testing.T) {
	for file, want := range map[string]string{
		"cubes.plan.yaml": "cubes", "cubes.yml": "cubes", "cubes.json": "cubes", "bench.cell.yaml": "bench", "cubes.yaml.txt": "cubes.yaml.txt",
		"folder/cubes.plan.yaml": "folder/cubes", "<stdin>": "plan", "plan": "plan", "Pru\u0308fung.plan.yaml": "Pr\u00fcfung",
	} {
		if got := Stem(file); got != want {
			t.Errorf("%q is called %q, wanted %q", file, got, want)
		}
	}
}

// No number is cut into another one.
func TestShortenWords(t *testing.T) {
	const text = "at  330.000    0.000  250 mm/s"
	for most, want := range map[int]string{30: text, 29: "at  330.000    0.000  250…", 27: "at  330.000    0.000  250…", 25: "at  330.000    0.000…", 9: "at…", 2: "…", 0: "…"} {
		if got := ShortenWords(text, most); got != want {
			t.Errorf("%d: %q, wanted %q", most, got, want)
		}
	}
}

func TestLasts(t *testing.T) {
	for waits, want := range map[int]string{0: "1 min 03 s", 1: "1 min 03 s and 1 wait of unknown length", 2: "1 min 03 s and 2 waits of unknown length"} {
		if got := Lasts(63, waits); got != want {
			t.Errorf("%q, wanted %q", got, want)
		}
	}
}
