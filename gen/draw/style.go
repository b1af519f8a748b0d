package draw

import (
	"strings"

	"gridferry/gen/colour"
)

// style is what one class looks like: shape is the same in both schemes, paint
// has the colours, written $role ([colour.Fill]).
type style struct{ class, shape, paint string }

// Line widths are a group of ISO 128-2, 0.5 mm thick and 0.25 mm thin; what lies
// over other things is a step finer or bolder. Dashes are lengths in mm.
var styles = []style{
	{"paper", "", "fill:$ground"},
	{"ink", "", "fill:$ink"},
	{"soft", "", "fill:$quiet"},
	{"order", "", "fill:$accent"},
	{"halo", "paint-order:stroke;stroke-width:.9px;stroke-linejoin:round", "stroke:$ground"},
	{"onpart", "paint-order:stroke;stroke-width:.7px;stroke-linejoin:round", "stroke:$part"},
	{"ondue", "paint-order:stroke;stroke-width:.7px;stroke-linejoin:round", "stroke:$due"},
	{"strong", "font-weight:bold", ""},

	{"full", "", "fill:$part;stroke:$ink"},
	{"free", "", "fill:$ground;stroke:$ink"},
	{"due", "", "fill:$due;stroke:$ink"},
	{"spare", "stroke-dasharray:.8px .6px", "fill:$ground;stroke:$quiet"},
	{"gone", "fill:none;stroke-width:.25px", "stroke:$quiet"},
	{"area", "fill:none;stroke-width:.25px", "stroke:$quiet"},
	{"keep", "", "fill:url(#$id-hatch)"},
	{"hatch", "stroke-width:.18px", "stroke:$keep"},
	{"edge", "fill:none;stroke-width:.5px;stroke-linecap:round", "stroke:$keep"},
	{"hidden", "fill:none;stroke-width:.25px;stroke-dasharray:2px 1px", "stroke:$keep"},
	{"reach", "fill:none;stroke-width:.35px;stroke-dasharray:8px 1px .6px 1px .6px 1px", "stroke:$quiet"},
	{"centre", "fill:none;stroke-width:.25px;stroke-dasharray:6px 1px .6px 1px", "stroke:$quiet"},
	{"axis", "fill:none;stroke-width:.35px", "stroke:$ink"},
	{"tip", "", "fill:$ink"},
	{"tight", "stroke-width:.25px", "fill:$tight;stroke:$ink"},
	{"scant", "stroke-width:.25px", "fill:$scant;stroke:$ink"},
	{"fair", "stroke-width:.25px", "fill:$fair;stroke:$ink"},
	{"ample", "stroke-width:.25px", "fill:$ample;stroke:$ink"},
	{"lit", "", "fill:$ground"},
	{"rod", "fill:none;stroke-width:.8px;stroke-linecap:round", "stroke:$quiet"},
	{"grasp", "fill:none;stroke-width:.4px;stroke-linecap:round", "stroke:$quiet"},
	{"pivot", "stroke-width:.35px", "fill:$ground;stroke:$quiet"},
	{"body", "fill:none;stroke-width:.3px;stroke-linejoin:round", "stroke:$tool"},
	{"open", "fill:none;stroke-width:.25px;stroke-dasharray:1.6px .4px .3px .4px .3px .4px", "stroke:$tool"},
	{"way", "stroke-width:.35px", "fill:$ground;stroke:$ink"},
	{"travel", "fill:none;stroke-width:.3px;stroke-dasharray:4px .9px .6px .9px", "stroke:$accent"},
	{"straight", "fill:none;stroke-width:.5px;stroke-linecap:round", "stroke:$accent"},
	{"one", "stroke-width:.6px", ""},
	{"many", "stroke-width:.2px", ""},
	{"arrow", "", "fill:$accent"},
	{"begins", "fill:none;stroke-width:.45px;stroke-linejoin:round", "stroke:$accent"},
	{"focus", "fill:none;stroke-width:.9px", "stroke:$accent"},
	{"leader", "fill:none;stroke-width:.2px", "stroke:$quiet"},
	{"border", "fill:none;stroke-width:.25px", "stroke:$ink"},
	{"bar", "stroke-width:.25px", "fill:$ink;stroke:$ink"},
	{"blank", "stroke-width:.25px", "fill:$ground;stroke:$ink"},
}

// Style is the text of the picture's style element, for a page whose policy
// names it by its hash.
func (o Options) Style() string {
	var b strings.Builder
	root := "#" + o.id("")
	b.WriteString(root + "{max-width:100%;height:auto}\n")
	b.WriteString(root + " text{font-family:Arial,\"Liberation Sans\",\"DejaVu Sans\",sans-serif}\n")
	for _, s := range styles {
		o.rule(&b, s, s.shape, colour.Fill(s.paint, o.Scheme == Dark))
	}
	if o.Scheme == Auto {
		b.WriteString("@media screen and (prefers-color-scheme:dark){\n")
		for _, s := range styles {
			if strings.Contains(s.paint, "$") && s.class != "keep" {
				o.rule(&b, s, "", colour.Fill(s.paint, true))
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
