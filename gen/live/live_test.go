package live_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/live"
	"gridferry/plan"
)

// served is a server of the starter plan in a folder of its own, and a page.
type served struct {
	t      testing.TB
	server *live.Server
	folder string
	stop   func() // and waits for the end
}

// serve serves the starter plan, which lies below a folder "bench".
func serve(t testing.TB) *served {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "bench")
	if err := os.CopyFS(folder, plan.Starter()); err != nil {
		t.Fatal(err)
	}
	return serveAt(t, folder, plan.StarterPlan)
}

func serveAt(t testing.TB, folder, name string) *served {
	t.Helper()
	return serveWith(t, "listing", folder, name, "")
}

// serveWith serves a plan, whose program is shown in a family, beside another plan; "" is none.
func serveWith(t testing.TB, family, folder, name, other string) *served {
	t.Helper()
	flow, err := gen.Followed{Layout: layout.Options{Slots: layout.DefaultSlots}, Family: family}.Live()
	if err != nil {
		t.Fatal(err)
	}
	server, err := live.New(flow, filepath.Join(folder, name))
	if err == nil && other != "" {
		err = server.CompareWith(filepath.Join(folder, other))
	}
	if err == nil {
		err = server.Listen(0)
	}
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- server.Run(ctx) }()
	s := &served{t: t, server: server, folder: folder}
	s.stop = func() {
		cancel()
		select {
		case err := <-ended:
			ended <- err
			if err != nil {
				t.Error(err)
			}
		case <-time.After(10 * time.Second):
			t.Error("the server does not stop")
		}
	}
	t.Cleanup(s.stop)
	return s
}

func write(t testing.TB, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func (s *served) plan() string { return filepath.Join(s.folder, plan.StarterPlan) }

// origin is that of the page.
func (s *served) origin() string {
	return strings.Join(strings.SplitN(s.server.Address(), "/", 4)[:3], "/")
}

// get asks for something, as the page does.
func (s *served) get(path string) (int, string) {
	s.t.Helper()
	return s.answer(http.NewRequest("GET", s.server.Address()+path, nil))
}

// post sends something, as the page does.
func (s *served) post(path string, v any) (int, string) {
	s.t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		s.t.Fatal(err)
	}
	r, err := http.NewRequest("POST", s.server.Address()+path, bytes.NewReader(text))
	r.Header.Set("Origin", s.origin())
	r.Header.Set("Content-Type", "application/json")
	return s.answer(r, err)
}

func (s *served) answer(r *http.Request, err error) (int, string) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
	// A redirect is an answer by itself.
	a, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return a.StatusCode, string(text)
}

// state is what the tests look at of one.
type state struct {
	Version, Good string
	Gone, Scene   bool
	Files         []struct {
		Name, Text, Digest, Role string
		Writable                 bool
	}
	Findings []struct {
		Rule, File, Message string
		Line, Column, End   int
		Slots               [][2]string
	}
	Summary string
}

func (s *served) state() (st state) {
	s.t.Helper()
	status, text := s.get("state")
	if status != http.StatusOK {
		s.t.Fatal(status, text)
	}
	s.into(text, &st)
	return st
}

func (s *served) into(text string, v any) {
	s.t.Helper()
	if err := json.Unmarshal([]byte(text), v); err != nil {
		s.t.Fatalf("%v in %.300s", err, text)
	}
}

// rules are the findings' rules.
func (st state) rules() string {
	var all []string
	for _, f := range st.Findings {
		all = append(all, f.Rule)
	}
	return strings.Join(all, " ")
}

// page is an open one that hears events, each as its name and the version.
type page struct {
	t      testing.TB
	events chan string
	close  func()
}

func (s *served) open() *page {
	s.t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	r, err := http.NewRequestWithContext(ctx, "GET", s.server.Address()+"events", nil)
	if err != nil {
		s.t.Fatal(err)
	}
	a, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		s.t.Fatal(err)
	}
	p := &page{s.t, make(chan string, 1000), cancel}
	go func() {
		defer a.Body.Close()
		defer close(p.events)
		name := ""
		for lines := bufio.NewScanner(a.Body); lines.Scan(); {
			if n, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				name = n
			} else if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				var v struct{ Version string }
				_ = json.Unmarshal([]byte(data), &v) // "" is no version
				p.events <- name + " " + v.Version
			}
		}
	}()
	s.t.Cleanup(cancel)
	if first := p.next(); !strings.HasPrefix(first, "change ") {
		s.t.Fatalf("a page hears %q first", first)
	}
	return p
}

// next is the next event.
func (p *page) next() string {
	p.t.Helper()
	select {
	case e, open := <-p.events:
		if !open {
			return "end"
		}
		return e
	case <-time.After(10 * time.Second):
		p.t.Fatal("a page hears nothing")
		return ""
	}
}

// until hears events until one is of that name.
func (p *page) until(name string) (version string) {
	p.t.Helper()
	for range 1000 {
		if event, version, _ := strings.Cut(p.next(), " "); event == name {
			return version
		}
	}
	p.t.Fatal("a page hears no " + name)
	return ""
}
