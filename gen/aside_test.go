package gen

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/readback"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// trays is the benchmark's plan with some thousand moves.
func trays(t *testing.T) *Job {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "golden", "bench", "trays.plan.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	settings := []plan.Setting{{Path: "grids.a.rows", Value: "4"}, {Path: "grids.b.rows", Value: "4"}}
	j := new(Job)
	if !j.Read(plan.Source{File: "trays.plan.yaml", Data: text, Dir: "."}, settings, layout.Options{}) {
		t.Fatal(j.Findings.Sorted())
	}
	return j
}

// TestReadingAheadFindsTheSame: whatever is wrong with a program, the findings do not
// depend on how many read ahead, nor on the pieces that the program comes in.
func TestReadingAheadFindsTheSame(t *testing.T) {
	r := rand.New(rand.NewPCG(64, 10))
	compared, ahead := 0, []int{here, 3, 0, 1, 7}
	if testing.Short() {
		ahead = ahead[:2]
	}
	for _, name := range templates.Names() {
		sub, err := fs.Sub(templates.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		j := trays(t)
		f, ok := j.LoadFamily(sub, name)
		if !ok || !f.Reads.Has() {
			continue
		}
		var program bytes.Buffer
		if err := j.Write(&program, f); err != nil || j.Findings.HasErrors() {
			t.Fatal(name, err, j.Findings.Sorted())
		}
		if program.Len() < 3*pieceSize {
			t.Errorf("%s: the program has %d bytes and is read in too few pieces", name, program.Len())
		}
		if found := readBy(j, f, program.Bytes(), 3, 10_000); found != "" {
			t.Errorf("%s: an untouched program gives\n%s", name, found)
		}
		compared++
		faulty := 0
		for range 6 {
			text := spoilt(r, program.Bytes())
			want := readBy(j, f, text, 0, len(text))
			if want != "" {
				faulty++
			}
			for _, many := range ahead {
				if got := readBy(j, f, text, many, 1+r.IntN(2*pieceSize)); got != want {
					t.Errorf("%s: with %d who read ahead found\n%s\nwanted\n%s", name, many, got, want)
				}
			}
		}
		if faulty < 3 {
			t.Errorf("%s: only %d programs were spoilt so that it shows", name, faulty)
		}
	}
	if compared < 3 {
		t.Errorf("the programs of %d families were read", compared)
	}
}

// spoilt is a program with some digits changed, a line less or an end of lines of
// another sort.
func spoilt(r *rand.Rand, program []byte) []byte {
	text := bytes.Clone(program)
	for n := 1 + r.IntN(3); n > 0; {
		if i := len(text)/3 + r.IntN(len(text)/2); '0' <= text[i] && text[i] <= '9' {
			text[i] = '0' + (text[i]-'0'+3)%10
			n--
		}
	}
	from := r.IntN(len(text))
	switch end := bytes.IndexByte(text[from:], '\n'); {
	case r.IntN(3) == 0 && end >= 0:
		text = append(text[:from], text[from+end+1:]...)
	case r.IntN(3) == 0:
		text = bytes.ReplaceAll(text, []byte("\n"), []byte("\r"))
	case r.IntN(3) == 0:
		text = bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))
	}
	return text
}

// here stands for a program that is read where it is written.
const here = -1

// readBy is what reading a program back finds, a line each.
func readBy(j *Job, f *family.Family, program []byte, many, size int) (found string) {
	p := j.program(f)
	head := p.head()
	var list diag.List
	var a checker = readback.NewChecker(&f.Reads, &head, p.moves(), &list, nil)
	if many != here {
		a = readAsideBy(a.(*readback.Checker), many)
	}
	a.NextFile()
	for len(program) > 0 {
		n := min(size, len(program))
		_, _ = a.Write(program[:n]) // it holds no error
		program = program[n:]
	}
	a.Close()
	for _, d := range list.Sorted() {
		found += fmt.Sprintln(d.Place, d.Rule, d.Message, d.Hint)
	}
	return found
}
