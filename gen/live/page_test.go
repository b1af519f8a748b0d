package live

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"regexp"
	"strings"
	"testing"
)

// A title is a plan's own text: it never becomes markup.
func TestPageTitle(t *testing.T) {
	var b bytes.Buffer
	if err := Page(&b, `</title><script>alert(1)</script>`); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<script>alert") {
		t.Error("a title became a script")
	}
	if n := strings.Count(b.String(), "&lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt;"); n != 2 {
		t.Errorf("the title stands %d times as text, not in head and heading", n)
	}
}

// What stands in the page as script and style is what its policy lets in (Content Security Policy Level 3, 2.3.1:
// the SHA-256 of the element's text), and nothing asks for anything from elsewhere.
func TestPagePolicy(t *testing.T) {
	var b bytes.Buffer
	if err := Page(&b, "A plan"); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, tag := range []string{"script", "style"} {
		inside := regexp.MustCompile(`(?s)<`+tag+`>(.*?)</`+tag+`>`).FindAllStringSubmatch(text, -1)
		if len(inside) != 1 {
			t.Fatalf("the page has %d elements %s, not one", len(inside), tag)
		}
		sum := sha256.Sum256([]byte(inside[0][1]))
		if want := tag + "-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(Policy(), want) {
			t.Errorf("the policy is %q and lacks %q", Policy(), want)
		}
	}
	if !strings.Contains(Policy(), "default-src 'none'") || !strings.HasSuffix(Policy(), "; connect-src 'self'") {
		t.Errorf("the policy is %q", Policy())
	}
	text = strings.ReplaceAll(text, "http://www.w3.org/2000/svg", "") // the name of SVG's elements, which nobody asks for
	for _, from := range []string{"http:", "https:", "//cdn", ` style="`, "onclick=", "onload="} {
		if strings.Contains(text, from) {
			t.Errorf("the page has %q in it", from)
		}
	}
}

// No script makes markup of a text, or code.
func TestPageScripts(t *testing.T) {
	for _, word := range []string{"innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "new Function", "DOMParser"} {
		if strings.Contains(pageScript(), word) {
			t.Errorf("a script has %s in it", word)
		}
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^const (\w+) =`).FindAllStringSubmatch(pageScript(), -1) {
		if seen[m[1]] {
			t.Errorf("two scripts are called %s", m[1])
		}
		seen[m[1]] = true
	}
	for _, name := range pageScripts {
		if !seen[name] {
			t.Errorf("page/%s.js does not begin with const %s", name, name)
		}
	}
}
