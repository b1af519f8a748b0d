package live

import (
	"net/http"
	"os/exec"
	"runtime"
)

// opener is the system's command that opens an address in the browser.
var opener = map[string][]string{
	"darwin":  {"open"},
	"windows": {"rundll32", "url.dll,FileProtocolHandler"},
}

// Open opens the page in the browser. What a command is called with, others on this computer may see: so the browser is
// given an address that leads to the page once, and is worth nothing afterwards.
func (s *Server) Open() error {
	command, known := opener[runtime.GOOS]
	if !known {
		command = []string{"xdg-open"}
	}
	c := exec.Command(command[0], append(command[1:], "http://127.0.0.1:"+s.gate.port+"/"+s.gate.sell())...)
	if err := c.Start(); err != nil {
		return err
	}
	go c.Wait() // how it ends is the browser's business
	return nil
}

// sell gives out the ticket that leads to the page once.
func (g *gate) sell() string {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.ticket = newSecret()
	return g.ticket
}

// takes reports whether a request comes with the ticket, which is then used up.
func (g *gate) takes(r *http.Request) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.ticket == "" || r.Method != http.MethodGet || !same(r.RequestURI, "/"+g.ticket) {
		return false
	}
	g.ticket = ""
	return true
}
