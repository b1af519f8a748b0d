package gen

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"path"
	"slices"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// Write renders the moves through a family into one text, sealed, and reads it
// back on the way. Findings tell what the family cannot say and what does not
// read back; then the text is not to be used.
func (j *Job) Write(w io.Writer, f *family.Family) error {
	job := j.headFor(f)
	p := j.proof(f, &job)
	file := p.file(keepOpen{w})
	err := render.ProgramWith(file, f, job, j.batchesFor(f), &p.written, render.Options{Loops: j.loops(f)})
	return p.done(err, file.Close())
}

// WriteFiles is Write for a family that may want several files: create opens
// them by names without folders. Options bound the output and watch it grow.
func (j *Job) WriteFiles(create render.Create, f *family.Family, o render.Options) error {
	job := j.headFor(f)
	p := j.proof(f, &job)
	o.Loops = j.loops(f)
	err := render.Files(func(name string) (io.WriteCloser, error) {
		w, err := create(name)
		if err != nil {
			return nil, err
		}
		return p.file(w), nil
	}, p.roomForSeal(f), job, j.batchesFor(f), &p.written, o)
	return p.done(err, nil)
}

// loops is what a family that writes loops is given; nil for any other. For a run
// that is not the whole job as it is planned there are none: loops could not tell it.
func (j *Job) loops(f *family.Family) *render.Loops {
	if !f.Loops {
		return nil
	}
	if run := j.OtherRun(); run != "" {
		return &render.Loops{OtherRun: run}
	}
	return &render.Loops{Tables: loops.TablesOf(j.Layout), Statements: loops.Statements(j.Layout)}
}

// proof seals the files of a program and reads back what goes into them.
type proof struct {
	job           *Job
	rules         *family.Rules
	stamp         seal.Stamp
	checker       *aside // nil where the family does not say how its lines read
	written, read diag.List
}

func (j *Job) proof(f *family.Family, job *move.Job) *proof {
	p := &proof{job: j, rules: &f.Rules, stamp: j.stamp(f)}
	readback.Warn(f, &j.Findings)
	readback.WarnFrames(f, &j.Findings)
	if f.Comment.Form != family.None && !seal.Fits(&f.Rules) {
		j.Findings.Warnf("no-seal", diag.Place{File: path.Join(f.Label, family.RulesFile)}, "the comment rules leave nothing of a seal, so that programs carry none").
			WithHint("a seal needs the digits, the letters a to f and 24 characters beside the comment's marks")
	}
	if f.Reads.Has() {
		p.checker = readAside(readback.NewChecker(f, job, j.batchesFor(f), &p.read, nil))
	}
	return p
}

// stamp is what programs of this job and family are written from.
func (j *Job) stamp(f *family.Family) seal.Stamp {
	return seal.Stamp{Version: Version, Plan: j.Digest(), Family: f.Digest}
}

// roomForSeal is the family with as many lines less in a file as a seal takes.
func (p *proof) roomForSeal(f *family.Family) *family.Family {
	if f.MostLines == 0 {
		return f
	}
	less := *f
	less.MostLines -= seal.Lines(p.rules)
	return &less
}

// file is the way into one of the program's files.
func (p *proof) file(w io.WriteCloser) io.WriteCloser {
	if p.checker != nil {
		p.checker.NextFile()
	}
	s := &sealedFile{file: w, proof: p}
	s.Writer = seal.NewWriter(s.below(), p.rules, p.stamp)
	return s
}

// sealedFile seals what is written to it; the checker reads the sealed text.
type sealedFile struct {
	*seal.Writer
	file  io.WriteCloser
	proof *proof
}

func (s *sealedFile) below() io.Writer {
	if s.proof.checker == nil {
		return s.file
	}
	return io.MultiWriter(s.file, s.proof.checker)
}

// Close writes the seal and closes the file.
func (s *sealedFile) Close() error {
	err := s.Writer.Close()
	if closed := s.file.Close(); err == nil {
		err = closed
	}
	return err
}

// done reports what was found: that a program does not read back only if the family
// could say it all and every byte arrived. One that was cut off by a full disk ends
// too early, which is no fault of the plan or the family.
func (p *proof) done(errs ...error) error {
	if p.checker != nil {
		p.checker.Close()
	}
	p.job.Findings.AddAll(&p.written)
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	if !p.written.HasErrors() {
		p.job.Findings.AddAll(&p.read)
	}
	return nil
}

// keepOpen leaves a writer open that somebody else closes.
type keepOpen struct{ io.Writer }

func (keepOpen) Close() error { return nil }

// Digest tells two plans apart by all that was read for them: the plan, the
// cell, files of measured values and what "--set" changed, wherever the files
// lie. It is the first half of a SHA-256, in hexadecimal.
func (j *Job) Digest() string { return j.digest }

// digestOf is Digest of the files that were read so far.
func digestOf(sources *diag.Sources) string {
	var parts []string
	for file, text := range sources.All() {
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
		if strings.HasPrefix(file, "--set[") {
			text = file + text // the order of settings matters, that of files does not
		}
		sum := sha256.Sum256([]byte(text))
		parts = append(parts, hex.EncodeToString(sum[:]))
	}
	slices.Sort(parts)
	sum := sha256.Sum256([]byte(strings.Join(parts, "\n")))
	return hex.EncodeToString(sum[:16])
}
