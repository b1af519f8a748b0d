package scene_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/scene"
	"gridferry/plan"
)

// TestFigures: a figure is written as the nearest one with its decimals, by strconv's own word.
func TestFigures(t *testing.T) {
	for v, want := range map[scene.Length]string{
		0: "0", scene.Length(math.Copysign(0, -1)): "0", -0.0004: "0", 0.0005: "0.001", -12.3456: "-12.346", 1200: "1200", 0.1 + 0.2: "0.3", 99.9996: "100", 1e15: "1000000000000000",
		scene.Length(math.NaN()): "0", scene.Length(math.Inf(1)): "0", scene.Length(math.Inf(-1)): "0",
	} {
		if got, err := json.Marshal(v); err != nil || string(got) != want {
			t.Errorf("%g is written as %s, wanted %s (%v)", float64(v), got, want, err)
		}
	}
}

// TestReadBack: what is written is JSON that encoding/json reads as the same scene, to the decimals of each figure, and
// writes again as the same text.
func TestReadBack(t *testing.T) {
	for name, j := range demos(t) {
		var first, second, again bytes.Buffer
		for _, w := range []*bytes.Buffer{&first, &second} {
			if err := j.Scene(w, nil, large); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Errorf("%s: two scenes of one job differ", name)
		}
		if err := shown(t, j, large).Write(&again); err != nil || !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Errorf("%s: what was read is written otherwise (%v)", name, err)
		}
	}
}

// TestNothingEndsTheScript: whatever the texts of a plan say, nothing in the JSON ends a script element, begins a comment in it
// (WHATWG HTML, restrictions for contents of script elements) or breaks a line of it, and it reads as the same texts.
func TestNothingEndsTheScript(t *testing.T) {
	const hostile = "</script><!-- <script> & \"quoted\" \\ \U0001F600"
	text := strings.NewReplacer("title: ", "title: "+strconv.Quote(hostile)+" #", "begin: [", "begin: [{note: "+strconv.Quote(hostile)+"}, ").
		Replace("title: \n" + corke)
	j := read(t, plan.Source{File: "</script>.plan.yaml", Data: []byte(text), Dir: "."})
	o := large
	o.Texts = true
	var out bytes.Buffer
	if err := j.Scene(&out, nil, o); err != nil {
		t.Fatal(err)
	}
	if unsafe := strings.IndexAny(out.String(), "<>&\u2028\u2029"); unsafe >= 0 {
		t.Errorf("%q is in the text", out.String()[unsafe:min(unsafe+20, out.Len())])
	}
	if s := shown(t, j, o); s.Title != hostile || !strings.Contains(s.Moves.Words[0], "</script>") || !slices.Contains(s.Files, "script>.plan.yaml") {
		t.Errorf("the title is %q, the first move %q, the files %q", s.Title, s.Moves.Words[0], s.Files)
	}
}

// FuzzScene makes scenes of any texts that read as a plan: what is written is JSON that is safe in a script element, its columns
// are as long as the list, and numbers in it mean something that there is.
//
//fuzz:2s
func FuzzScene(f *testing.F) {
	folder := filepath.Join("..", "..", "testdata", "demo")
	seeds := 0
	for _, of := range []string{"demo", "bad"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", of, "*.plan.yaml"))
		if err != nil {
			f.Fatal(err)
		}
		for i, file := range files {
			if testing.Short() && i%5 > 0 {
				continue
			}
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(data), uint16(300))
			seeds++
		}
	}
	if seeds < 100 {
		f.Fatalf("only %d seeds: are the folders right?", seeds)
	}
	f.Add(corke, uint16(7))
	f.Fuzz(func(t *testing.T, text string, most uint16) {
		j := new(gen.Job)
		if !j.Read(plan.Source{File: "fuzz", Data: []byte(text), Dir: folder}, nil, layout.Options{Slots: 2000}) || j.Counts().Moves > 20_000 {
			return
		}
		o := scene.Options{Moves: int(most), Slots: int(most), Joints: true, Texts: true}
		var out bytes.Buffer
		if err := j.Scene(&out, nil, o); err != nil {
			t.Fatal(err)
		}
		if !json.Valid(out.Bytes()) || bytes.ContainsAny(out.Bytes(), "<>&\u2028\u2029") {
			t.Fatal("the JSON is not valid, or not safe in a script element")
		}
		holds(t, shown(t, j, o))
	})
}

// holds demands of a scene that it is in one piece.
func holds(t *testing.T, s *scene.Scene) {
	t.Helper()
	m := &s.Moves
	for name, n := range map[string]int{
		"kind": len(m.Kind), "role": len(m.Role), "transfer": len(m.Transfer), "at": len(m.At) / 3, "turn": len(m.Turn), "tool": len(m.Tool), "speed": len(m.Speed),
		"slot": len(m.Slot) / 2, "place": len(m.Place) / 2, "seconds": len(m.Seconds), "words": len(m.Words),
	} {
		if n != m.N {
			t.Errorf("the column %q is of %d moves, and there are %d", name, n, m.N)
		}
	}
	for i := range m.N {
		if int(m.Turn[i]) >= len(m.Turns) || int(m.Tool[i]) >= len(s.Tools) || int(m.Place[2*i]) >= len(s.Files) || int(m.Slot[2*i]) >= len(s.Grids) {
			t.Fatalf("move %d has the turn %d, the tool %d, the file %d or the grid %d that is not there", i+1, m.Turn[i], m.Tool[i], m.Place[2*i], m.Slot[2*i])
		}
		if g := m.Slot[2*i]; g >= 0 && !s.Grids[g].Whole && !slices.Contains(s.Grids[g].Index, m.Slot[2*i+1]) {
			t.Fatalf("move %d works at slot %d of %q, which is not shown", i+1, m.Slot[2*i+1], s.Grids[g].Name)
		}
	}
	for _, g := range s.Grids {
		n := len(g.At) / 3
		if g.Whole && n != g.Count || !g.Whole && n != len(g.Index) || g.Turn != nil && len(g.Turn) != n || g.Solid >= len(s.Solids) {
			t.Errorf("the grid %q has %d positions of %d slots, %d turns, and the solid %d", g.Name, n, g.Count, len(g.Turn), g.Solid)
		}
	}
	for i, lies := range m.Lies {
		if int(lies) > len(s.Grids[m.Slot[2*i]].Lies) {
			t.Errorf("the part of move %d lies as number %d, and there are %d", i+1, lies, len(s.Grids[m.Slot[2*i]].Lies))
		}
	}
}
