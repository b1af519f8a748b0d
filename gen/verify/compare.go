package verify

import (
	"bytes"
	"encoding/binary"
	"hash/maphash"
	"io"
	"iter"
	"math"

	"gridferry/gen/align"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/plan/diag"
)

// Comparison is a program from elsewhere beside the one that would be written
// now.
type Comparison struct {
	Reads *reads.Reads
	Job   *move.Job
	Moves move.Batches
	// Write writes the program that the plan gives now. It calls next before every
	// file but the first.
	Write func(w io.Writer, next func()) error
	// Program is the text to compare: its files one behind the other.
	Program []Text
}

// Text is one file to compare.
type Text struct {
	Name   string
	Reader io.Reader
	// SealFirst and SealLast are the lines of its seal, from 1, which are passed
	// over; 0 for none.
	SealFirst, SealLast int
}

// node is one line on one side.
type node struct {
	item reads.Item
	file string
	key  uint64     // the same for lines that say the same
	want *move.Move // on the wanted side: the move, nil for lines that are none
}

// nodeOf is a line that lasts.
func nodeOf(item *reads.Item, k *keys) *node {
	n := &node{item: *item, key: k.of(item)}
	n.item.Text = bytes.Clone(item.Text)
	return n
}

// Run compares. What is wrong with the family or the plan goes to list, and then
// the report says nothing. The error is that of reading or writing, or an UnreadError.
func (c *Comparison) Run(list *diag.List) (*Report, error) {
	k := newKeys(c.Reads, c.Job)
	var writing, reading error
	wanted, stopWanted := iter.Pull(c.wanted(k, list, &writing))
	defer stopWanted()
	given, stopGiven := iter.Pull(c.given(k, &reading))
	defer stopGiven()
	r := newReport(k.judge, k.modal, c.Reads.Rules.BaseCoordinates)
	r.tables = readback.NewTables(c.Reads, k.judge, c.Job)
	r.astray.tables = r.tables
	known := false // a line of the family's: a move, or one that stands in the program of the plan
	align.SideBySide(given, wanted, same, value, func(given, wanted *node) {
		known = known || given != nil && (given.item.IsMove() || wanted != nil && given.key == wanted.key)
		r.pair(given, wanted)
	})
	for _, err := range []error{writing, reading} {
		if err != nil {
			return nil, err
		}
	}
	if !known && r.Moves > 0 && c.Reads.Has() {
		return nil, &reads.UnreadError{Family: c.Reads.Label}
	}
	return r, nil
}

// wanted goes through the lines of the program that would be written now.
func (c *Comparison) wanted(k *keys, list *diag.List, failed *error) iter.Seq[*node] {
	return func(yield func(*node) bool) {
		gone := false
		check := readback.NewChecker(c.Reads, c.Job, c.Moves, list, func(item *reads.Item, m *move.Move) {
			n := nodeOf(item, k)
			if m != nil {
				copied := *m
				n.want = &copied
			}
			gone = gone || !yield(n)
		})
		*failed = c.Write(whileWanted{check, &gone}, check.NextFile)
		if gone {
			check.Stop()
		} else {
			check.Close()
		}
		if *failed == errNotWanted {
			*failed = nil
		}
	}
}

// errNotWanted ends a writing that nobody looks at any more.
var errNotWanted = io.ErrClosedPipe

type whileWanted struct {
	*readback.Checker
	gone *bool
}

func (w whileWanted) Write(p []byte) (int, error) {
	if *w.gone {
		return 0, errNotWanted
	}
	return w.Checker.Write(p)
}

// given goes through the lines of the program that is to be compared.
func (c *Comparison) given(k *keys, failed *error) iter.Seq[*node] {
	return func(yield func(*node) bool) {
		modal := reads.NewModal(c.Reads)
		gone := false
		for _, text := range c.Program {
			r := reads.NewReader(c.Reads, *c.Job, func(item *reads.Item) {
				if gone || text.SealFirst <= item.Line && item.Line <= text.SealLast {
					return
				}
				modal.Complete(item)
				n := nodeOf(item, k)
				n.file = text.Name
				gone = !yield(n)
			}).WithRests()
			if _, err := io.Copy(r, text.Reader); err != nil {
				*failed = err
				return
			}
			if r.Close(); gone {
				return
			}
		}
	}
}

// keys finds lines that say the same: their fields agree in the decimals that
// the family writes, or they are the same text.
type keys struct {
	judge *readback.Judge
	modal *reads.Modal // for what is compared of a kind
	entry map[reads.Means]reads.FieldSet
	seed  maphash.Seed
}

func newKeys(r *reads.Reads, job *move.Job) *keys {
	entry := func(means reads.Means) reads.FieldSet { return r.CarriesEntry(means).Kept().With(reads.Number) }
	return &keys{
		judge: readback.NewJudge(r.Rules, job), modal: reads.NewModal(r), seed: maphash.MakeSeed(),
		entry: map[reads.Means]reads.FieldSet{reads.MeansFrame: entry(reads.MeansFrame), reads.MeansTool: entry(reads.MeansTool)},
	}
}

func (k *keys) of(item *reads.Item) uint64 {
	var h maphash.Hash
	h.SetSeed(k.seed)
	known, entry := k.entry[item.Means]
	switch {
	case item.IsMove():
		known = k.modal.Compared(item) &^ reads.SetOf(reads.N) // a line may be the same under another number
	case !entry:
		if item.Means == 0 {
			h.WriteByte(1) // what nothing fits is no line of the family's
		}
		h.Write(item.Text)
		return h.Sum64()
	}
	h.WriteByte(byte(item.Means))
	h.WriteByte(byte(item.Kind))
	h.WriteString(item.When)
	k.values(&h, &item.Values, known)
	return h.Sum64()
}

func (k *keys) values(h *maphash.Hash, v *reads.Values, known reads.FieldSet) {
	var b [9]byte
	for rest := known; rest != 0; rest &= rest - 1 {
		f := rest.First()
		b[0] = 0
		if v.Has.Has(f) {
			b[0] = 1
		}
		steps := math.Round(v.Number[f] / (2 * k.judge.Half(f)))
		binary.LittleEndian.PutUint64(b[1:], uint64(int64(steps)))
		h.Write(b[:])
	}
	if known.Has(reads.Target) {
		h.WriteString(readback.Letters(v.Target))
	}
}
