package live

import (
	"embed"
	"html/template"
	"io"
	"strings"
	"sync"

	"gridferry/gen/page"
	"gridferry/gen/scene"
)

//go:embed page
var pageFiles embed.FS

// The page's own scripts, which stand behind those of a scene, each behind what it uses.
var pageScripts = []string{
	"link", "columns", "highlight", "longlist", "tabs", "editor", "papers", "completion", "differences", "saving",
	"kin", "findings", "facts", "knobs", "program", "why", "tip", "notice", "others", "splitters", "steps", "paper", "stage", "live",
}

var (
	pageScript   = sync.OnceValue(script)
	pageStyle    = sync.OnceValue(func() string { return page.Style(scene.Style + part("live.css")) })
	pageTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("live").Parse(part("live.html"))) })
)

func part(name string) string {
	text, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic(err) // it is embedded
	}
	return string(text)
}

func script() string {
	var b strings.Builder
	b.WriteString("\n" + scene.Script() + "\n")
	for _, name := range pageScripts {
		b.WriteString(part(name + ".js"))
	}
	return b.String()
}

// Policy lets in the page's own script and style, and answers from the server that it came from.
func Policy() string { return page.Policy(pageScript(), pageStyle()) + "; connect-src 'self'" }

// Page writes the page. It has nothing of a plan in it but a title until it has asked the server for the rest.
func Page(w io.Writer, title string) error {
	return pageTemplate().Execute(w, struct {
		Policy string
		Style  template.CSS
		Script template.JS
		Title  string
	}{Policy(), template.CSS(pageStyle()), template.JS(pageScript()), title})
}
