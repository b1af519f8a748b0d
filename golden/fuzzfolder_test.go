package golden

import (
	"bytes"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime/metrics"
	"slices"
	"strings"
	"testing"
	"time"

	"gridferry/cmd/cli"
	"gridferry/templates"
)

// bench is the folder that FuzzCommand runs commands in, with its files as they are to be,
// and what lies beside it. Paths are below that, with "/".
type bench struct {
	outer, folder string
	sound, texts  map[string]string // as they were made, and as they are to be now
	stamps        map[string]fs.FileInfo
}

// newBench makes the folder: what the command lines of fuzzedFiles name, and what their
// files may name, inside and outside.
func newBench(t testing.TB, files map[string]string) *bench {
	t.Helper()
	outer := t.TempDir()
	b := &bench{outer, filepath.Join(outer, "bench"), map[string]string{}, map[string]string{}, map[string]fs.FileInfo{}}
	for name, text := range files {
		b.put(t, "bench/"+name, text)
	}
	for _, name := range []string{"out.cell.yaml", "out.plan.yaml", "out/family.yaml", "out.prog", "bench.cell.yaml"} {
		b.put(t, name, outsideMark+": yes\n")
	}
	for name, to := range map[string]string{"link.cell.yaml": "../out.cell.yaml", "link.plan.yaml": "../out.plan.yaml", "linked": "../out"} {
		if err := os.Symlink(to, filepath.Join(b.folder, name)); err != nil {
			t.Log(err) // a system without links has none to follow
		}
	}
	b.sound, b.stamps = maps.Clone(b.texts), b.look(t)
	return b
}

// benchFiles is every file of the folder.
func benchFiles(t testing.TB) map[string]string {
	t.Helper()
	begin, end := strings.Index(twoPegs, "cell:\n"), strings.Index(twoPegs, "parts:")
	beside := func(cell string) string { return twoPegs[:begin] + "cell: " + cell + "\n" + twoPegs[end:] }
	cell := strings.ReplaceAll(twoPegs[begin+len("cell:\n  "):end], "\n  ", "\n")
	touched := strings.NewReplacer("name: a bench\n", "name: a bench\nmeasured: x.measured.yaml\n", "left: {at: [100, 0, 0]}", "left:").Replace(cell)
	files := map[string]string{
		"x.plan.yaml": twoPegs, "y.plan.yaml": beside("x.cell.yaml"), "m.plan.yaml": beside("m.cell.yaml"), "pegs.plan.yaml": twoPegs, "x.cell.yaml": cell, "m.cell.yaml": touched,
		"x.measured.yaml": "format: gridferry measured 1\nframes:\n  left: {three_points: {origin: [100, 0, 0], along_x: [200, 0.1, 0], toward_y: [100, 50, 0]}}\n",
		"points.yaml":     readText(t, "../testdata/measured/tracked_corner.yaml"), "points.csv": readText(t, "../testdata/measured/plate.csv"),
		"x.slots.yaml":    "format: gridferry slots 1\nfilled: {from: A2}\n",
		"x.variants.yaml": "format: gridferry variants 1\nvariants:\n  - {name: low, set: {motion.approach: 30}}\n  - each: {grids.from.columns: [1, 2], motion.fly_by: [0, 1]}\n",
		"case/case.yaml":  "format: gridferry case 1\nplan: ../y.plan.yaml\nfamily: ../mine\nset: [motion.approach=40]\n",
	}
	for _, name := range []string{"family.yaml", "program.tmpl"} {
		data, err := templates.FS.ReadFile("starter/" + name)
		if err != nil {
			t.Fatal(err)
		}
		files["mine/"+name] = string(data)
	}
	for _, pattern := range []string{demoFolder + "/*.cell.yaml", badFolder + "/*.cell.yaml", badFolder + "/*.measured.yaml"} {
		for name, text := range textsOf(t, pattern) {
			files[filepath.Base(name)] = text
		}
	}
	program := programOf(t, "starter")
	for _, name := range []string{"sent.prog", "pegs.prog", "case/expected/y.prog"} {
		files[name] = program
	}
	return files
}

