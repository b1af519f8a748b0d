package lsp

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/creachadair/jrpc2"

	"gridferry/plan"
)

// What a message takes at most: the largest text, with room for what JSON adds to it; and its header.
const (
	mostBytes  = 4 * plan.LargestFile
	mostHeader = 4 << 10
)

// messages is a stream of messages, each with a header before it ("Base Protocol" of LSP 3.17). The library has such streams,
// too, but makes room for as many bytes as a header asks for, and refuses names of the content type that the protocol has
// editors use.
type messages struct {
	in  *bufio.Reader
	out io.Writer
	all bytes.Buffer // of the message that is sent
}

func newMessages(in io.Reader, out io.Writer) *messages {
	return &messages{in: bufio.NewReaderSize(in, mostHeader), out: out}
}

// Send writes a message.
func (m *messages) Send(text []byte) error {
	m.all.Reset()
	fmt.Fprintf(&m.all, "Content-Length: %d\r\n\r\n", len(text))
	m.all.Write(text)
	_, err := m.out.Write(m.all.Bytes())
	return err
}

// Recv reads the next message; io.EOF behind the last. Where a header is wrong nobody knows where the next one begins, so
// that this is the end, too.
func (m *messages) Recv() ([]byte, error) {
	length, err := m.header()
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer // grows with what comes, not with what was said
	switch n, err := io.Copy(&text, io.LimitReader(m.in, int64(length))); {
	case err != nil:
		return nil, err
	case n < int64(length):
		return nil, io.ErrUnexpectedEOF
	}
	return sound(text.Bytes()), nil
}

// none is a message of no requests, which the library answers with an error at once.
var none = []byte("[]")

// sound is a message or, where something in it is no request and has no id either, none. The library (v1.3.6) would keep that
// beyond the end of the stream, and then answer it where nobody listens any more, which is a panic.
func sound(message []byte) []byte {
	requests, err := jrpc2.ParseRequests(message)
	if err == nil && slices.ContainsFunc(requests, func(r *jrpc2.ParsedRequest) bool { return r.Error != nil && r.ID == "" }) {
		return none
	}
	return message
}

// header reads a header, and gives the length of what follows it, in bytes.
func (m *messages) header() (int, error) {
	length := -1
	for fields := 0; ; fields++ {
		line, err := m.in.ReadSlice('\n')
		switch {
		case err == io.EOF && len(line)+fields == 0:
			return 0, io.EOF
		case err == io.EOF:
			return 0, io.ErrUnexpectedEOF
		case err != nil || fields == 16:
			return 0, errors.New("the header of a message is too long")
		}
		text := strings.TrimRight(string(line), "\r\n")
		name, value, isField := strings.Cut(text, ":")
		switch {
		case text == "" && length >= 0:
			return length, nil
		case !isField:
			return 0, errors.New("the header of a message is no header, or does not say how long the message is")
		case strings.EqualFold(name, "Content-Length"):
			if length, err = strconv.Atoi(strings.TrimSpace(value)); err != nil || length < 0 || length > mostBytes {
				return 0, fmt.Errorf("a message of %s bytes cannot be read", strings.TrimSpace(value))
			}
		}
	}
}

// Close lets the streams be: they are those of the command.
func (m *messages) Close() error { return nil }
