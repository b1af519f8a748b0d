package lsp_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"
	"testing/synctest"

	"github.com/creachadair/jrpc2"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/lsp"
	plans "gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// refused is the number of the error that a request gets; 0 for none.
func (e *editor) refused(method string, params any) jrpc2.Code {
	_, err := e.client.Call(context.Background(), method, params)
	var coded *jrpc2.Error
	if errors.As(err, &coded) {
		return coded.Code
	}
	return 0
}

// TestErrors: by the numbers of JSON-RPC 2.0 (section 5.1) and LSP 3.17 (ErrorCodes), read there.
func TestErrors(t *testing.T) {
	e := edit(t)
	nowhere := map[string]any{"textDocument": map[string]any{"uri": "file:///nowhere.plan.yaml"}, "position": position{}}
	for _, c := range []struct {
		method string
		params any
		want   jrpc2.Code
	}{
		{"textDocument/nonsense", nil, -32601},
		{"$/nonsense", nil, -32601},
		{"textDocument/hover", nowhere, -32602},
		{"textDocument/completion", nowhere, -32602},
		{"textDocument/formatting", nowhere, -32602},
		{"textDocument/hover", map[string]any{"textDocument": 1}, -32602},
		{"textDocument/hover", []int{1}, -32602},
		{"initialize", map[string]any{}, -32600},
		{"shutdown", nil, 0},
		{"textDocument/hover", nowhere, -32600},
	} {
		if got := e.refused(c.method, c.params); got != c.want {
			t.Errorf("%s: got %d, wanted %d", c.method, got, c.want)
		}
	}
}

// last is how the id of a message begins that talk adds.
const last = `"id":"last `

// talk is what the server says to some messages until it says a word, or ends; and how it ends. It is sent more messages again and
// again: the length of one before them may be wrong.
func talk(text, word string) (said string, err error) {
	in, editor := io.Pipe()
	out := heardOut{said: make(chan string, 1000)}
	ended := make(chan error, 1)
	go func() {
		ended <- gen.Served{Layout: layout.Options{Slots: 1000}}.LSP().Run(context.Background(), in, out)
		in.Close()
	}()
	go func() {
		_, err := io.WriteString(editor, text)
		for n := 0; err == nil; n++ {
			_, err = io.WriteString(editor, message(fmt.Sprintf(`{"jsonrpc":"2.0",%s%d","method":"last"}`, last, n)))
		}
	}()
	for {
		select {
		case one := <-out.said:
			if said += one; strings.Contains(one, word) {
				editor.Close() // what is said after it is read all the same
			}
		case err := <-ended:
			return said, err
		}
	}
}

// heardOut hands out what is written, a message at a time.
type heardOut struct{ said chan string }

func (o heardOut) Write(text []byte) (int, error) {
	o.said <- string(text)
	return len(text), nil
}

func message(text string) string { return fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(text), text) }

// TestBegin: before "initialize" nothing else is answered, and an editor that goes without a word is told of.
func TestBegin(t *testing.T) {
	hover, begin := message(`{"jsonrpc":"2.0","id":1,"method":"textDocument/hover","params":{}}`), message(`{"jsonrpc":"2.0","id":2,"method":"initialize","params":{"capabilities":{}}}`)
	if said, err := talk(hover, `"id":1`); err != nil || !strings.Contains(said, "-32002") {
		t.Errorf("%v: %s", err, said)
	}
	if said, err := talk(begin, `"id":2`); !errors.Is(err, lsp.ErrNotShut) || !strings.Contains(said, `"hoverProvider":true`) || !strings.Contains(said, `"positionEncoding":"utf-16"`) {
		t.Errorf("%v: %s", err, said)
	}
}

// TestMessages: headers as the protocol has them, and what is none.
func TestMessages(t *testing.T) {
	body := `{"jsonrpc":"2.0","id":1,"method":"x"}`
	for text, good := range map[string]bool{
		message(body): true,
		fmt.Sprintf("content-length: %d\r\nContent-Type: application/vscode-jsonrpc; charset=utf8\r\n\r\n%s", len(body), body): true,
		"":                                   true,
		message("{"):                         true,  // an answer says that it cannot be read
		"Content-Length: 10\r\n\r\n{":        false, // what follows is no header
		"Content-Length: x\r\n\r\n":          false,
		"Content-Length: -1\r\n\r\n":         false,
		"Content-Length: 9999999999\r\n\r\n": false,
		"\r\n\r\n":                           false,
		"GET / HTTP/1.1\r\n\r\n":             false,
		strings.Repeat("x", 10_000):          false,
		strings.Repeat("x: y\r\n", 100):      false,
	} {
		said, err := talk(text, last)
		if (err == nil) != good {
			t.Errorf("%.60q: %v", text, err)
		}
		if good && text != "" && !strings.Contains(said, `"error"`) {
			t.Errorf("%.60q: %s", text, said)
		}
	}
}

// slow is a flow whose work goes on until it is given up, but for texts that end with "quick".
type slow struct{ begun, over chan string }

func (s *slow) flow() lsp.Flow {
	return lsp.Flow{
		Plan: func(source plans.Source) lsp.Job { return slowJob{s, string(source.Data)} },
		Form: func(string) decode.Form { return nil },
	}
}

