package reads

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestScan tells which patterns have a quicker form.
func TestScan(t *testing.T) {
	for _, c := range []struct {
		pattern string
		quick   bool
	}{
		{"x={x} y={y}", true}, {"grip output={signal} level={level}", true}, {"G0 X{x} Y{y}", true}, {"{level}, {tool}", true}, {"end", true},
		{"{x}{y}", false}, {"{x}.5", false}, {"{x}-{y}", false}, {"{level}a", false}, {"{target} at {x}", true}, {"{x}{target} at", false}, {"{target}", false}, {"({target} at )?{x}", true}, {"{target} of {target} at", false}, {"{target}( x)? y", false}, {"(in )?{target}( x {x})? y", false}, {"(in |out )?{target} at {x}(, {y} mm)?", true}, {"{target} at .*", false}, {"{x} .*", true}, {".*", true}, {".*?", false}, {".* {x}", false}, {"(in .*)?", false}, {"{x", true},
		{"{nothing}", true}, {"{2}", false}, {"a|b", true}, {"( )?{x}", true}, {"( )??{x}", false}, {"(?i)on{x}", false}, {"G0?0", true}, {"x{x}( y{y})?", true},
		{"G0?0(?: X{x})?(?: Y{y})?(?: F{speed})?", true}, {"a(?: {x})?{y}", false}, {"a{x}(?:1{y})?", false}, {"(?: X{x})?(?: XY{y})?", false},
		{"(?: X{x}(?: Y{y})?)?", false}, {"[0-9]+ at {x} s\\.", true}, {"[0-9]+", true}, {"[0-9]*", false}, {"a.b", false}, {"[a-z]", false}, {"\\x{fffd}", false},
		{"N(?P<x>[0-9]+)", false}, {"M0?0|M0?1|M30|%", true}, {"tool={tool} load={load}", true}, {"{tool} {frame}", true}, {"{tool}a", false},
	} {
		if got := scansOf(withFields(c.pattern, '.'), '.') != nil; got != c.quick {
			t.Errorf("%q: a quicker form: %v", c.pattern, got)
		}
	}
}

// FuzzScan holds the quicker form of a pattern to its regular expression.
func FuzzScan(f *testing.F) {
	for _, text := range []string{
		"x=1 y=2", "x=-1.50 y=+.5", "x=1. y=.", "x=- y=1", "x=1.2.3 y=1", "x=1 y=2 ", "x= y=", "x=1 y=2\n", "G0 X1 Y-2", "on, jaw", ", ", "\xff, \xfe", "a\u00a0b, c",
		"G00 X1", "G0", "G0 Y2 F3 mm", "G0 X1 Y2 F3 mm.", "12 x", "M30", "", "00", "0 X1",
		"8  Select.", "8  Select frame x.", "1.5", "a1.", "to the a at b at 1 mm.", "to  at 1 mm, 2 mm.", "to a at 1 mm at 2 mm, 3 mm.", "at at at", "aaaa", "on \n", "in out at at on", "a b", "a b c", "a  b", "tool=jaw load=2", "tool=twin left load=2", "tool=twin left load=2 load=3", "tool=load load=2", "tool=a b c load=2",
	} {
		for _, pattern := range []string{
			"x={x} y={y}", "G0 X{x} Y{y}", "{level}, {tool}", "x={signal} y={level}", "G0?0?(?: X{x})?(?: Y{y})?(?: F{speed} mm)?\\.?",
			"[0-9]+ {level}|M0?[123]|0?0?( X{x})?", "a(?: {x} mm)? mm", "(?: X{x}, {level})?; {tool}", "0?(?: X{x} 0)?0?(?: 0X{y})?",
			"to (the )?{target} at {x} mm(, {y} mm)?\\.", "{level} .*", "{target} at", "a{target}a", ".*", "({target} at )?{x}", "(in |out )?{target} at {level}", "{move}  Select(?: frame {frame})?\\.", "{x}(1|2)", "a{x}\\.?", "tool={tool} load={load}", "{tool} {frame}", "{name} {tool}", "a(?: {tool})?",
		} {
			f.Add(pattern, text)
		}
	}
	f.Fuzz(func(t *testing.T, pattern, text string) {
		sameScan(t, pattern, text, '.')
		sameScan(t, pattern, text, ',')
		sameScan(t, pattern, strings.ReplaceAll(text, ".", ","), ',')
	})
}

func sameScan(t *testing.T, pattern, text string, mark byte) {
	scans := scansOf(withFields(pattern, mark), mark)
	re, err := regexp.Compile("^(?:" + withFields(pattern, mark) + ")$")
	if err != nil {
		return // refused before anything is read
	}
	if lead := leadOf(withFields(pattern, mark), mark); re.MatchString(text) && !lead.leads([]byte(text)) {
		t.Errorf("%q fits %q and does not begin with %v", pattern, text, lead)
	}
	if scans == nil {
		return
	}
	e := &Entry{Line: re, scans: scans}
	for _, s := range scans {
		e.steady = append(e.steady, s.steady())
	}
	for _, name := range re.SubexpNames() {
		f, _ := fieldNamed(name)
		e.Groups = append(e.Groups, f)
	}
	quick, fits := e.Find([]byte(text), nil)
	slow, want := e.search([]byte(text), nil)
	same := func(a, b Found) bool { return a.Field == b.Field && a.From == b.From && a.To == b.To }
	if fits != want || !slices.EqualFunc(quick, slow, same) {
		t.Errorf("%q on %q: %v %v, wanted %v %v", pattern, text, fits, quick, want, slow)
	}
	for _, found := range quick {
		figure, _ := strconv.ParseFloat(strings.Replace(text[found.From:found.To], ",", ".", 1), 64) // infinite where it is too large
		if found.Figure && found.Number != figure {
			t.Errorf("%q on %q: %v is %v", pattern, text, text[found.From:found.To], found.Number)
		}
	}
	if fits && text != "" && !e.CanBegin(text[0]) {
		t.Errorf("%q on %q: it cannot begin so", pattern, text)
	}
}
