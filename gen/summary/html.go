package summary

import (
	"html/template"
	"io"
	"sync"

	"gridferry/gen/page"
	"gridferry/plan/wording"
)

// pageStyle is what the page has of its own.
const pageStyle = `body { max-width: none; }
table { width: auto; }
th, td { text-align: right; white-space: nowrap; }
th:first-child, td:first-child, th:nth-child(-n+3), td:nth-child(-n+3) { text-align: left; white-space: normal; }
tbody th { min-width: 12rem; }
td:nth-child(2) { min-width: 14rem; }
tr.refused td, tr.not td { font-weight: bold; }
@media screen {
  .wide { max-height: 90vh; overflow: auto; }
  thead th { position: sticky; top: 0; }
}
`

// pageHead is what every page begins with, and no other; "generator" is HTML's own name
// for the program that made a page.
const pageHead = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="generator" content="Gridferry variants">
`

var pageTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("page").Parse(pageText)) })

const pageText = pageHead + `<meta http-equiv="Content-Security-Policy" content="{{.Policy}}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Variants of {{.Plan}}</title>
<style>{{.Style}}</style>
</head>
<body>
<h1>Variants of {{.Plan}}</h1>
<p>{{.Counts}}. The time is an estimate. Generated text is no proof of safety: prove every program out at reduced speed.</p>
<section class="wide" aria-label="Variants" tabindex="0">
<table>
<thead><tr>{{range .Heads}}<th scope="col">{{.}}</th>{{end}}</tr></thead>
<tbody>
{{range .Rows}}<tr class="{{.State}}">{{range $i, $c := .Cells}}{{if $i}}<td>{{$c}}</td>{{else}}<th scope="row">{{$c}}</th>{{end}}{{end}}</tr>
{{end}}</tbody>
</table>
</section>
</body>
</html>
`

type pageRow struct {
	State State // as classes: "not written" is two
	Cells []string
}

// WriteHTML writes the table as one page that needs nothing else.
func (t *Table) WriteHTML(w io.Writer) error {
	style := page.Style(pageStyle) + page.Edges{Kind: "Variants", Title: t.Plan, Foot: t.String()}.Style()
	rows := make([]pageRow, len(t.Rows))
	for i := range t.Rows {
		r := &t.Rows[i]
		rows[i] = pageRow{r.State, t.cells(r, wording.Lasts(r.Seconds, r.Waits))}
	}
	return pageTemplate().Execute(w, struct {
		Policy string
		Plan   string
		Counts string
		Style  template.CSS
		Heads  []string
		Rows   []pageRow
	}{page.Policy("", style), t.Plan, t.String(), template.CSS(style), t.heads(), rows})
}
