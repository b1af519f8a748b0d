package live_test

import (
	"bufio"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"
)

// FuzzServe sends whatever it likes, behind the secret and not. The server answers each request with a status that it knows, and
// goes on.
//
//fuzz:2s
func FuzzServe(f *testing.F) {
	s := serve(f)
	text := read(f, s.plan())
	f.Add("GET", "", "", "")
	f.Add("GET", "state?version=%zz", "Origin: null\r\n", "")
	f.Add("POST", "draft", "Content-Type: application/json\r\n", `{"texts":{"a":"b"},"good":"x"}`)
	f.Add("POST", "save", "Content-Type: application/json; charset=utf-8\r\nTransfer-Encoding: chunked\r\n", `{"file":"../x","text":"","base":""}`)
	f.Add("POST", "suggest", "Content-Type: application/json\r\n", `{"texts":null,"file":"","line":-1,"column":1e9}`)
	f.Add("POST", "means", "Content-Type: application/json\r\n", `{"texts":null,"file":"","line":-1,"column":1e9}`)
	f.Add("POST", "why", "Content-Type: application/json\r\n", `{"move":-5,"programLine":99999999999,"family":"st"}`)
	f.Fuzz(func(t *testing.T, method, path, headers, body string) {
		c, err := net.Dial("tcp", s.origin()[len("http://"):])
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		c.SetDeadline(time.Now().Add(20 * time.Second))
		request := method + " " + strings.TrimPrefix(s.server.Address(), s.origin()) + path + " HTTP/1.1\r\nHost: " + s.origin()[len("http://"):] +
			"\r\nOrigin: " + s.origin() + "\r\nConnection: close\r\n" + headers
		if !strings.Contains(headers, "Transfer-Encoding") {
			request += "Content-Length: " + strconv.Itoa(len(body)) + "\r\n"
		}
		go func() {
			io.WriteString(c, request+"\r\n"+body)
			c.(*net.TCPConn).CloseWrite()
		}()
		if path == "events" {
			return
		}
		a, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			return // it was not HTTP, and the connection ended
		}
		defer a.Body.Close()
		if a.StatusCode >= 500 && a.StatusCode != http.StatusNotImplemented && a.StatusCode != http.StatusHTTPVersionNotSupported {
			said, _ := io.ReadAll(a.Body)
			t.Errorf("%s: %s", a.Status, said)
		}
		if read(t, s.plan()) != text {
			t.Error("the plan was written")
		}
	})
}
