package live_test

import (
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// TestRefused: whoever does not come from the page itself gets a sentence and nothing else, and so does whoever asks for
// what there is not. The page gets its headers.
func TestRefused(t *testing.T) {
	t.Parallel()
	s := serve(t)
	secret := strings.Split(s.server.Address(), "/")[3]
	port := s.origin()[len("http://127.0.0.1"):]
	const big = 40 << 20
	type asked struct {
		method, path string
		headers      map[string]string
		body         string
	}
	own := map[string]string{"Origin": s.origin(), "Content-Type": "application/json"}
	with := func(name, value string) map[string]string {
		all := map[string]string{name: value}
		for n, v := range own {
			if n != name {
				all[n] = v
			}
		}
		return all
	}
	for _, c := range []struct {
		name string
		asked
		status int
	}{
		{"the page", asked{"GET", "/" + secret + "/", nil, ""}, 200},
		{"from a link elsewhere", asked{"GET", "/" + secret + "/", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, ""}, 200},
		{"localhost", asked{"GET", "/" + secret + "/", map[string]string{"Host": "localhost" + port}, ""}, 200},
		{"draft", asked{"POST", "/" + secret + "/draft", own, `{}`}, 200},
		{"draft, by where it was made", asked{"POST", "/" + secret + "/draft", map[string]string{"Sec-Fetch-Site": "same-origin", "Content-Type": "application/json"}, `{}`}, 200},

		{"no secret", asked{"GET", "/", nil, ""}, 404},
		{"no secret, state", asked{"GET", "/state", nil, ""}, 404},
		{"no slash", asked{"GET", "/" + secret, nil, ""}, 404},
		{"wrong secret", asked{"GET", "/" + strings.Repeat("a", len(secret)) + "/", nil, ""}, 404},
		{"shorter secret", asked{"GET", "/" + secret[1:] + "/", nil, ""}, 404},
		{"secret in capitals", asked{"GET", "/" + strings.ToUpper(secret) + "/", nil, ""}, 404},
		{"another host", asked{"GET", "/" + secret + "/", map[string]string{"Host": "gridferry.example" + port}, ""}, 403},
		{"another port", asked{"GET", "/" + secret + "/", map[string]string{"Host": "127.0.0.1:1"}, ""}, 403},
		{"no port", asked{"GET", "/" + secret + "/", map[string]string{"Host": "127.0.0.1"}, ""}, 403},
		{"another origin", asked{"GET", "/" + secret + "/state", map[string]string{"Origin": "http://127.0.0.1:1"}, ""}, 403},
		{"no origin of its own", asked{"GET", "/" + secret + "/state", map[string]string{"Origin": "null"}, ""}, 403},
		{"fetched from elsewhere", asked{"GET", "/" + secret + "/state", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "script"}, ""}, 403},
		{"framed", asked{"GET", "/" + secret + "/", map[string]string{"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}, ""}, 403},
		{"saved from elsewhere", asked{"POST", "/" + secret + "/save", with("Origin", "https://example.com"), `{}`}, 403},
		{"saved from nowhere", asked{"POST", "/" + secret + "/save", map[string]string{"Content-Type": "application/json"}, `{}`}, 403},
		{"saved from elsewhere on this computer", asked{"POST", "/" + secret + "/save", with("Sec-Fetch-Site", "same-site"), `{}`}, 403},

		{"up", asked{"GET", "/" + secret + "/../state", nil, ""}, 404},
		{"up to the secret", asked{"GET", "/x/../" + secret + "/state", nil, ""}, 404},
		{"up, encoded", asked{"GET", "/" + secret + "/%2e%2e/state", nil, ""}, 404},
		{"slash, encoded", asked{"GET", "/" + secret + "%2fstate", nil, ""}, 404},
		{"two slashes", asked{"GET", "/" + secret + "//state", nil, ""}, 404},
		{"a file", asked{"GET", "/" + secret + "/bench.cell.yaml", nil, ""}, 404},
		{"unknown version", asked{"GET", "/" + secret + "/state?version=1", nil, ""}, 404},
		{"unknown family", asked{"GET", "/" + secret + "/program?family=../../etc", nil, ""}, 404},
		{"no version of a scene", asked{"GET", "/" + secret + "/scene?version=../state", nil, ""}, 404},

		{"put", asked{"PUT", "/" + secret + "/save", own, `{}`}, 405},
		{"delete", asked{"DELETE", "/" + secret + "/", own, ""}, 405},
		{"draft by get", asked{"GET", "/" + secret + "/draft", nil, ""}, 405},
		{"state by post", asked{"POST", "/" + secret + "/state", own, `{}`}, 405},
		{"options", asked{"OPTIONS", "/" + secret + "/save", own, ""}, 405},
		{"a form", asked{"POST", "/" + secret + "/save", with("Content-Type", "text/plain"), `{}`}, 415},
		{"no type", asked{"POST", "/" + secret + "/save", with("Content-Type", ""), `{}`}, 415},
		{"too large", asked{"POST", "/" + secret + "/draft", own, `{"texts":{"a":"` + strings.Repeat("a", big) + `"}}`}, 413},
		{"no JSON", asked{"POST", "/" + secret + "/draft", own, `{`}, 400},
	} {
		r, err := http.NewRequest(c.method, s.origin(), strings.NewReader(c.body))
		if err != nil {
			t.Fatal(err)
		}
		r.URL.Opaque = c.path // as it is
		for name, value := range c.headers {
			r.Header.Set(name, value)
		}
		if host := c.headers["Host"]; host != "" {
			r.Host = host
		}
		a, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if a.StatusCode != c.status {
			t.Errorf("%s: %s, wanted %d", c.name, a.Status, c.status)
		}
		if kind := a.Header.Get("Content-Type"); c.status != 200 && kind != "text/plain; charset=utf-8" {
			t.Errorf("%s: a refusal is %s", c.name, kind)
		}
		for _, name := range []string{"Content-Security-Policy", "X-Content-Type-Options", "Referrer-Policy", "Cache-Control", "Cross-Origin-Opener-Policy", "Cross-Origin-Resource-Policy"} {
			if a.Header.Get(name) == "" {
				t.Errorf("%s: no %s", c.name, name)
			}
		}
		for name := range a.Header {
			if strings.HasPrefix(name, "Access-Control-") {
				t.Errorf("%s: %s lets others in", c.name, name)
			}
		}
		a.Body.Close()
	}
}

// TestPolicy: the page may run its own script and ask its own server, and nothing else; nobody shows it in a frame (Content
// Security Policy Level 3, connect-src and frame-ancestors).
func TestPolicy(t *testing.T) {
	s := serve(t)
	a, err := http.Get(s.server.Address())
	if err != nil {
		t.Fatal(err)
	}
	a.Body.Close()
	policy := a.Header.Get("Content-Security-Policy")
	for _, want := range []string{"default-src 'none'", "script-src 'sha256-", "connect-src 'self'", "frame-ancestors 'none'", "form-action 'none'", "base-uri 'none'"} {
		if !strings.Contains(policy, want) {
			t.Errorf("%s lacks %s", policy, want)
		}
	}
	if strings.Contains(policy, "unsafe") {
		t.Error(policy)
	}
}

// TestSlow: who does not come to the end of a request keeps no connection.
func TestSlow(t *testing.T) {
	t.Parallel() // it waits
	s := serve(t)
	c, err := net.Dial("tcp", s.origin()[len("http://"):])
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := io.WriteString(c, "GET / HTTP/1.1\r\nHost:"); err != nil {
		t.Fatal(err)
	}
	c.SetReadDeadline(time.Now().Add(30 * time.Second)) // the server waits for 5
	if answer, err := io.ReadAll(c); err != nil {
		t.Errorf("%q, %v: the connection is open", answer, err)
	}
}