// programOf is the program of twoPegs in a shipped family.
func programOf(t testing.TB, family string) string {
	t.Helper()
	var program, said bytes.Buffer
	if status := cli.Main([]string{"write", "-", "--family", family, "-o", "-"}, strings.NewReader(twoPegs), &program, &said); status != 0 {
		t.Fatal(said.String())
	}
	return program.String()
}

func readText(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// textsOf is the files that a pattern names, by name.
func textsOf(t testing.TB, pattern string) map[string]string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no file is called %s (%v)", pattern, err)
	}
	texts := map[string]string{}
	for _, name := range names {
		texts[name] = readText(t, name)
	}
	return texts
}

// longAgo is the time of every file, so that whatever is written again shows.
var longAgo = time.Unix(1e9, 0)

// put makes a file what it is to be from now on.
func (b *bench) put(t testing.TB, name, text string) {
	t.Helper()
	b.texts[name] = text
	b.restore(t, name)
}

func (b *bench) restore(t testing.TB, name string) {
	t.Helper()
	file := filepath.Join(b.outer, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(b.texts[name]), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(file, longAgo, longAgo); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(file)
	if err != nil {
		t.Fatal(err)
	}
	b.stamps[name] = info
}

// look is what stands in the folder and beside it.
func (b *bench) look(t testing.TB) map[string]fs.FileInfo {
	t.Helper()
	all := map[string]fs.FileInfo{}
	err := filepath.WalkDir(b.outer, func(file string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		info, err := entry.Info()
		all[filepath.ToSlash(file[len(b.outer)+1:])] = info
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// changed is the files that are new, gone or not what they were, in order.
func (b *bench) changed(t testing.TB) []string {
	t.Helper()
	var names []string
	now := b.look(t)
	for name, info := range now {
		if was := b.stamps[name]; was == nil || !os.SameFile(was, info) || was.Mode() != info.Mode() || was.Size() != info.Size() || !was.ModTime().Equal(info.ModTime()) {
			names = append(names, name)
		}
	}
	for name := range b.stamps {
		if now[name] == nil {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// mend makes everything what it is to be.
func (b *bench) mend(t testing.TB) {
	t.Helper()
	for _, name := range b.changed(t) {
		if _, ours := b.texts[name]; ours {
			b.restore(t, name)
		} else if err := os.RemoveAll(filepath.Join(b.outer, filepath.FromSlash(name))); err != nil {
			t.Fatal(err)
		}
	}
}

// contents is some files, one behind the other.
func (b *bench) contents(t testing.TB, names []string) string {
	t.Helper()
	var all strings.Builder
	for _, name := range names {
		if data, err := os.ReadFile(filepath.Join(b.outer, filepath.FromSlash(name))); err == nil { // it may be gone
			all.Write(data)
		}
	}
	return all.String()
}

const (
	mostSeconds = 20      // that a command may take: no measure of speed, but of whether it ends
	mostBytes   = 1 << 30 // that it may ask the system for in all
)

// run runs a command line and fails where it hangs or asks for too much memory.
func (b *bench) run(t *testing.T, args []string, stdin string) result {
	t.Helper()
	hangs := time.AfterFunc(mostSeconds*time.Second, func() { panic("no end to " + strings.Join(args, " ")) })
	defer hangs.Stop()
	before := allocated()
	var stdout, stderr bytes.Buffer
	status := cli.Main(args, strings.NewReader(stdin), &stdout, &stderr)
	if took := allocated() - before; took > mostBytes {
		t.Errorf("%q takes %d MB of memory for %d bytes of input and %d of output", args, took>>20, len(stdin), stdout.Len()+stderr.Len())
	}
	return result{status, stdout.String(), stderr.String()}
}

// allocated is the bytes of memory that were asked for since the start, given back or not.
func allocated() uint64 {
	sample := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	metrics.Read(sample)
	return sample[0].Value.Uint64()
}
