package live

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// Server serves the live page of one plan.
type Server struct {
	gate     gate
	flow     Flow
	follower follower
	other    reads // of the plan that it is compared with; without a name where there is none
	watch    *watch
	listener net.Listener
	http     http.Server

	saving   sync.Mutex
	stopping chan struct{}
}

// New reads a plan, by the name of its file. The error is that of reading it.
func New(flow Flow, plan string) (*Server, error) {
	s := &Server{flow: flow, stopping: make(chan struct{})}
	s.follower = follower{reads: reads{flow, plan}, results: newResults(), pages: newPages(), poke: make(chan struct{}, 1)}
	s.http = http.Server{
		Handler:           http.HandlerFunc(s.serve),
		ReadHeaderTimeout: 5 * time.Second, IdleTimeout: time.Minute,
		MaxHeaderBytes: 16 << 10,
		ErrorLog:       log.New(io.Discard, "", 0),
	}
	return s, s.follower.begin(context.Background())
}

// CompareWith names a plan that the page says the differences to. The error is that of reading it.
func (s *Server) CompareWith(plan string) error {
	s.other = reads{s.flow, plan}
	_, err := s.other.of(nil)
	return err
}

// Listen begins to listen, on this computer alone (RFC 1122, 3.2.1.3: the loopback address): from now on the page has an
// address. Port 0 is any that is free.
func (s *Server) Listen(port int) error {
	listener, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("the port %d cannot be had: %w", port, err)
	}
	if s.watch, err = newWatch(); err != nil {
		listener.Close()
		return fmt.Errorf("files cannot be followed: %w", err)
	}
	s.listener = listener
	s.gate.secret, s.gate.port = newSecret(), strconv.Itoa(listener.Addr().(*net.TCPAddr).Port)
	return nil
}

// Address is where the page is, with the secret.
func (s *Server) Address() string {
	return "http://127.0.0.1:" + s.gate.port + "/" + s.gate.secret + "/"
}

// Run serves and follows the files until ctx is done, then ends what is under way.
func (s *Server) Run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var all sync.WaitGroup
	defer s.saving.Lock() // what is being saved is saved, and nothing after it
	defer all.Wait()
	defer s.watch.Close()
	s.watch.follow(s.follower.present().result.Names())
	all.Go(func() { s.follower.run(ctx, s.watch) })
	all.Go(func() {
		<-ctx.Done()
		close(s.stopping)
		patient, enough := context.WithTimeout(context.Background(), 2*time.Second)
		defer enough()
		if s.http.Shutdown(patient) != nil {
			s.http.Close()
		}
	})
	err := s.http.Serve(s.listener)
	cancel()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}
