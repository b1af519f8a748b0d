package draw

import (
	"fmt"
	"strings"

	"gridferry/plan/wording"
)

// describe says in words what the picture shows, for those who cannot see it.
func (p *page) describe() string {
	s := p.s
	sentences := []string{s.subtitle(), p.top.caption + "; " + p.side.caption}
	if scale := p.printedScale(); scale != "" {
		sentences[1] += "; " + scale
	}
	const most = 20
	for i, g := range s.grids {
		if i == most {
			sentences = append(sentences, "And "+wording.Count(len(s.grids)-most, "grid")+" more")
			break
		}
		sentences = append(sentences, s.describe(g))
	}
	for _, things := range []struct {
		word  string
		names []string
	}{{"Keep-out boxes", s.boxNames()}, {"Poses", s.poseNames()}, {"Frames", s.frameNames()}} {
		if len(things.names) > 0 {
			sentences = append(sentences, things.word+": "+wording.List(things.names, most))
		}
	}
	for i := range s.o.Stands {
		sentences = append(sentences, "The "+s.standWords(&s.o.Stands[i]))
	}
	if reach := s.reachWords(); reach != "" {
		sentences = append(sentences, "Reach: "+reach)
	}
	sentences = append(sentences, p.notes...)
	return strings.Join(sentences, ". ") + "."
}

// describe is a grid in one sentence.
func (s *scene) describe(g *standing) string {
	size := wording.Count(g.Rows, "row") + " and " + g.Wide()
	if g.Layered() {
		size += " in " + wording.Count(g.Layers, "layer")
	}
	return fmt.Sprintf("Grid %s in frame %s, %s: %s", g.Name, g.Frame.Name, size, s.holding(g))
}

// holding is how many slots hold what.
func (s *scene) holding(g *standing) string {
	if s.o.Empty {
		return wording.Count(g.there, "slot") + ", no parts"
	}
	what := "a part"
	if g.part != nil {
		what = g.part.Name
	}
	switch {
	case g.there == 1 && g.holds == 0:
		return "1 slot, free"
	case g.there == 1:
		return what + " in its slot"
	case g.holds == 0:
		return fmt.Sprintf("%d slots, all free", g.there)
	case g.holds == g.there:
		return fmt.Sprintf("%s in all %d slots", what, g.there)
	default:
		return fmt.Sprintf("%s in %d of %d slots", what, g.holds, g.there)
	}
}

func (s *scene) boxNames() (names []string) {
	for _, b := range s.l.Boxes {
		names = append(names, b.Name)
	}
	return names
}

func (s *scene) poseNames() (names []string) {
	for _, w := range s.l.Poses {
		names = append(names, w.Name)
	}
	return names
}

func (s *scene) frameNames() (names []string) {
	for _, f := range s.l.Frames {
		names = append(names, f.Name)
	}
	return names
}

// reachWords is what is known of the machine's reach.
func (s *scene) reachWords() string {
	var known []string
	if r := s.l.Cell.Machine.Radius; r.IsSet() {
		known = append(known, fmt.Sprintf("radius %s to %s mm about the base's Z axis", short(r.V[0]), short(r.V[1])))
	}
	if h := s.l.Cell.Machine.Height; h.IsSet() {
		known = append(known, fmt.Sprintf("height %s to %s mm", short(h.V[0]), short(h.V[1])))
	}
	return strings.Join(known, ", ")
}
