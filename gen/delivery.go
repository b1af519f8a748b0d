package gen

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/out"
	"gridferry/gen/render"
	"gridferry/plan/diag"
	"gridferry/plan/digest"
)

// Output is where files go, and what may happen to existing ones.
type Output struct {
	To      string // a folder, or the file that a page becomes; or Stdout
	Replace bool   // replace any file, and keep it beside the new one if it was changed by hand or is of another kind
}

// Stdout stands for standard output.
const Stdout = "-"

// Delivery is files on their way to an output. They are complete, but wait as temporary
// files until all findings are known; then Finish puts them in place.
type Delivery struct {
	Output
	Skipped []string // families that were left out, a line each
	batch   *out.Batch
}

// delivery begins an empty one, which refuses to write over files that were read.
func (o Output) delivery(read out.Read) *Delivery {
	d := &Delivery{Output: o, batch: out.NewBatch()}
	if o.To == Stdout {
		d.batch.OnlyCopied()
	}
	d.batch.Spare(read)
	return d
}

// create begins a file in the folder of the output; in that of temporary files if it goes
// to standard output.
func (d *Delivery) create(name string) (io.WriteCloser, error) {
	folder := d.To
	if folder == Stdout {
		folder = os.TempDir()
	}
	return d.batch.Create(filepath.Join(folder, name))
}

// program writes the files of a program.
func (d *Delivery) program(j *Job, f *family.Family, create render.Create, most int64) error {
	before := len(d.batch.Names())
	if err := j.WriteFiles(create, f, render.Options{MostBytes: most}); err != nil {
		return err
	}
	may := func(name string, list *diag.List) (bool, error) { return mayReplaceProgram(f, name, list) }
	return d.guard(d.batch.Names()[before:], may, &j.Findings)
}

// guard looks at existing files of the same names, now and once more when the new ones take
// their places. One that may not be replaced is an error in list, or will be kept beside the
// new file.
func (d *Delivery) guard(names []string, may mayReplace, list *diag.List) error {
	if d.To == Stdout {
		return nil
	}
	for _, name := range names {
		seen, err := digestOfFile(name)
		if err != nil {
			return err
		}
		stays, err := d.stays(name, may, list)
		if err != nil {
			return err
		}
		d.batch.Guard(name, func() (keep bool, err error) {
			now, err := digestOfFile(name)
			if err != nil || now == seen {
				return stays && d.Replace, err
			}
			var late diag.List
			if stays, err = d.stays(name, may, &late); err == nil {
				err = firstOf(&late)
			}
			return stays && d.Replace, err
		})
	}
	return nil
}

// digestOfFile is by what a file is known again; "" for none.
func digestOfFile(name string) (string, error) {
	file, err := existing(name)
	if file == nil {
		return "", err
	}
	defer file.Close()
	return digest.OfAll(file)
}

// stays reports whether an existing file may not be lost, for what is in list then.
func (d *Delivery) stays(name string, may mayReplace, list *diag.List) (bool, error) {
	if same, err := d.batch.Same(name); same || err != nil {
		return false, err
	}
	ours, err := may(name, d.objections(list))
	return !ours, err
}

// firstOf is the first finding of a list as an error, for when findings are printed already;
// nil for none.
func firstOf(list *diag.List) error {
	for _, f := range list.Sorted() {
		return fmt.Errorf("%s: %s; nothing is written: %s", f.Place.File, f.Message, f.Hint)
	}
	return nil
}

// objections is the list for reasons not to replace a file. With Replace nobody reads
// it, since the file is kept.
func (o Output) objections(list *diag.List) *diag.List {
	if o.Replace {
		return new(diag.List)
	}
	return list
}

// Finish puts the files in place, or copies them to standard output. It returns what to
// say about that, a line each.
func (d *Delivery) Finish(stdout io.Writer) ([]string, error) {
	if d.To == Stdout {
		if n := len(d.batch.Names()); n > 1 {
			return nil, fmt.Errorf("the program has %d files, and standard output takes one: name a folder with -o", n)
		}
		return nil, d.batch.CopyTo(stdout)
	}
	if err := d.batch.Commit(); err != nil {
		return nil, err
	}
	said := append(each("kept ", d.batch.Kept()), each("wrote ", d.batch.Names())...)
	return append(said, strays(d.batch.Folders()...)...), nil
}

// Discard removes the temporary files that were not put in place.
func (d *Delivery) Discard() { d.batch.Discard() }

// each puts a word in front of every name.
func each(word string, names []string) []string {
	lines := make([]string, len(names))
	for i, name := range names {
		lines[i] = word + name
	}
	return lines
}

// strays says which folders hold temporary files of other runs, a line each.
func strays(folders ...string) []string {
	const most = 3
	var lines []string
	for _, stray := range out.Strays(folders...) {
		names := strings.Join(stray.Names[:min(len(stray.Names), most)], ", ")
		if more := len(stray.Names) - most; more > 0 {
			names += fmt.Sprintf(" and %d more", more)
		}
		lines = append(lines, fmt.Sprintf("the folder %q holds temporary files of another run (%s): delete them if no other gridferry is running", stray.Folder, names))
	}
	return lines
}
