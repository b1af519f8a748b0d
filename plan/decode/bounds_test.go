package decode

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// TestReadingEnds: of a file that is nothing but mistakes, no more is read than there are findings that are kept.
func TestReadingEnds(t *testing.T) {
	const kept = 10_000 // of package diag
	for _, n := range []int{kept, kept + 1, 2 * kept} {
		reads := 0
		counted := func() Form {
			return Own(nil, func(r *Reader, n Node) {
				reads++
				r.WrongType(n, "nothing")
			})
		}
		for text, form := range map[string]Form{
			"[" + strings.Repeat("a,", n) + "]": List{Each: counted},
			"{" + keys(n) + "}":                 Table{Each: func(Value[string]) Form { return counted() }},
			"{ " + keys(n) + "}":                Texts{Each: func(Node) Form { return counted() }},
		} {
			var l diag.List
			root, ok := File("a.yaml", text, &l)
			if !ok || l.Len() > 0 {
				t.Fatal(l.Sorted())
			}
			reads = 0
			form.Read(&Reader{List: &l}, root)
			if reads != kept || !l.Full() {
				t.Errorf("of %d values %d were read: %.10s", n, reads, text)
			}
		}
	}
}

// TestUnknownKeysEnd: the same where the keys of a mapping are known.
func TestUnknownKeysEnd(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: a huge text is read")
	}
	var l diag.List
	root, _ := File("a.yaml", "{"+keys(30_000)+"}", &l)
	Object{What: "a thing", Keys: []Key{Must("last", "", Text(nil))}}.Read(&Reader{List: &l}, root)
	if l.Len() != 10_001 { // and one that is missing
		t.Errorf("%d findings were made", l.Len())
	}
}

func keys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%s%d: 1,", strings.Repeat("x", i%3), i)
	}
	return b.String()
}
