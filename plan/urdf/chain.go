package urdf

import (
	"slices"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// whole holds the robot to a tree: every name once, every joint between two links that are there,
// and every link but one at the end of one joint.
func (r *reader) whole(root *element) {
	links, joints, above := map[string]diag.Place{}, map[string]diag.Place{}, map[string]*Joint{}
	for _, l := range r.robot.Links {
		r.once("link", l.Name, links)
	}
	for _, j := range r.robot.Joints {
		r.once("joint", j.Name, joints)
		for _, end := range []Text{j.Parent, j.Child} {
			if _, there := links[end.V]; !there && end.V != "" {
				r.errorf("unknown-name", end.Place, "there is no link %q", wording.Brief(end.V)).WithHint("every link has an element <link> of its own")
			}
		}
		if other := above[j.Child.V]; other != nil && j.Child.V != "" {
			r.errorf("bad-urdf", j.Child.Place, "the link %q is at the end of two joints", wording.Brief(j.Child.V)).
				WithNote(other.Child.Place, "the joint %q leads to it, too", other.Name.V).WithHint("links form a tree: one joint leads to each")
		}
		above[j.Child.V] = j
	}
	if len(r.robot.Links) == 0 {
		r.errorf("bad-urdf", root.at, "the file has no link").WithHint("an arm has a <link> for every rigid body, and a <joint> between each and the one before it")
	}
	if !r.wrong {
		r.oneRoot(root, above)
	}
}

func (r *reader) once(what string, name Text, seen map[string]diag.Place) {
	if first, again := seen[name.V]; again && name.V != "" {
		r.errorf("repeated-name", name.Place, "two %ss are named %q", what, wording.Brief(name.V)).WithNote(first, "the first one stands here").WithHint("give each a name of its own")
		return
	}
	seen[name.V] = name.Place
}

// oneRoot asks that all links hang on one. Where each but one has a joint above it, links that do
// not hang on that one go round in a circle.
func (r *reader) oneRoot(root *element, above map[string]*Joint) {
	var roots []string
	for _, l := range r.robot.Links {
		if above[l.Name.V] == nil {
			roots = append(roots, l.Name.V)
		}
	}
	switch {
	case len(roots) > 1:
		r.errorf("bad-urdf", root.at, "nothing leads to the links %s, wanted one such link", quoted(roots)).WithHint("a fixed joint holds one link on another")
		return
	case len(roots) == 0:
		r.errorf("bad-urdf", root.at, "the joints lead round in a circle").WithHint("links form a tree, from the base to the flange")
		return
	}
	hangs := map[string]bool{roots[0]: true}
	for _, l := range r.robot.Links {
		var way []string
		for at := l.Name.V; !hangs[at]; at = above[at].Parent.V {
			if slices.Contains(way, at) {
				r.errorf("bad-urdf", above[at].Child.Place, "the joints lead round in a circle by way of the link %q", at).WithHint("links form a tree, from the base to the flange")
				return
			}
			way = append(way, at)
		}
		for _, at := range way {
			hangs[at] = true
		}
	}
}

// quoted is a few names in a row.
func quoted(names []string) string {
	short := make([]string, 0, len(names))
	for _, n := range names {
		short = append(short, "\""+wording.Brief(n)+"\"")
	}
	return wording.List(short, 8)
}

// Chain is the links from one to another, and the joints between them: one less.
type Chain struct {
	Links  []*Link
	Joints []*Joint
}

// Chain is the links of the robot that an arm is: from its root to its only tip, unless other names are
// given. What is not as it has to be is reported where the name stands, or at the place of the arm.
func (r *Robot) Chain(from, to Text, arm diag.Place, list *diag.List) (*Chain, bool) {
	links, above, below := map[string]*Link{}, map[string]*Joint{}, map[string]bool{}
	for _, l := range r.Links {
		links[l.Name.V] = l
	}
	for _, j := range r.Joints {
		above[j.Child.V], below[j.Parent.V] = j, true
	}
	var tips []string
	for _, l := range r.Links {
		if !below[l.Name.V] {
			tips = append(tips, l.Name.V)
		}
	}
	for _, end := range []Text{from, to} {
		if links[end.V] == nil && !end.Place.IsZero() {
			unknown(list, end, r.Links)
			return nil, false
		}
	}
	tip := to.V
	if to.Place.IsZero() {
		if len(tips) > 1 {
			list.Errorf("urdf-tips", arm, "the links of %q end in %s", r.File, quoted(tips)).WithHint("say which of them the flange is: \"to: %s\"", tips[0])
			return nil, false
		}
		tip = tips[0]
	}
	c := &Chain{Links: []*Link{links[tip]}}
	for at := tip; at != from.V; {
		j := above[at]
		if j == nil {
			break
		}
		at = j.Parent.V
		c.Links, c.Joints = append(c.Links, links[at]), append(c.Joints, j)
	}
	slices.Reverse(c.Links)
	slices.Reverse(c.Joints)
	if !from.Place.IsZero() && c.Links[0].Name.V != from.V {
		list.Errorf("urdf-apart", from.Place, "no joints lead from the link %q to %q", from.V, tip).WithHint("name a link nearer to the base")
		return nil, false
	}
	return c, c.movable(list)
}

func unknown(list *diag.List, name Text, links []*Link) {
	names := make([]string, len(links))
	for i, l := range links {
		names[i] = l.Name.V
	}
	f := list.Errorf("unknown-name", name.Place, "there is no link %q", wording.Brief(name.V))
	if near := list.Nearest(name.V, names); near != "" {
		f.DidYouMean(name.V, near)
	} else {
		f.WithHint("there are: %s", strings.ReplaceAll(quoted(names), "\"", ""))
	}
}

// movable asks that every joint of the chain is one that an arm has.
func (c *Chain) movable(list *diag.List) bool {
	ok := true
	for _, j := range c.Joints {
		switch {
		case j.Kind == Floating || j.Kind == Planar:
			list.Errorf("urdf-joint", j.KindPlace, "the joint %q of the arm is %s, and no drive moves such a joint", j.Name.V, j.Kind).
				WithHint("put one joint for each axis in its place, or name links with \"from\" and \"to\" between which there is none")
		case !j.Mimics.Place.IsZero() && j.Moves():
			list.Errorf("urdf-joint", j.Mimics.Place, "the joint %q of the arm follows %q, which is not reckoned with", j.Name.V, wording.Brief(j.Mimics.V)).
				WithHint("name links with \"from\" and \"to\" between which every joint moves by itself")
		default:
			continue
		}
		ok = false
	}
	return ok
}

// Moving are the joints that an arm is moved by.
func (c *Chain) Moving() []*Joint {
	return slices.DeleteFunc(slices.Clone(c.Joints), func(j *Joint) bool { return !j.Moves() })
}
