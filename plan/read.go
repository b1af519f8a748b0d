package plan

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Source is a plan's text and where the files it names are looked for.
type Source struct {
	File string // as findings show it
	Data []byte
	Dir  string // the folder that "cell:" is relative to

	// VariantsKnown says that the plan's own variants have been read, without errors: one variant
	// after the other passes over them, of which there may be thousands.
	VariantsKnown bool

	// Cells keeps the cell for the next reading, and has that of the last one; nil for neither.
	Cells *Cells

	// Read gives the text of another file that the plan or its cell names; nil is
	// Named.Read, the disk. An editor gives what it has not saved yet.
	Read func(Named) ([]byte, error)
}

// Named is a file that a plan, its cell or a flag names.
type Named struct {
	Key  string // that names it: "cell", "measured", "urdf", "contents" or "list"
	File string // as findings show it, and as it is found from the present folder

	dir, below string // the folder that it must lie in, and its name there
	typed      bool   // a flag names it: it may lie anywhere
}

// Read reads it from the disk. Its name leads nowhere outside the plan's folder, unless it
// was typed.
func (n Named) Read() ([]byte, error) {
	if n.typed {
		return readTyped(n.File)
	}
	return ReadWithin(n.dir, n.below)
}

// Open reads a plan file into memory; "-" is stdin. The error is for the
// person at the command line: there is no place in a file to point at.
func Open(file string, stdin io.Reader) (Source, error) {
	if file == "-" {
		data, err := readAtMost(stdin)
		return Source{File: "<stdin>", Data: data, Dir: "."}, err
	}
	f, err := os.Open(file)
	if err != nil {
		return Source{}, err
	}
	defer f.Close()
	if err := regular(f); err != nil {
		return Source{}, fmt.Errorf("%s: %w", file, err)
	}
	data, err := readAtMost(f)
	return Source{File: filepath.ToSlash(file), Data: data, Dir: filepath.Dir(file)}, err
}

// LargestFile is the largest file that is read, in bytes.
const LargestFile = 16 << 20

// readAtMost reads a little more than the largest file, so that the reader of
// the text can say that it is too large.
func readAtMost(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, LargestFile+1))
}

func regular(f fs.File) error {
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.IsDir() {
		return errors.New("is a folder")
	}
	return nil
}

type reader struct {
	decode.Reader
	sources *diag.Sources
	read    func(Named) ([]byte, error) // what the source has for that; nil for the disk
	given   map[string]bool             // what findings call the settings that were applied
	tabled  struct{ bytes, lines int }  // of the tables that were read
	rounded roundedIDs                  // of the table that is read
	cellAt  cellText                    // the cell that is read
}

// Read decodes a plan and the cell it names. Everything that is wrong goes to
// list; the plan is nil only when there is nothing to decode. What could not
// be read is left unset, and later stages pass over it without a word.
func Read(source Source, settings []Setting, list *diag.List, sources *diag.Sources) *Plan {
	r := &reader{Reader: decode.Reader{List: list}, sources: sources, read: source.Read, given: map[string]bool{}}
	root, ok := r.file(source.File, source.Data)
	if !ok {
		return nil
	}
	if f := r.mistaken(root, kinds[Format]); f != nil {
		f.WithHint("name the plan%s", besidePlan[root.Child("format").Text()])
		return nil
	}
	files := SettingFiles(settings)
	for i, s := range settings {
		if s.short == nil && !ofCell(s) && !list.Full() {
			r.change(root, files[i], s, 0)
		}
	}
	cell := source.Cells.read(source.Cells.nameOf(root, settings), r, func() func() *Cell {
		text := r.openCell(source, root, settings, files)
		return func() *Cell { return r.cell(text) }
	})
	r.changeShort(root, settings, files)
	p := &Plan{File: source.File, Place: root.Place(), Unread: Unread{"grid": true}} // until there is one
	own := variants(new([]Variant))
	if source.VariantsKnown {
		own = decode.Own(nil, func(*decode.Reader, decode.Node) {})
	}
	planForm(p, decode.Own(nil, func(*decode.Reader, decode.Node) { p.Cell = cell() }), own).Read(&r.Reader, root)
	r.readContents(source.Dir, p.Grids)
	r.readWorklists(source.Dir, p.Transfers)
	return p
}

// file reads the text of a file, and keeps it for findings: the tree rests on the same text.
func (r *reader) file(name string, data []byte) (decode.Node, bool) {
	text := string(data)
	r.sources.AddText(name, text)
	return decode.File(name, text, r.List)
}

