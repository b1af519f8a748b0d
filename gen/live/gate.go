package live

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base32"
	"net/http"
	"strings"
	"sync"
)

// gate lets in the pages of this server and nobody else: whoever knows the secret in the address, from this computer. A
// page of elsewhere that the same browser shows knows neither; and if it did, its origin would give it away, and a name of its own
// that leads here would be in the Host.
type gate struct {
	secret string
	port   string

	mu     sync.Mutex
	ticket string // see Open; "" for none
}

// newSecret is 160 bits, as letters and figures of an address.
func newSecret() string {
	var bits [20]byte
	rand.Read(bits[:]) // never fails (crypto/rand)
	return strings.ToLower(base32.StdEncoding.EncodeToString(bits[:]))
}

// refusal says why a request gets no answer.
type refusal struct {
	status int
	why    string
}

func (r *refusal) Error() string { return r.why }

func refuse(status int, why string) *refusal { return &refusal{status, why} }

// passes gives the part of the path behind the secret, or a refusal. The path is taken as it came: what is encoded, or leads
// up, is none that is known.
func (g *gate) passes(r *http.Request) (rest string, no *refusal) {
	if !g.named(r) {
		return "", refuse(http.StatusForbidden, "this page is not served under that name")
	}
	path, _, _ := strings.Cut(r.RequestURI, "?")
	secret, rest, slash := strings.Cut(strings.TrimPrefix(path, "/"), "/")
	if !same(secret, g.secret) || !slash {
		return "", refuse(http.StatusNotFound, "there is nothing here: open the address that \"gridferry live\" printed")
	}
	if !g.own(r) {
		return "", refuse(http.StatusForbidden, "only the page itself may ask this")
	}
	return rest, nil
}

// same compares without giving away, by the time it takes, how much is right.
func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// named reports whether a request came under one of the two names of this server.
func (g *gate) named(r *http.Request) bool {
	return r.Host == "127.0.0.1:"+g.port || r.Host == "localhost:"+g.port
}

// own reports whether a request comes from the page itself, by what browsers say of where it was made (Fetch
// Standard, Origin; W3C Fetch Metadata). The page itself is opened from anywhere: that changes nothing.
func (g *gate) own(r *http.Request) bool {
	origin, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
	if origin != "" && origin != "http://"+r.Host {
		return false
	}
	switch {
	case site == "same-origin":
		return true
	case r.Method != http.MethodGet:
		return site == "" && origin != ""
	case site == "" || site == "none":
		return true
	}
	return r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
}
