package gen

import (
	"fmt"
	"math/bits"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/summary"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Variation is a plan with variants.
type Variation struct {
	Source   plan.Source
	Settings []plan.Setting // for every variant, before its own; short forms come last
	Options  layout.Options
	Variants []plan.Variant

	// Write writes the programs of a variant without errors, as Folders.Write does, and
	// may add findings to the job. It is called from several goroutines.
	Write func(job *Job, v *plan.Variant) (Programs, error)
	// Done is called for every variant that is finished, in their order.
	Done func(finished int)

	texts sync.Map   // each text that variants have read, under itself
	cells plan.Cells // that they have read
}

// Programs is the result of writing a variant.
type Programs struct {
	Lines   []int // of each family
	Changed bool  // some file differs from the one before
}

// Varied is the result of one variant.
type Varied struct {
	Variant  *plan.Variant
	Row      summary.Row
	Findings []diag.Finding // of very many the first
	Sources  *diag.Sources  // which share the texts that several variants have read
	Err      error          // trouble outside the plan, such as a disk that is full
}

// moreGarbage is how much may be left over before it is collected, as a percentage of what is in use. Of a variant next to nothing
// stays, so that hardly anything is in use: with Go's own 100 it is collected after almost each variant, a quarter of all work.
const moreGarbage = 400

// atOnce is how many variants are worked on for each core: while the files of one are on their way to the disk, another one goes on.
// With one, a thousand variants of a small plan take 1.2 times as long.
const atOnce = 2

// Run works on the variants in parallel. The results have the order of the variants.
func (v *Variation) Run() []Varied {
	defer debug.SetGCPercent(debug.SetGCPercent(moreGarbage))
	all := make([]Varied, 0, len(v.Variants))
	for one := range sideBySide(len(v.Variants), atOnce*runtime.GOMAXPROCS(0), func(i int) Varied { return v.one(&v.Variants[i]) }) {
		all = append(all, one)
		v.Done(len(all))
	}
	return all
}

// Cells are the cell files that variants set.
func (v *Variation) Cells() []string {
	var names []string
	for i := range v.Variants {
		for _, s := range v.Variants[i].Settings {
			if s.Path == "cell" {
				names = append(names, filepath.Join(v.Source.Dir, s.Value))
			}
		}
	}
	return names
}

// mostRead is how many bytes of plans and cells all variants together read, as if each read its cell anew,
// which takes some tenths of a second for each MiB.
const mostRead = 64 << 20

// Bound reports, before anything is written, variants that read more than they may.
func (v *Variation) Bound(list *diag.List) {
	if len(v.Variants) > 0 && v.size() > mostRead {
		list.Errorf("too-many-variants", v.Variants[0].Place, "%d variants, each with its plan and cell, read more than %d MiB together", len(v.Variants), mostRead>>20).
			WithHint("spread the variants over several files of variants, or take out of the plan and its cell what the variants do not use")
	}
}

// size is the text that all variants read: of each the plan's and its cell's, and that of
// the cell that it sets instead.
func (v *Variation) size() int {
	var sources diag.Sources
	plan.Read(v.Source, nil, new(diag.List), &sources)
	each, all := 0, 0
	for _, text := range sources.All() {
		each += len(text)
	}
	for _, cell := range v.Cells() {
		if info, err := os.Stat(cell); err == nil {
			all += int(min(info.Size(), plan.LargestFile))
		}
	}
	return all + each*len(v.Variants)
}

func (v *Variation) one(variant *plan.Variant) Varied {
	job := &Job{OneCore: fillCores(len(v.Variants))}
	done := Varied{Variant: variant}
	settings := append(append([]plan.Setting(nil), v.Settings...), variant.Settings...)
	done.Row = summary.Row{Name: variant.Name, Values: valuesOf(variant), State: summary.Refused}
	source := v.Source
	source.Cells = &v.cells
	if job.Read(source, settings, v.Options) {
		watch := job.stopwatch()
		sound := job.Check(watch)
		measure(job, &done.Row, watch.Seconds, sound)
		if sound {
			done.Err = v.write(job, variant, &done.Row)
		}
	}
	found := job.Findings.Sorted()
	done.Row.Errors, done.Row.Warnings = tally(found)
	done.Findings = withOrigins(firstFindings(found, mostFindings/len(v.Variants)), variant, plan.SettingFiles(settings)[len(v.Settings):])
	done.Sources = v.share(&job.Sources) // and nothing else of the job: there may be ten thousand
	return done
}

// mostFindings is how many findings of all variants together are kept, each variant's
// share being the same: nobody reads more, and all are held until the last variant is done.
const mostFindings = 100_000

// firstFindings is the first of very many findings, and one that says so.
func firstFindings(found []diag.Finding, most int) []diag.Finding {
	if len(found) <= most {
		return found
	}
	more := diag.Finding{Severity: diag.Error, Rule: "too-many-findings", Hint: "mend these first, or \"check\" one variant with --set",
		Message: fmt.Sprintf("of each of so many variants, only the first %d findings are shown", most)}
	return append(slices.Clone(found[:most]), more)
}

// share is what was read, in texts that are kept already where there are such: a thousand
// variants of a plan of a megabyte are no gigabyte.
func (v *Variation) share(read *diag.Sources) *diag.Sources {
	shared := new(diag.Sources)
	for file, text := range read.All() {
		kept, _ := v.texts.LoadOrStore(text, text)
		shared.AddText(file, kept.(string))
	}
	return shared
}

func (v *Variation) write(job *Job, variant *plan.Variant, row *summary.Row) error {
	programs, err := v.Write(job, variant)
	switch {
	case job.Findings.HasErrors():
		return err
	case err != nil:
		row.State = summary.NotWritten
		return err
	case programs.Changed:
		row.State = summary.Written
	default:
		row.State = summary.Unchanged
	}
	row.Lines = programs.Lines
	return nil
}

// measure fills in sizes and times. Where the check found errors it may have gone through a part of the moves only.
func measure(j *Job, row *summary.Row, seconds float64, whole bool) {
	if !whole {
		j.counts, seconds = nil, j.seconds()
	}
	for _, g := range j.Layout.Grids {
		row.Slots += g.Size()
		for _, word := range g.Missing {
			row.Slots -= bits.OnesCount64(word)
		}
	}
	counts := j.Counts()
	row.Transfers, row.Moves, row.Waits = counts.Transfers, counts.Moves, counts.Kind[move.Await]
	row.Seconds = seconds
}

func valuesOf(v *plan.Variant) string {
	values := make([]string, len(v.Settings))
	for i, s := range v.Settings {
		values[i] = s.Path + "=" + s.Value
	}
	return strings.Join(values, ", ")
}

// withOrigins adds to findings about a variant's values, which call them files, where these are written.
func withOrigins(found []diag.Finding, v *plan.Variant, files []string) []diag.Finding {
	origins := make(map[string]diag.Place, len(v.Settings))
	for k, s := range v.Settings {
		origins[files[k]] = s.Place
	}
	for i := range found {
		if at, ok := origins[found[i].Place.File]; ok {
			found[i].WithNote(at, "the variant %q sets it here", v.Name)
		}
	}
	return found
}

func tally(found []diag.Finding) (errors, warnings int) {
	for i := range found {
		if found[i].Severity == diag.Error {
			errors++
		} else {
			warnings++
		}
	}
	return errors, warnings
}