// kinds is what files are, by their first line.
var kinds = map[string]string{
	Format: "a plan", CellFormat: "a cell", MeasuredFormat: "a file of measured values",
	SlotsFormat: "a file of slots", VariantsFormat: "a file of variants",
}

// besidePlan is how a plan comes to the files that are named in its place.
var besidePlan = map[string]string{
	CellFormat:     ": it says under \"cell\" where its cell is",
	MeasuredFormat: ": its cell says under \"measured\" where measured values are",
	SlotsFormat:    ", and this file with --slots beside --from",
	VariantsFormat: ", and this file with --variants of \"vary\"",
}

// mistaken reports a file of another kind than the one that is wanted: one finding, in
// place of one for every key. It is nil where there is nothing to report.
func (r *reader) mistaken(root decode.Node, wanted string) *diag.Finding {
	if !decode.IsMap(root) {
		return nil
	}
	format := root.Child("format")
	what, known := kinds[format.Text()]
	if !known || what == wanted {
		return nil
	}
	return r.List.Errorf("bad-format", format.Place(), "this is %s, wanted %s", what, wanted)
}

// ofCell reports whether a setting changes something inside the cell.
func ofCell(s Setting) bool { return s.short == nil && strings.HasPrefix(s.Path, "cell.") }

func cellNode(root decode.Node) decode.Node {
	if !decode.IsMap(root) {
		return decode.Node{}
	}
	return root.Child("cell")
}

// knownKeys is the keys that a plan or its cell can have where a path leads.
func knownKeys(parts []string) []string {
	row, found := decode.Find(PlanForm(), parts...)
	if !found {
		return nil
	}
	return decode.Names(decode.Keys(row.Form))
}

// change applies a setting to a tree, to which the first parts of its path lead.
func (r *reader) change(root decode.Node, file string, s Setting, parts int) {
	r.given[file] = true
	r.sources.Add(file, []byte(s.text()))
	root.SetOrAdd(parts, s.Path, s.Value, file, utf8.RuneCountInString(s.Path)+2, knownKeys, r.List)
}

// beside is the file that a key names, beside the file that names it or below, and so never outside the plan's
// folder: a plan that somebody sends must not open files elsewhere.
func (r *reader) beside(key, dir, below, name string) (Named, []byte, error) {
	n := Named{Key: key, dir: dir, below: path.Join(below, name)}
	n.File = filepath.ToSlash(filepath.Join(dir, filepath.FromSlash(n.below)))
	if !filepath.IsLocal(filepath.FromSlash(name)) {
		return n, nil, errors.New("the path leads out of the plan's folder")
	}
	data, err := r.text(n)
	return n, data, err
}

// Beside is a file that a key names, and its text, as a reader of the source has it. The name is from a
// folder below the plan's.
func (s Source) Beside(key, below, name string) (Named, []byte, error) {
	r := &reader{read: s.Read}
	return r.beside(key, s.Dir, below, name)
}

func (r *reader) text(n Named) ([]byte, error) {
	if r.read == nil {
		return n.Read()
	}
	return r.read(n)
}

// ReadWithin reads a plain file in a folder or below. Neither its name nor a link leads
// out of there.
func ReadWithin(dir, name string) ([]byte, error) {
	file := filepath.FromSlash(name)
	if strings.Contains(name, `\`) { // on Windows it would set folders apart, and nowhere else
		return nil, errors.New("folders are set apart by \"/\" in a file, on every system")
	}
	if !filepath.IsLocal(file) {
		return nil, fmt.Errorf("the path leads out of the folder %q", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, reason(err)
	}
	defer root.Close()
	// Looked at before it is opened: to open a pipe waits for its other end.
	if err := plain(root.Stat(file)); err != nil {
		return nil, err
	}
	f, err := root.Open(file)
	if err != nil {
		return nil, reason(err)
	}
	defer f.Close()
	if err := plain(f.Stat()); err != nil {
		return nil, err
	}
	return readAtMost(f)
}

// plain refuses what is no plain file: a folder, a pipe, a device.
func plain(info fs.FileInfo, err error) error {
	switch {
	case err != nil:
		return reason(err)
	case info.IsDir():
		return errors.New("is a folder")
	case !info.Mode().IsRegular():
		return errors.New("is no plain file")
	}
	return nil
}

// reason is an error without the path, which the finding has already.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
