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
)

// Output is where files go, and what becomes of those that stand there.
type Output struct {
	To      string // a folder, or the file that a page becomes; or Stdout
	Replace bool   // any file; one that may not be lost is kept beside the new one
}

// Stdout as the place where files go is standard output.
const Stdout = "-"

// Delivery is files on their way to an output. They wait, whole, until every finding
// is known; then Finish brings them to their places.
type Delivery struct {
	Output
	Notes []string // to be said before the findings
	batch *out.Batch
}

// delivery begins one that writes over nothing that was read.
func (o Output) delivery(read out.Read) *Delivery {
	d := &Delivery{Output: o, batch: out.NewBatch()}
	if o.To != Stdout {
		d.batch.Spare(read)
	}
	return d
}

// create makes a file in the folder of the output; what is for standard output is made
// ready among the temporary files.
func (d *Delivery) create(name string) (io.WriteCloser, error) {
	folder := d.To
	if folder == Stdout {
		folder = os.TempDir()
	}
	return d.batch.Create(filepath.Join(folder, name))
}

// program makes the files of the job's program in a family.
func (d *Delivery) program(j *Job, f *family.Family, create render.Create, most int64) error {
	before := len(d.batch.Names())
	if err := j.WriteFiles(create, f, render.Options{MostBytes: most}); err != nil {
		return err
	}
	may := func(name string, list *diag.List) (bool, error) { return mayReplaceProgram(f, name, list) }
	return d.guard(d.batch.Names()[before:], may, &j.Findings)
}

// guard looks at what stands under the names of new files: what may not be replaced is
// an error in list, or is kept.
func (d *Delivery) guard(names []string, may objection, list *diag.List) error {
	if d.To == Stdout {
		return nil
	}
	for _, name := range names {
		same, err := d.batch.Same(name)
		if err != nil {
			return err
		}
		if same {
			continue
		}
		ours, err := may(name, d.objections(list))
		if !ours && d.Replace {
			d.batch.Keep(name)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// objections is the list for what speaks against replacing a file; one that nobody
// reads where replacing is asked for, since the file is kept then.
func (o Output) objections(list *diag.List) *diag.List {
	if o.Replace {
		return new(diag.List)
	}
	return list
}

// Finish brings the files to their places, or to standard output, and gives what is to
// be said about that, a line each.
func (d *Delivery) Finish(stdout io.Writer) ([]string, error) {
	if d.To == Stdout {
		if n := len(d.batch.Names()); n > 1 {
			return nil, fmt.Errorf("the program comes in %d files, which do not fit on one standard output: name a folder with -o", n)
		}
		return nil, d.batch.CopyTo(stdout)
	}
	if err := d.batch.Commit(); err != nil {
		return nil, err
	}
	said := append(each("kept ", d.batch.Kept()), each("wrote ", d.batch.Names())...)
	return append(said, strays(d.batch.Folders()...)...), nil
}

// Discard takes away what was not brought to its place.
func (d *Delivery) Discard() { d.batch.Discard() }

// each puts a word before every name.
func each(word string, names []string) []string {
	lines := make([]string, len(names))
	for i, name := range names {
		lines[i] = word + name
	}
	return lines
}

// strays tells of temporary files in folders that are not of this run.
func strays(folders ...string) []string {
	var lines []string
	for _, stray := range out.Strays(folders...) {
		names, are, them := strings.Join(stray.Names, ", "), "is", "it"
		if n := len(stray.Names); n > 1 {
			are, them = "are", "them"
			if n > 3 {
				names = fmt.Sprintf("%s and %d more", strings.Join(stray.Names[:3], ", "), n-3)
			}
		}
		lines = append(lines, fmt.Sprintf("in the folder %q: %s %s of a run that was killed, or of one that is at work now: delete %s when no other gridferry runs", stray.Folder, names, are, them))
	}
	return lines
}
