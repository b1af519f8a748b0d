package reads

import (
	"strings"
	"testing"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// readsOf is a family with frames that it names, a pattern and a row of its own, and lines that move the arm.
func readsOf(t *testing.T, pattern, row string) *Reads {
	t.Helper()
	r := &Reads{Rules: &rules.Rules{Comment: rules.Comment{Form: rules.Marked, Open: "#"}}}
	for q := range r.Rules.Units {
		r.Rules.Units[q] = rules.Unit{Times: 1, Over: float64(q + 1)}
	}
	add := func(e Entry, source string) {
		if e.source = source; e.build('.') != nil {
			return // refused before anything is read
		}
		for _, name := range e.Line.SubexpNames() {
			f, _ := fieldNamed(name)
			e.Groups = append(e.Groups, f)
		}
		r.Entries = append(r.Entries, e)
	}
	add(Entry{Means: MeansFrame}, `frame {number} {name}`)
	add(Entry{Means: MeansFrame}, `frame {number} {name} like {frame}`)
	add(Entry{Means: MeansFrame}, `frame {name} number {number}`)
	add(Entry{Means: MeansMove, Kind: move.Travel, Gives: []Given{{Found{Field: Speed, Figure: true, Number: 7}, "7"}}}, `travel x={x}( y={y})? in {frame}( fly {fly_by})?`)
	add(Entry{Means: MeansText, Within: "text", Leaves: true}, `go {x} .*`)
	add(Entry{Means: MeansMove, Kind: move.Straight, Then: "text"}, `go {x} {roll} {speed}|go {x} to {target} at {speed}`)
	add(Entry{Means: MeansMove, Kind: move.Grip}, pattern)
	e := Entry{Means: MeansMove, Kinds: map[float64]move.Kind{1: move.Select, 2: move.Travel, 3.5: move.Dwell}}
	e.small[1], e.small[2] = smallKind{move.Select, true}, smallKind{move.Travel, true}
	for _, name := range strings.Fields("kind " + row) {
		f, _ := fieldNamed(name)
		e.Row = append(e.Row, f)
	}
	e.steady = []int{steady(e.Row)}
	r.Entries = append(r.Entries, e)
	return r
}

// sameAlone holds what lines say one behind another to what they say where nothing is remembered of those before.
func sameAlone(t *testing.T, r *Reads, text string) (met int) {
	t.Helper()
	p, alone := newParser(r, move.Job{}), newParser(r, move.Job{})
	section := ""
	for line := range strings.SplitSeq(text, "\n") {
		var got, want Item
		alone.met.forget()
		e, same := p.parse([]byte(line), section, &got), alone.parse([]byte(line), section, &want)
		if e != same || string(got.Text) != string(want.Text) || got.Means != want.Means || got.Kind != want.Kind || got.Values != want.Values {
			t.Errorf("%.100q behind others reads as %v %+v\nwanted %v %+v", line, got.Kind, got.Values, want.Kind, want.Values)
		}
		if e != nil {
			section = e.Behind(section)
			if p.met.end != nil && p.met.known {
				met++
			}
		}
	}
	return met
}

var tailLines = []string{
	"travel x=1 y=2 in a\ntravel x=-100.25 in a\nframe 1 a\ntravel x=1 in a fly 3\nframe b number 2\ntravel x=2 in a\ntravel x=2 in b\ntravel x=2 in b\nframe 3 d like b\nframe 2 b like b\nframe 4 e like b\ntravel x=2 in e\nframe 5 f like e",
	"go 1 2 3\ngo 1 2 3\ngo 2 2 3\ngo 1 to A1 at B at 5\ngo 7 2 3\ngo 2 to A1 at B at 5\ngo 2 to A1 at 5 # x\ngo 2 to A1  at 5",
	"1, a, 2, 3, 4\n1, a, 2, 3, 4\n2, a, 5, 3, 4\n 2 , a,6, 3, 4,\n2, a, 6, 3\n2, a, 6, 3, 4, 5\n3.5, a, 6, 3, 4\n4, a, 6, 3, 4\n2, a, 6, x, 4",
	"grip 1 on\ngrip 1 on\ngrip 1 on\ngrip 1 off\ngrip 1 other\ngrip 1 other\ngrip 01 on",
	"grip 1 " + strings.Repeat("9", 300) + "\ngrip 1 " + strings.Repeat("9", 300) + "\ngrip 1 on",
}

// TestTails: lines that end alike are read by what stood in the ones before.
func TestTails(t *testing.T) {
	for i, text := range tailLines[:4] {
		if met := sameAlone(t, readsOf(t, "grip {signal} {level}", "frame x speed roll"), text); met < 2 {
			t.Errorf("text %d: %d ends were met before", i, met)
		}
	}
}

// FuzzTails holds lines behind others to the same lines alone.
func FuzzTails(f *testing.F) {
	for _, text := range tailLines {
		for _, pattern := range []string{"grip {signal} {level}", "grip {signal} {time}", "{x} {target} at {speed}", "{number} {name} {load}", "{name} {number}", "g{x}( f{fly_by})?( s{speed})?", "{point} .*"} {
			f.Add(pattern, "frame x speed roll", text)
			f.Add(pattern, "number name x load", text)
		}
	}
	f.Fuzz(func(t *testing.T, pattern, row, text string) {
		sameAlone(t, readsOf(t, withFields(pattern, '.'), row), text)
	})
}
