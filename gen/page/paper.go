package page

import (
	"fmt"
	"strings"

	"gridferry/plan/wording"
)

// Edges are what stands at the edges of every sheet of paper that a page is printed on,
// beside the sheet's number: sheets that were mixed up or lost can be told.
type Edges struct{ Kind, Title, Foot string }

// Style prints them into the margins (CSS Paged Media Level 3, margin boxes).
func (e Edges) Style() string {
	return fmt.Sprintf(`@page {
  margin: 16mm 10mm 14mm;
  font: 8.5pt Arial, "Liberation Sans", "DejaVu Sans", sans-serif;
  @top-left { content: %s; font-size: 12pt; font-weight: bold; white-space: nowrap; }
  @top-right { content: %s; }
  @bottom-left { content: %s; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); white-space: nowrap; }
}
`, quoted(e.Kind), quoted(e.Title), quoted(e.Foot))
}

// quoted is any text as a CSS string: what is not a plain letter or figure is escaped by
// its number and a blank (CSS Syntax Level 3, 4.3.7), so that no text ends the string.
func quoted(text string) string {
	const most = 90
	var b strings.Builder
	for _, r := range wording.Shorten(strings.Join(strings.Fields(text), " "), most) {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == ' ':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "\\%x ", r)
		}
	}
	return `"` + b.String() + `"`
}
