package outline

import (
	"slices"
	"strings"
	"testing"
)

const text = `a: 1
# a remark
b:
  c: &shared [1,
    2]
  d: {e: 5, f: *shared}

  # within b
list:
  - x: one
    y: *shared   # not &shared
  - two
text: |
  lines: that
  are: no keys
last: 3
`

func TestAt(t *testing.T) {
	o := Of("t.yaml", text)
	for line, want := range map[int]string{
		1: "a", 2: "", 3: "b", 4: "b/c", 5: "b/c/2", 6: "b/d", 8: "b", 9: "list", 10: "list/1", 11: "list/1/y", 12: "list/2",
		13: "text", 14: "text", 15: "text", 16: "last",
	} {
		item, ok := o.At(line)
		if got := strings.Join(item.Path, "/"); got != want || ok != (want != "") {
			t.Errorf("line %d is %q, wanted %q", line, got, want)
		}
	}
	if o.Lines() != 16 {
		t.Errorf("%d lines", o.Lines())
	}
}

func TestExtent(t *testing.T) {
	o := Of("t.yaml", text)
	for line, last := range map[int]int{1: 1, 3: 6, 4: 5, 9: 12, 10: 11, 13: 15, 16: 16} {
		if got := o.Extent(line); got[0] != line || got[len(got)-1] != last {
			t.Errorf("what begins on line %d goes on to %v, wanted %d", line, got, last)
		}
	}
}

func TestAliases(t *testing.T) {
	o := Of("t.yaml", text)
	if got := o.Aliases(4); !slices.Equal(got, []int{6, 11}) {
		t.Errorf("aliases on lines %v", got)
	}
	if got := o.Aliases(11); got != nil {
		t.Errorf("a remark is taken for an anchor: %v", got)
	}
}

// What cannot be read has lines and nothing on them.
func TestBroken(t *testing.T) {
	o := Of("t.yaml", "a: [1\nb: 2\n")
	if _, ok := o.At(1); ok || o.Lines() != 2 {
		t.Errorf("%d lines, something on the first: %v", o.Lines(), ok)
	}
}

func FuzzOf(f *testing.F) {
	f.Add(text)
	f.Add("- [a, {b: c}]\n- &x y\n- *x\n")
	f.Fuzz(func(t *testing.T, text string) {
		o := Of("t.yaml", text)
		for n := 1; n <= o.Lines(); n++ {
			if item, ok := o.At(n); ok && item.Place.Line > n {
				t.Errorf("line %d is within what begins on line %d", n, item.Place.Line)
			}
			o.Extent(n)
			o.Aliases(n)
		}
	})
}
