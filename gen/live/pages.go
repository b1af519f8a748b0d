package live

import (
	"fmt"
	"net/http"
	"sync"
	"time"
)

const (
	heartbeat = 15 * time.Second // after which a page that hears nothing is told that the server is there
	slowest   = 10 * time.Second // that a page may take to read an event
)

// pages are the open pages, each of which is woken when there is something new. What that is, it looks up itself: one that
// is slow misses what is out of date.
type pages struct {
	mu  sync.Mutex
	all map[chan struct{}]bool
}

func newPages() *pages { return &pages{all: map[chan struct{}]bool{}} }

func (p *pages) wake() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for page := range p.all {
		select {
		case page <- struct{}{}:
		default: // it is awake already
		}
	}
}

func (p *pages) open() chan struct{} {
	page := make(chan struct{}, 1)
	page <- struct{}{} // it knows nothing yet
	p.mu.Lock()
	defer p.mu.Unlock()
	p.all[page] = true
	return page
}

func (p *pages) close(page chan struct{}) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.all, page)
}

// events tells a page what changes, as server-sent events (WHATWG HTML, 9.2), until it goes or the server stops.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	page := s.follower.pages.open()
	defer s.follower.pages.close(page)
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	var told said
	for {
		text := ": still here\n\n"
		select {
		case <-r.Context().Done():
			return
		case <-s.stopping:
			return
		case <-beat.C:
		case <-page:
			text = told.update(s.follower.present())
		}
		if !send(w, text) {
			return
		}
	}
}

// said is what a page was told last.
type said struct {
	version string
	gone    bool
}

// update is the events that tell a page what is new.
func (t *said) update(now present) string {
	text, gone := "", now.gone != nil
	if gone != t.gone {
		text = event(map[bool]string{true: "gone", false: "back"}[gone], now.result.version)
	}
	if now.result.version != t.version {
		text += event("change", now.result.version)
	}
	*t = said{now.result.version, gone}
	return text
}

func event(name, version string) string {
	return fmt.Sprintf("event: %s\ndata: {\"version\":%q}\n\n", name, version)
}

// send reports whether the page took a text in time.
func send(w http.ResponseWriter, text string) bool {
	c := http.NewResponseController(w)
	if text == "" {
		return true
	}
	if c.SetWriteDeadline(time.Now().Add(slowest)) != nil {
		return false
	}
	if _, err := w.Write([]byte(text)); err != nil {
		return false
	}
	return c.Flush() == nil
}
