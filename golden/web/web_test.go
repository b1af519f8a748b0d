package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The judges themselves: one that finds nothing proves nothing.

func TestValidatorFindsFaults(t *testing.T) {
	faults := Validate(t, []byte("<!DOCTYPE html><html lang=\"en\"><head><title>x</title></head><body><p id=\"a\">1<p id=\"a\">2<img src=\"x\"><b></i></body></html>"))
	rules := map[string]bool{}
	for _, f := range faults {
		rules[f.Rule] = true
	}
	for _, rule := range []string{"no-dup-id", "close-order"} {
		if !rules[rule] {
			t.Errorf("%s is not found in %v", rule, faults)
		}
	}
}

func write(t *testing.T, page string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(file, []byte(page), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestBrowserSeesWhatIsWrong(t *testing.T) {
	file := write(t, `<!DOCTYPE html><html><head><title>x</title></head><body><img src="other.png"><p style="color:#ccc">pale</p>
<script>console.error("trouble")</script></body></html>`)
	sight := Look(t, Job{Page: file, Steps: []Step{{Do: "read", On: "document.title"}, {Do: "check"}}})
	if len(sight.Requests) != 2 || !strings.HasSuffix(sight.Requests[1], "other.png") {
		t.Errorf("requests %v", sight.Requests)
	}
	if len(sight.Complaints) == 0 {
		t.Error("no complaint is seen")
	}
	found := map[string]bool{}
	for _, v := range sight.Serious() {
		found[v.Rule] = true
	}
	for _, rule := range []string{"color-contrast", "image-alt", "html-has-lang"} {
		if !found[rule] {
			t.Errorf("%s is not found: %+v", rule, sight.Violations)
		}
	}
	if string(sight.Values[0]) != `"x"` {
		t.Errorf("read %s", sight.Values[0])
	}
}

func TestWithoutScripts(t *testing.T) {
	file := write(t, `<!DOCTYPE html><html lang="en"><head><title>x</title></head><body><p id="p">plain</p><script>document.getElementById("p").textContent = "changed"</script></body></html>`)
	var plain, changed string
	for script, to := range map[bool]*string{true: &plain, false: &changed} {
		sight := Look(t, Job{Page: file, NoScript: script, Steps: []Step{{Do: "read", On: "document.getElementById('p').textContent"}}})
		if err := json.Unmarshal(sight.Values[0], to); err != nil {
			t.Fatal(err)
		}
	}
	if plain != "plain" || changed != "changed" {
		t.Errorf("without scripts %q, with them %q", plain, changed)
	}
}

// A page of a server is visited while its text changes, by two pages at once, with every
// sort of step; three-dimensional drawing is there, and complains of nothing.
func TestVisit(t *testing.T) {
	text := "first"
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/text":
			fmt.Fprint(w, text)
		case "/file":
			w.Header().Set("Content-Disposition", `attachment; filename="named.txt"`)
			fmt.Fprint(w, "kept")
		default:
			fmt.Fprint(w, `<!DOCTYPE html><html lang="en"><head><title>x</title><link rel="icon" href="data:,"></head><body><input id="in"><select id="of"><option>a<option>b</select>
<button id="ask" onclick="fetch('/text').then((r) => r.text()).then((t) => { document.title = t; })">ask</button> <a id="file" href="/file">file</a>
<div id="on" style="width:300px;height:300px;overflow:auto"><p style="height:2000px">long</p></div>
<script>let moved = 0; document.getElementById("on").addEventListener("pointermove", (e) => { if (e.buttons === 1) moved += e.movementX; });</script></body></html>`)
		}
	}))
	defer server.Close()
	v := Open(t, Job{Page: server.URL, Moving: true})
	file := filepath.Join(t.TempDir(), "kept")
	values := v.Do(Step{Do: "click", On: "#ask", Answered: "/text"}, Step{Do: "wait", On: "document.title === 'first'"},
		Step{Do: "open", On: server.URL, Page: 1}, Step{Do: "read", On: "document.title", Page: 1},
		Step{Do: "fill", On: "#in", To: "written"}, Step{Do: "select", On: "#of", To: "b"}, Step{Do: "drag", On: "#on", By: &[2]float64{40, 0}}, Step{Do: "wheel", On: "#on", By: &[2]float64{0, 120}},
		Step{Do: "wait", On: "document.getElementById('on').scrollTop > 0"}, Step{Do: "download", On: "#file", To: file}, Step{Do: "scheme", On: "dark"})
	if string(values[3]) != `"x"` || string(values[9]) != `"named.txt"` {
		t.Errorf("values %s", values)
	}
	if kept, err := os.ReadFile(file); string(kept) != "kept" {
		t.Errorf("downloaded %q, %v", kept, err)
	}
	text = "second"
	var seen struct {
		In, Of      string
		Moved       float64
		Dark, Still bool
		Drawn       string
	}
	v.Do(Step{Do: "click", On: "#ask", Answered: "/text"}, Step{Do: "wait", On: "document.title === 'second'"})
	v.Read(0, `({ in: document.getElementById("in").value, of: document.getElementById("of").value, moved, dark: matchMedia("(prefers-color-scheme: dark)").matches,
  still: matchMedia("(prefers-reduced-motion: reduce)").matches, drawn: String(document.createElement("canvas").getContext("webgl2")) })`, &seen)
	if seen.In != "written" || seen.Of != "b" || seen.Moved != 40 || !seen.Dark || seen.Still || seen.Drawn != "[object WebGL2RenderingContext]" {
		t.Errorf("seen %+v", seen)
	}
	if sight := v.End(); len(sight.Complaints) > 0 || len(sight.Requests) != 5 {
		t.Errorf("complaints %q, requests %q", sight.Complaints, sight.Requests)
	}
}
