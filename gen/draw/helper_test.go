package draw_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const demo = "../../testdata/demo/"

var demos = []string{"mortar-cubes", "mortar-cubes-scale", "cartons", "odd-grids", "tube-rack", "dense-plate"}

// demoLayout resolves a demo plan.
func demoLayout(t testing.TB, name string) *layout.Layout {
	t.Helper()
	file := filepath.Join(demo, name+".plan.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return resolve(t, plan.Source{File: file, Data: data, Dir: demo})
}

func textLayout(t testing.TB, text string) *layout.Layout {
	t.Helper()
	return resolve(t, plan.Source{File: "test.plan.yaml", Data: []byte(text), Dir: "."})
}

func resolve(t testing.TB, source plan.Source) *layout.Layout {
	t.Helper()
	var list diag.List
	var sources diag.Sources
	written := plan.Read(source, nil, &list, &sources)
	if written == nil {
		t.Fatalf("%s cannot be read: %v", source.File, list.Sorted())
	}
	l := layout.Resolve(written, layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatalf("%s: %v", source.File, list.Sorted())
	}
	return l
}

func svg(t testing.TB, l *layout.Layout, o draw.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := draw.SVG(&b, l, expand.Moves(l), o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// node is an element of a picture as it was read back.
type node struct {
	name     string
	attr     map[string]string
	text     string
	parent   *node
	children []*node
}

// read parses a picture by the strict rules of XML.
func read(t testing.TB, data []byte) *node {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	root := &node{}
	at := root
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			n := &node{name: token.Name.Local, attr: map[string]string{}, parent: at}
			for _, a := range token.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			at.children = append(at.children, n)
			at = n
		case xml.EndElement:
			at = at.parent
		case xml.CharData:
			at.text += string(token)
		}
	}
	if len(root.children) != 1 || root.children[0].name != "svg" {
		t.Fatal("there is no single svg element")
	}
	return root.children[0]
}

// all are the elements below n, itself included, that a test holds for.
func (n *node) all(is func(*node) bool) []*node {
	var out []*node
	if is(n) {
		out = append(out, n)
	}
	for _, c := range n.children {
		out = append(out, c.all(is)...)
	}
	return out
}

func has(attribute string) func(*node) bool {
	return func(n *node) bool { _, ok := n.attr[attribute]; return ok }
}

func named(name string) func(*node) bool { return func(n *node) bool { return n.name == name } }

// above is the nearest element above that has an attribute.
func (n *node) above(attribute string) *node {
	for n != nil && n.attr[attribute] == "" {
		n = n.parent
	}
	return n
}

// reading is what a view says of itself.
type reading struct {
	right, up        geom.Vec
	scale            float64
	originX, originY float64
}

func readView(t testing.TB, n *node) reading {
	t.Helper()
	right, up := numbers(t, n.attr["data-right"]), numbers(t, n.attr["data-up"])
	origin := numbers(t, n.attr["data-origin"])
	return reading{
		right: geom.Vec{X: right[0], Y: right[1], Z: right[2]}, up: geom.Vec{X: up[0], Y: up[1], Z: up[2]},
		scale: numbers(t, n.attr["data-scale"])[0], originX: origin[0], originY: origin[1],
	}
}

// at is where the package's comment says that a point of the base is drawn.
func (r reading) at(p geom.Vec) (x, y float64) {
	return r.originX + r.scale*r.right.Dot(p), r.originY - r.scale*r.up.Dot(p)
}

var separators = regexp.MustCompile(`[ ,]+`)

// numbers reads figures apart by blanks or commas; a true minus sign counts.
func numbers(t testing.TB, text string) []float64 {
	t.Helper()
	var out []float64
	for _, word := range separators.Split(strings.TrimSpace(text), -1) {
		x, err := strconv.ParseFloat(strings.ReplaceAll(word, "−", "-"), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%q in %q is no finite number", word, text)
		}
		out = append(out, x)
	}
	return out
}

var pathPart = regexp.MustCompile(`([MLAZ])([^MLAZ]*)`)

// corners are the points of path data made of absolute M, L, A and Z.
func corners(t testing.TB, d string) [][2]float64 {
	t.Helper()
	if rest := pathPart.ReplaceAllString(d, ""); rest != "" {
		t.Fatalf("path data %q holds %q", d, rest)
	}
	var out [][2]float64
	for _, m := range pathPart.FindAllStringSubmatch(d, -1) {
		switch {
		case m[1] == "Z":
		case m[1] == "A":
			n := numbers(t, m[2])
			out = append(out, [2]float64{n[5], n[6]})
		default:
			n := numbers(t, m[2])
			out = append(out, [2]float64{n[0], n[1]})
		}
	}
	return out
}
