package layout

// reaches gives every measured frame the slots that rest on it, so that it knows how
// far its uncertain angle carries.
func (r *resolver) reaches() {
	for _, g := range r.out.Grids {
		if g.Fit != nil && g.Fit.InBase {
			continue // touched where it is, whatever the frame
		}
		for f := g.Frame; f != nil; f = f.Parent {
			if f.Fit != nil {
				g.reach(f)
			}
		}
	}
}

// reach gives a frame the slots that may be the farthest ones.
func (g *Grid) reach(f *Frame) {
	inFrame := f.Base.Inverse().Mul(g.Frame.Base)
	for _, s := range g.Pattern.Outline() {
		f.Fit.Reach(g.Name, g.Label(s), inFrame.Apply(g.At(s)))
	}
}
