// Package colour is the colours of pictures and pages, light and dark, and what holds
// for each two of them that meet.
package colour

import "strings"

// Role is what a colour stands for, as #rrggbb in both schemes.
type Role struct{ Name, Light, Dark string }

// Roles is every colour there is. Text keeps at least 4.5:1 to what it stands on, lines
// and signs 3:1 (WCAG 2.2, 1.4.3 and 1.4.11); the tests hold each pair of Contrasts to
// that. None of them is the only cue: what they say is said by line type, sign or words
// as well.
var Roles = []Role{
	{"ground", "#ffffff", "#14181c"}, // the paper
	{"faint", "#eef1f3", "#20262c"},  // the ground of buttons and heads of tables
	{"ink", "#1a2026", "#e6ebf0"},
	{"quiet", "#56626e", "#a3b0bc"}, // what matters less, and thin lines
	{"rule", "#aab2ba", "#55616c"},  // between what would be told apart without it, too
	{"part", "#f2d9a6", "#5a4a22"},  // a slot that holds a part
	{"due", "#dfeaf5", "#1c3247"},   // a slot that a part comes to
	{"accent", "#0b4f94", "#8cc2f5"},
	{"keep", "#9c2a1a", "#ff9d8a"}, // keep-out boxes, cautions, errors
	{"tool", "#6b2a86", "#dcb0f2"},
	{"warn", "#fff3d6", "#33290f"}, // the ground of findings
	{"here", "#dbe9f7", "#17334f"}, // the ground of what is meant now

	// How much is left of a margin, from least to most: one hue in steps of lightness, which grey print and
	// every eye tell apart; what leaves least stands out most from the ground.
	{"tight", "#6b2c00", "#ffc58c"},
	{"scant", "#ab5a0a", "#cf8437"},
	{"fair", "#f0aa5c", "#74461a"},
	{"ample", "#fdeedb", "#2d2116"},
}

// Contrast is two roles that meet, and the least ratio of theirs.
type Contrast struct {
	What, Front, Back string
	Least             float64
}

// The least ratios.
const (
	ForText = 4.5
	ForSign = 3.0
)

// Contrasts is every pair that meets.
var Contrasts = []Contrast{
	{"text", "ink", "ground", ForText},
	{"text on a part", "ink", "part", ForText},
	{"text on a slot to be filled", "ink", "due", ForText},
	{"text of buttons and heads", "ink", "faint", ForText},
	{"text of findings", "ink", "warn", ForText},
	{"text of what is meant now", "ink", "here", ForText},
	{"quiet text", "quiet", "ground", ForText},
	{"quiet text of buttons and heads", "quiet", "faint", ForText},
	{"links, order numbers", "accent", "ground", ForText},
	{"links in heads", "accent", "faint", ForText},
	{"links in findings", "accent", "warn", ForText},
	{"links in what is meant now", "accent", "here", ForText},
	{"order numbers on a part", "accent", "part", ForText},
	{"order numbers on a slot to be filled", "accent", "due", ForText},
	{"text of a pressed button", "ground", "accent", ForText},
	{"words of errors", "keep", "ground", ForText},
	{"words of errors in findings", "keep", "warn", ForText},
	{"words of errors in what is meant now", "keep", "here", ForText},
	{"words of errors in buttons and heads", "keep", "faint", ForText},
	{"outlines of slots to be filled", "ink", "due", ForSign},
	{"the path across slots to be filled", "accent", "due", ForSign},
	{"keep-out boxes behind slots to be filled", "keep", "due", ForSign},
	{"outlines", "ink", "ground", ForSign},
	{"outlines of parts", "ink", "part", ForSign},
	{"thin lines", "quiet", "ground", ForSign},
	{"the path", "accent", "ground", ForSign},
	{"the path across parts", "accent", "part", ForSign},
	{"keep-out boxes", "keep", "ground", ForSign},
	{"keep-out boxes behind parts", "keep", "part", ForSign},
	{"text on least left", "ground", "tight", ForText},
	{"text on little left", "ground", "scant", ForText},
	{"text on some left", "ink", "fair", ForText},
	{"text on most left", "ink", "ample", ForText},
	{"outlines of most left", "ink", "ample", ForSign},
	{"outlines of some left", "ink", "fair", ForSign},
	{"the tool's boxes", "tool", "ground", ForSign},
	{"the tool's boxes across parts", "tool", "part", ForSign},
	{"the tool's boxes across slots to be filled", "tool", "due", ForSign},
}

// In is a role's colour in one scheme.
func (r Role) In(dark bool) string {
	if dark {
		return r.Dark
	}
	return r.Light
}

// Fill puts colours in the place of their names, written $name.
func Fill(text string, dark bool) string {
	for _, r := range Roles {
		text = strings.ReplaceAll(text, "$"+r.Name, r.In(dark))
	}
	return text
}

// Properties is the roles as custom properties of a page, --name: dark on a screen that
// is set so, light everywhere else.
func Properties() string {
	return ":root {" + properties(false) + " }\n@media screen and (prefers-color-scheme: dark) { :root {" + properties(true) + " } }\n"
}

func properties(dark bool) string {
	var b strings.Builder
	for _, r := range Roles {
		b.WriteString(" --" + r.Name + ": " + r.In(dark) + ";")
	}
	return b.String()
}
