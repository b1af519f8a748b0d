package draw

import "strings"

// colour is one role's colour in both schemes.
type colour struct{ name, light, dark string }

// palette is every colour there is. Text keeps at least 4.5:1 to what it stands
// on, lines and signs 3:1 (WCAG 2.2, 1.4.3 and 1.4.11); the tests hold each pair
// of contrasts to that. None of them is the only cue: what they say is said by
// line type, sign or words as well.
var palette = []colour{
	{"paper", "#ffffff", "#14181c"},
	{"ink", "#1a2026", "#e6ebf0"},
	{"soft", "#56626e", "#a3b0bc"},
	{"part", "#f2d9a6", "#5a4a22"},
	{"due", "#dfeaf5", "#1c3247"},
	{"path", "#0b4f94", "#8cc2f5"},
	{"keep", "#9c2a1a", "#ff9d8a"},
	{"tool", "#6b2a86", "#dcb0f2"},
}

// contrast is two roles that meet in the picture, and the least ratio of theirs.
type contrast struct {
	what, front, back string
	least             float64
}

const (
	forText = 4.5
	forSign = 3.0
)

// contrasts is every pair that meets.
var contrasts = []contrast{
	{"text", "ink", "paper", forText},
	{"text on a part", "ink", "part", forText},
	{"text on a slot to be filled", "ink", "due", forText},
	{"order numbers on a slot to be filled", "path", "due", forText},
	{"outlines of slots to be filled", "ink", "due", forSign},
	{"the path across slots to be filled", "path", "due", forSign},
	{"keep-out boxes behind slots to be filled", "keep", "due", forSign},
	{"quiet text", "soft", "paper", forText},
	{"order numbers", "path", "paper", forText},
	{"order numbers on a part", "path", "part", forText},
	{"outlines", "ink", "paper", forSign},
	{"outlines of parts", "ink", "part", forSign},
	{"thin lines", "soft", "paper", forSign},
	{"the path", "path", "paper", forSign},
	{"the path across parts", "path", "part", forSign},
	{"keep-out boxes", "keep", "paper", forSign},
	{"keep-out boxes behind parts", "keep", "part", forSign},
	{"the tool's boxes", "tool", "paper", forSign},
	{"the tool's boxes across parts", "tool", "part", forSign},
	{"the tool's boxes across slots to be filled", "tool", "due", forSign},
}

// style is what one class looks like: shape is the same in both schemes, paint
// has the colours, written $role.
type style struct{ class, shape, paint string }

// Line widths are a group of ISO 128-2, 0.5 mm thick and 0.25 mm thin; what lies
// over other things is a step finer or bolder. Dashes are lengths in mm.
var styles = []style{
	{"paper", "", "fill:$paper"},
	{"ink", "", "fill:$ink"},
	{"soft", "", "fill:$soft"},
	{"order", "", "fill:$path"},
	{"halo", "paint-order:stroke;stroke-width:.9px;stroke-linejoin:round", "stroke:$paper"},
	{"onpart", "paint-order:stroke;stroke-width:.7px;stroke-linejoin:round", "stroke:$part"},
	{"ondue", "paint-order:stroke;stroke-width:.7px;stroke-linejoin:round", "stroke:$due"},
	{"strong", "font-weight:bold", ""},

	{"full", "", "fill:$part;stroke:$ink"},
	{"free", "", "fill:$paper;stroke:$ink"},
	{"due", "", "fill:$due;stroke:$ink"},
	{"spare", "stroke-dasharray:.8px .6px", "fill:$paper;stroke:$soft"},
	{"gone", "fill:none;stroke-width:.25px", "stroke:$soft"},
	{"area", "fill:none;stroke-width:.25px", "stroke:$soft"},
	{"keep", "", "fill:url(#$id-hatch)"},
	{"hatch", "stroke-width:.18px", "stroke:$keep"},
	{"edge", "fill:none;stroke-width:.5px;stroke-linecap:round", "stroke:$keep"},
	{"hidden", "fill:none;stroke-width:.25px;stroke-dasharray:2px 1px", "stroke:$keep"},
	{"reach", "fill:none;stroke-width:.35px;stroke-dasharray:8px 1px .6px 1px .6px 1px", "stroke:$soft"},
	{"centre", "fill:none;stroke-width:.25px;stroke-dasharray:6px 1px .6px 1px", "stroke:$soft"},
	{"axis", "fill:none;stroke-width:.35px", "stroke:$ink"},
	{"tip", "", "fill:$ink"},
	{"body", "fill:none;stroke-width:.3px;stroke-linejoin:round", "stroke:$tool"},
	{"open", "fill:none;stroke-width:.25px;stroke-dasharray:1.6px .4px .3px .4px .3px .4px", "stroke:$tool"},
	{"way", "stroke-width:.35px", "fill:$paper;stroke:$ink"},
	{"travel", "fill:none;stroke-width:.3px;stroke-dasharray:4px .9px .6px .9px", "stroke:$path"},
	{"straight", "fill:none;stroke-width:.5px;stroke-linecap:round", "stroke:$path"},
	{"one", "stroke-width:.6px", ""},
	{"many", "stroke-width:.2px", ""},
	{"arrow", "", "fill:$path"},
	{"begins", "fill:none;stroke-width:.45px;stroke-linejoin:round", "stroke:$path"},
	{"focus", "fill:none;stroke-width:.9px", "stroke:$path"},
	{"leader", "fill:none;stroke-width:.2px", "stroke:$soft"},
	{"border", "fill:none;stroke-width:.25px", "stroke:$ink"},
	{"bar", "stroke-width:.25px", "fill:$ink;stroke:$ink"},
	{"blank", "stroke-width:.25px", "fill:$paper;stroke:$ink"},
}

// Style is the text of the picture's style element, for a page whose policy
// names it by its hash.
func (o Options) Style() string {
	var b strings.Builder
	root := "#" + o.id("")
	b.WriteString(root + "{max-width:100%;height:auto}\n")
	b.WriteString(root + " text{font-family:Arial,\"Liberation Sans\",\"DejaVu Sans\",sans-serif}\n")
	for _, s := range styles {
		o.rule(&b, s, s.shape, paint(s, o.Scheme == Dark))
	}
	if o.Scheme == Auto {
		b.WriteString("@media screen and (prefers-color-scheme:dark){\n")
		for _, s := range styles {
			if strings.Contains(s.paint, "$") && s.class != "keep" {
				o.rule(&b, s, "", paint(s, true))
			}
		}
		b.WriteString("}\n")
	}
	return b.String()
}

func (o Options) rule(b *strings.Builder, s style, shape, paint string) {
	if shape != "" && paint != "" {
		shape += ";"
	}
	b.WriteString("#" + o.id("") + " ." + s.class + "{" + strings.ReplaceAll(shape+paint, "$id", o.id("")) + "}\n")
}

// paint is a style's colours in one scheme.
func paint(s style, dark bool) string {
	out := s.paint
	for _, c := range palette {
		value := c.light
		if dark {
			value = c.dark
		}
		out = strings.ReplaceAll(out, "$"+c.name, value)
	}
	return out
}