type slowJob struct {
	*slow
	text string
}

func (j slowJob) Work(ctx context.Context) *lsp.Work {
	if !strings.HasSuffix(j.text, "quick") {
		j.begun <- j.text
		<-ctx.Done()
		j.over <- j.text
	}
	return &lsp.Work{Sources: new(diag.Sources)}
}

func (slowJob) Entries(context.Context) []lsp.Entry { return nil }

// TestSuperseded: work on a text that was edited meanwhile stops, and what came of it is not said.
func TestSuperseded(t *testing.T) {
	s := &slow{make(chan string), make(chan string)}
	e := editWith(t, lsp.New(s.flow(), ""))
	plan := t.TempDir() + "/x.plan.yaml"
	e.open(plan, "one")
	<-s.begun
	e.change(plan, 2, span{}, "two ")
	if text := <-s.over; text != "one" {
		t.Error(text)
	}
	if text := <-s.begun; text != "two one" {
		t.Error(text)
	}
	e.change(plan, 3, span{position{0, 7}, position{0, 7}}, " quick")
	<-s.over
	if p := <-e.said; p.Version != 3 {
		t.Errorf("version %d", p.Version)
	}
}

// TestCancel: a request that waits for work is given up when the editor says so; and all work at the end, after which nothing goes on.
func TestCancel(t *testing.T) { synctest.Test(t, cancelled) }

func cancelled(t *testing.T) {
	s := &slow{make(chan string), make(chan string)}
	out := heardOut{make(chan string, 100)}
	in, editor := io.Pipe()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() { ended <- lsp.New(s.flow(), "").Run(ctx, in, out) }()
	say := func(method, rest string) {
		fmt.Fprint(editor, message(`{"jsonrpc":"2.0","method":"`+method+`",`+rest+`}`))
	}
	uri, _ := json.Marshal(uri(t.TempDir() + "/x.plan.yaml"))
	say("initialize", `"id":1,"params":{"capabilities":{}}`)
	<-out.said
	say("textDocument/didOpen", `"params":{"textDocument":{"uri":`+string(uri)+`,"version":1,"text":"x"}}`)
	<-s.begun
	say("textDocument/hover", `"id":"seven","params":{"textDocument":{"uri":`+string(uri)+`},"position":{"line":0,"character":0}}`)
	say("$/cancelRequest", `"params":{"id":"seven"}`)
	if said := <-out.said; !strings.Contains(said, `"id":"seven"`) || !strings.Contains(said, "-32800") {
		t.Error(said)
	}
	stop()
	<-s.over
	if err := <-ended; err != nil {
		t.Error(err)
	}
	synctest.Wait()
	select {
	case text := <-s.begun:
		t.Fatalf("work on %q has begun", text)
	case text := <-out.said:
		t.Fatalf("after the end it says %s", text)
	default:
	}
	editor.Close() // what reads the stream ends with it; synctest fails where anything else goes on
}

var farAway = regexp.MustCompile(`[0-9]{6}`)

// FuzzServer: whatever comes over the stream, the server answers or ends, and each answer is a message.
//
//fuzz:3s
func FuzzServer(f *testing.F) {
	begin := message(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{"general":{"positionEncodings":["utf-8"]}}}}`)
	open := message(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///nowhere/x.plan.yaml","version":1,"text":"format: gridferry plan 1\ngrids:\n  tray: {rows: 2}\n"}}}`)
	at := `"params":{"textDocument":{"uri":"file:///nowhere/x.plan.yaml"},"position":{"line":2,"character":9}}}`
	change := message(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///nowhere/x.plan.yaml","version":2},"contentChanges":[{"range":{"start":{"line":1,"character":7},"end":{"line":9,"character":0}},"text":"é𝔸"}]}}`)
	f.Add(begin + open + change + message(`{"jsonrpc":"2.0","id":2,"method":"textDocument/completion",`+at) + message(`{"jsonrpc":"2.0","id":3,"method":"textDocument/hover",`+at))
	f.Add(begin + open + message(`{"jsonrpc":"2.0","id":2,"method":"textDocument/formatting",`+at) + message(`{"jsonrpc":"2.0","id":4,"method":"shutdown"}`) + message(`{"jsonrpc":"2.0","method":"exit"}`))
	f.Add(strings.ReplaceAll(begin+open, "x.plan.yaml", "x.tmpl") + message(`[{"jsonrpc":"2.0","id":2,"method":"textDocument/completion",`+strings.ReplaceAll(at, "x.plan.yaml", "x.tmpl")+`]`))
	f.Add(begin + message(`{"jsonrpc":"2.0","method":"exit"}`) + message(`{"jsonrpc":"2.0","method":"exit"}`))
	f.Add("Content-Length: 1\r\n\r\n[")
	f.Fuzz(func(t *testing.T, text string) {
		if farAway.MatchString(text) {
			return // it would wait for megabytes
		}
		said, _ := talk(text, last)
		for said != "" {
			var n int
			head, rest, ok := strings.Cut(said, "\r\n\r\n")
			if _, err := fmt.Sscanf(head, "Content-Length: %d", &n); err != nil || !ok || n > len(rest) || !json.Valid([]byte(rest[:n])) {
				t.Fatalf("%q", said)
			}
			said = rest[n:]
		}
	})
}
