package page

import (
	"strings"
	"testing"
)

// No text ends the string that holds it, and none is longer than an edge.
func TestEdges(t *testing.T) {
	style := Edges{Kind: `a"b`, Title: "</style>\n}*{display:none} é", Foot: strings.Repeat("x", 500)}.Style()
	for _, want := range []string{`content: "a\22 b";`, `content: "\3c \2f style\3e  \7d \2a \7b display\3a none\7d  \e9 ";`} {
		if !strings.Contains(style, want) {
			t.Errorf("%s\nlacks %s", style, want)
		}
	}
	if n := strings.Count(style, "x"); n > 100 {
		t.Errorf("an edge has %d letters", n)
	}
}
