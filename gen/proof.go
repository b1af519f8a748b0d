package gen

import (
	"io"
	"path"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// proof seals the files of a program and reads them back while they are written.
type proof struct {
	findings      *diag.List
	rules         *rules.Rules
	stamp         seal.Stamp
	checker       checker // nil where the family does not say how its lines read
	written, read diag.List
}

// checker reads a program back while it is written: here, or on other cores.
type checker interface {
	io.WriteCloser
	NextFile()
}

func newProof(p *program, head *move.Job) *proof {
	f, list := p.family, &p.job.Findings
	proof := &proof{findings: list, rules: &f.Rules, stamp: p.stamp()}
	f.WarnUnread(list)
	f.WarnFrames(list)
	if f.Comment.Form != rules.None && !seal.Fits(&f.Rules) {
		list.Warnf("no-seal", diag.Place{File: path.Join(f.Label, rules.File)}, "programs of this family carry no seal, because its comment rules do not let one through").
			WithHint("a seal needs the digits, the letters a to f and 24 characters between the comment marks")
	}
	if f.Reads.Has() {
		proof.checker = reading(readback.NewChecker(&f.Reads, head, p.moves(), &proof.read, nil), p.job.cores())
	}
	return proof
}

// reading has a checker read on other cores, if there are any.
func reading(c *readback.Checker, cores int) checker {
	if cores == 1 {
		return c
	}
	return readAside(c, cores)
}

// roomForSeal is what writes, with its bound on the lines of a file lowered by those of a
// seal.
func (p *program) roomForSeal() *blocks.Blocks {
	if p.family.MostLines == 0 {
		return p.family.Blocks
	}
	less := *p.family.Blocks
	less.MostLines -= seal.Lines(&less.Rules) + len(p.stamp().Entered)
	return &less
}

// file begins one of the program's files.
func (p *proof) file(w io.WriteCloser) io.WriteCloser {
	if p.checker != nil {
		p.checker.NextFile()
	}
	s := &sealedFile{file: w, proof: p}
	s.Writer = seal.NewWriter(s.below(), p.rules, p.stamp)
	return s
}

// sealedFile seals what is written to it; the checker reads the result.
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

// done adds the findings to the job's. Those of reading back count only if everything
// could be written: a program that was cut off by a full disk ends too early, which is
// no fault of the plan or the family.
func (p *proof) done(err error) error {
	if p.checker != nil {
		p.checker.Close()
	}
	p.findings.AddAll(&p.written)
	if err != nil {
		return err
	}
	if !p.written.HasErrors() {
		p.findings.AddAll(&p.read)
	}
	return nil
}
