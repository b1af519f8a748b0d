//go:build unix && !darwin

package live_test

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestOpen: the browser is started with an address that does not hold the secret, and leads to the page once.
func TestOpen(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "xdg-open"), []byte("#!/bin/sh\necho \"$@\" > "+folder+"/new; mv "+folder+"/new "+folder+"/asked\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", folder+":"+os.Getenv("PATH"))
	s := serve(t)
	if err := s.server.Open(); err != nil {
		t.Fatal(err)
	}
	var asked []byte
	for range 500 {
		if asked, _ = os.ReadFile(filepath.Join(folder, "asked")); len(asked) > 0 {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	ticket := strings.TrimSpace(string(asked))
	secret := strings.Split(s.server.Address(), "/")[3]
	if !strings.HasPrefix(ticket, s.origin()+"/") || strings.Contains(ticket, secret) {
		t.Fatalf("asked to open %q", ticket)
	}
	for _, want := range []int{http.StatusSeeOther, http.StatusNotFound} {
		a, err := http.DefaultTransport.RoundTrip(request(t, ticket))
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if to := a.Header.Get("Location"); a.StatusCode != want || (to == "/"+secret+"/") != (want == http.StatusSeeOther) {
			t.Errorf("%s, to %q", a.Status, to)
		}
	}
}

func request(t *testing.T, address string) *http.Request {
	t.Helper()
	r, err := http.NewRequest("GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
