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

// Options are what a server is asked for.
type Options struct {
	Plan string // the name of its file
	Port int    // 0 is any that is free
}

// Server serves the live page of one plan.
type Server struct {
	gate     gate
	flow     Flow
	follower follower
	watch    *watch
	listener net.Listener
	http     http.Server

	saving   sync.Mutex
	stopping chan struct{}
}

// New reads the plan, and begins to listen on this computer alone (RFC 5735, loopback). The error is that of reading the plan, or
// of a port that is taken.
func New(flow Flow, o Options) (*Server, error) {
	s := &Server{flow: flow, stopping: make(chan struct{})}
	s.follower = follower{reads: reads{flow, o.Plan}, results: newResults(), pages: newPages(), poke: make(chan struct{}, 1)}
	if err := s.follower.begin(context.Background()); err != nil {
		return nil, err
	}
	var err error
	if s.listener, err = net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(o.Port))); err != nil {
		return nil, fmt.Errorf("the port %d cannot be had: %w", o.Port, err)
	}
	if s.watch, err = newWatch(); err != nil {
		s.listener.Close()
		return nil, err
	}
	_, port, _ := net.SplitHostPort(s.listener.Addr().String())
	s.gate.secret, s.gate.port = newSecret(), port
	s.http = http.Server{
		Handler:           http.HandlerFunc(s.serve),
		ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 2 * time.Minute, IdleTimeout: time.Minute,
		MaxHeaderBytes: 16 << 10,
		ErrorLog:       log.New(io.Discard, "", 0),
	}
	return s, nil
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
	defer all.Wait()
	defer s.watch.Close()
	s.watch.follow(s.follower.present().result.names())
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
