package web

import (
	"encoding/json"
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
