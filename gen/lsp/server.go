package lsp

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"sync"

	"github.com/creachadair/jrpc2"
)

// Server serves one editor.
type Server struct {
	flow    Flow
	version string // of the program
	rpc     *jrpc2.Server
	turns   chan struct{} // taken by whoever works on a subject
	ended   chan struct{} // closed by exit
	cancels sync.Map      // what cancels the requests that are answered, by their ids

	mu        sync.Mutex
	stage     stage
	encoding  encoding
	documents map[string]*document // by the paths of their files
	subjects  map[what]*subject
	settled   chan struct{}     // closed, and made anew, whenever work has ended
	published map[string]string // what the editor was told last of each file
	indexes   map[string]*index // of the present texts, by the plans that they are of
}

// stage is how far server and editor have come.
type stage int

const (
	begun stage = iota
	initialized
	shut
)

// atOnce is how many subjects are worked on at the same time; a check takes two cores.
const atOnce = 2

// New is a server; the version is that of the program.
func New(flow Flow, version string) *Server {
	return &Server{
		flow: flow, version: version, turns: make(chan struct{}, atOnce), ended: make(chan struct{}), encoding: utf16Units,
		documents: map[string]*document{}, subjects: map[what]*subject{}, settled: make(chan struct{}), published: map[string]string{}, indexes: map[string]*index{},
	}
}

// ErrNotShut says that the editor went without a word.
var ErrNotShut = errors.New("the editor went away without \"shutdown\" before it")

// Run serves until the editor says "exit", the stream ends or ctx is done. The error is that of a stream that is none of messages,
// or says that the editor did not take its leave.
func (s *Server) Run(ctx context.Context, in io.Reader, out io.Writer) error {
	s.rpc = jrpc2.NewServer(assigner{s}, &jrpc2.ServerOptions{AllowPush: true, DisableBuiltin: true, Concurrency: mostAsked})
	s.rpc.Start(newMessages(in, out))
	over := make(chan error, 1)
	go func() { over <- s.rpc.Wait() }()
	var err error
	select {
	case <-ctx.Done(): // the stream may say nothing more: nobody waits for it
	case <-s.ended:
	case err = <-over:
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err == nil && ctx.Err() == nil && s.stage == initialized {
		err = ErrNotShut
	}
	s.end()
	return err
}

// end gives up all work. Nothing is open any more, so that none begins anew, and nobody is left to be told.
func (s *Server) end() {
	s.stage = shut
	clear(s.documents)
	clear(s.published)
	for _, one := range s.subjects {
		s.drop(one)
	}
}

// mostAsked is how many requests are answered at once. Most wait for the work on a subject, and none may keep one behind it
// from being cancelled.
const mostAsked = 1 << 20

// assigner finds out what answers a method.
type assigner struct{ *Server }

func (a assigner) Assign(ctx context.Context, method string) jrpc2.Handler {
	f, known := features[method]
	answer := f.answer
	if method == "initialize" { // which says what features there are
		answer, known = ask((*Server).initialize), true
	}
	if !known {
		return nil
	}
	ctx, done := a.cancellable(ctx)
	return func(_ context.Context, r *jrpc2.Request) (any, error) {
		defer done()
		if err := a.allows(method); err != nil {
			return nil, err
		}
		return answer(a.Server, ctx, r)
	}
}

// cancellable is the context of a request that the editor may cancel, and what to call once it is answered. The library (v1.3.6)
// cancels requests, too, but answers those whose turn has not come by a number of its own.
func (s *Server) cancellable(ctx context.Context) (_ context.Context, done func()) {
	id := jrpc2.InboundRequest(ctx).ID()
	ctx, cancel := context.WithCancel(ctx)
	s.cancels.Store(id, cancel)
	return ctx, func() {
		s.cancels.Delete(id)
		cancel()
	}
}

// allows says what the stage leaves no room for.
func (s *Server) allows(method string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case method == "exit":
		return nil
	case s.stage == shut:
		return jrpc2.Errorf(jrpc2.InvalidRequest, "the server was shut down")
	case s.stage == begun && method != "initialize":
		return jrpc2.Errorf(notInitialized, "the server is not initialized")
	case s.stage == initialized && method == "initialize":
		return jrpc2.Errorf(jrpc2.InvalidRequest, "the server is initialized already")
	}
	return nil
}

// first is the parameters of initialize, as far as they matter here.
type first struct {
	Capabilities struct {
		General struct {
			PositionEncodings []encoding `json:"positionEncodings"`
		} `json:"general"`
	} `json:"capabilities"`
}

func (s *Server) initialize(_ context.Context, p *first) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stage, s.encoding = initialized, chosen(p.Capabilities.General.PositionEncodings)
	capabilities := map[string]any{"positionEncoding": s.encoding}
	for _, f := range features {
		if f.capability != "" {
			capabilities[f.capability] = f.options
		}
	}
	return map[string]any{"capabilities": capabilities, "serverInfo": map[string]string{"name": "gridferry", "version": s.version}}, nil
}

func (s *Server) initialized(context.Context, *struct{}) error { return nil }

func (s *Server) shutdown(context.Context, *struct{}) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stage = shut
	return nil, nil
}

func (s *Server) exit(context.Context, *struct{}) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	select {
	case <-s.ended:
	default:
		close(s.ended)
	}
	return nil
}

// asked is a request by its id.
type asked struct {
	ID json.RawMessage `json:"id"`
}

func (s *Server) cancelRequest(_ context.Context, p *asked) error {
	if cancel, answered := s.cancels.Load(string(p.ID)); answered {
		cancel.(context.CancelFunc)()
	}
	return nil
}
