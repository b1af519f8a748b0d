package gen

import (
	"io"

	"gridferry/gen/render"
)

// writeFiles puts the program into as many files as the family needs.
func (p *program) writeFiles(create render.Create, o render.Options) error {
	head := p.head()
	proof := newProof(p, &head)
	o.Loops, o.Cores = p.loops(), p.job.cores()
	err := render.Files(func(name string) (io.WriteCloser, error) {
		w, err := create(name)
		if err != nil {
			return nil, err
		}
		return proof.file(w), nil
	}, p.roomForSeal(), head, p.moves(), &proof.written, o)
	return proof.done(err)
}

// keepOpen leaves a writer open: its owner closes it.
type keepOpen struct{ io.Writer }

func (keepOpen) Close() error { return nil }
