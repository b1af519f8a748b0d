package golden

import (
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// said is an expression for the text of an element.
func said(selector string) web.Step {
	return web.Step{Do: "read", On: "document.querySelector('" + selector + "').textContent"}
}

// Checks can be ticked, with and without scripts, and are counted; on paper the boxes are empty
// whatever was ticked; who reads the page anew is asked before, and has checked nothing then.
func TestSheetCanBeTicked(t *testing.T) {
	outside.Short(t)
	const first = "#checks .group:nth-of-type(1) tbody tr:nth-child(2) input"
	ticked := web.Step{Do: "read", On: "[...document.querySelectorAll('#checks input')].filter((e) => e.checked).length"}
	onPaper := web.Step{Do: "read", On: `(() => {
  const s = getComputedStyle(document.querySelector("` + first + `"));
  return [s.appearance, s.backgroundColor, s.backgroundImage, s.borderTopStyle, parseFloat(s.width) < 30, getComputedStyle(document.querySelector(".counted")).display].join(" ");
})()`}
	page := sheetPage(t, cubes)
	sight := web.Look(t, web.Job{Page: page, Steps: []web.Step{
		said("#checks .counted"),
		{Do: "click", On: first}, {Do: "press", On: "Tab"}, {Do: "press", On: "Space"}, ticked, said("#checks .counted"), // 5
		{Do: "print"}, onPaper, // 7
		{Do: "reload"}, ticked, said("#checks .counted"), // 10
		{Do: "reload"},
	}})
	for i, want := range map[int]string{0: "0 of 4 ticked", 4: "2", 5: "2 of 4 ticked", 7: "none rgba(0, 0, 0, 0) none solid true none", 8: "beforeunload", 9: "0", 10: "0 of 4 ticked", 11: ""} {
		if got := strings.Trim(string(sight.Values[i]), `"`); got != want {
			t.Errorf("after step %d: %q, wanted %q", i, got, want)
		}
	}
	plain := web.Look(t, web.Job{Page: page, NoScript: true, Steps: []web.Step{{Do: "click", On: first}, ticked}})
	if string(plain.Values[1]) != "1" {
		t.Errorf("without scripts %s boxes are ticked, wanted 1", plain.Values[1])
	}
}
