package gen

import "testing"

// TestNeedlessQuotes: quotes that change nothing do not change a seal; those that do, and
// those inside of a text, count.
func TestNeedlessQuotes(t *testing.T) {
	for setting, want := range map[string]string{
		`a.b="A1:B6"`:            `a.b=A1:B6`,
		`a.b='tray A1:B6'`:       `a.b=tray A1:B6`,
		`a.b="tray A1:B6, C2"`:   `a.b=tray A1:B6, C2`,
		`a.b=["A1", "B2", 'C3']`: `a.b=[A1, B2, C3]`,
		`a.b={from: "tray"}`:     `a.b={from: tray}`,
		`a.b="5"`:                `a.b="5"`,
		`a.b="on"`:               `a.b="on"`,
		`a.b=["5", "no"]`:        `a.b=["5", "no"]`,
		`a.b=the "big" tray`:     `a.b=the "big" tray`,
		`a.b="say \"so\" twice"`: `a.b="say \"so\" twice"`,
		`a.b=A1:B6`:              `a.b=A1:B6`,
		`a.b='say "so", twice'`:  `a.b=say "so", twice`,
	} {
		if got := unquoted(setting); got != want {
			t.Errorf("%s: %s, wanted %s", setting, got, want)
		}
	}
}
