package seal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"

	"gridferry/gen/family/rules"
)

// Writer passes a program on and seals it. What comes after BeforeEnd (the text of
// the "end" block) is kept back until the seal is known.
type Writer struct {
	out     io.Writer
	rules   *rules.Rules
	stamp   Stamp
	fits    bool // in the family's comments; otherwise there is nothing to reckon
	body    body
	sum     string // of the body, once it is sealed
	end     bytes.Buffer
	holding bool
}

// NewWriter returns a writer that seals what it passes on to out.
func NewWriter(out io.Writer, rules *rules.Rules, stamp Stamp) *Writer {
	return &Writer{out: out, rules: rules, stamp: stamp, fits: Fits(rules), body: newBody()}
}

// Write takes a piece of the program.
func (w *Writer) Write(p []byte) (int, error) {
	if w.fits {
		w.body.Write(p)
	}
	if w.holding {
		return w.end.Write(p)
	}
	return w.out.Write(p)
}

// BeforeEnd says that all that follows comes behind the seal.
func (w *Writer) BeforeEnd() { w.holding = true }

// Close writes the seal and what was held. It does not close what is below.
func (w *Writer) Close() error {
	if w.fits {
		w.sum = w.body.sum()
		for _, line := range w.stamp.lines(w.rules, w.sum) {
			if _, err := io.WriteString(w.out, line+w.rules.LineEnd); err != nil {
				return err
			}
		}
	}
	_, err := w.end.WriteTo(w.out)
	return err
}

// Body is the digest of the body that Close sealed; "" where the family's programs can carry
// no seal.
func (w *Writer) Body() string { return w.sum }

// body hashes a text whose lines all end in a line feed, whatever they end in.
type body struct {
	hash    hash.Hash
	pending bool // a carriage return, which may or may not be followed by a line feed
	midLine bool
}

func newBody() body { return body{hash: sha256.New()} }

var lineFeed = []byte("\n")

func (b *body) Write(p []byte) (int, error) {
	n := len(p)
	for len(p) > 0 {
		if b.pending {
			b.pending = false
			b.hash.Write(lineFeed)
			if p[0] == '\n' {
				p = p[1:]
				continue
			}
		}
		end := bytes.IndexByte(p, '\r')
		if end < 0 {
			end = len(p)
		}
		b.hash.Write(p[:end])
		if end > 0 {
			b.midLine = p[end-1] != '\n'
		}
		if p = p[end:]; len(p) > 0 {
			p, b.pending, b.midLine = p[1:], true, false
		}
	}
	return n, nil
}

// sum ends the last line and gives the digest; nothing can be written after.
func (b *body) sum() string {
	if b.pending || b.midLine {
		b.hash.Write(lineFeed)
	}
	return hex.EncodeToString(b.hash.Sum(nil))
}
