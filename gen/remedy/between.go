package remedy

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// poses proposes a pose for every way that is blocked. What was found for one is kept for the others.
func (b *bench) poses() {
	hints := map[*diag.Finding][]string{}
	now := b.first
	for _, way := range b.first.Blocked {
		if now != b.first && !joined(now, way, "") {
			continue // what was found for another way frees this one, too
		}
		hint, next := b.pose(way, now)
		if hint == "" {
			continue
		}
		if next != nil {
			now = next
		}
		for i, f := range way.Findings {
			if i == 1 {
				hint = elsewhere(way.Findings[0], next != nil)
			}
			if !slices.Contains(hints[f], hint) {
				hints[f] = append(hints[f], hint)
			}
		}
	}
	for f, all := range hints {
		f.WithHint("%s", strings.Join(all, "; and "))
	}
}

// elsewhere points at a finding whose hint holds for another one.
func elsewhere(f *diag.Finding, mends bool) string {
	if mends {
		return fmt.Sprintf("what is proposed at %s mends this, too", f.Place)
	}
	return fmt.Sprintf("see the hint at %s", f.Place)
}

// pose is a hint for one way that is blocked, and the plan without that; nil where none was found, and no hint where nothing was looked for.
func (b *bench) pose(way *check.Blocked, now *Trial) (string, *Trial) {
	from, to := way.From.Below(), way.To.Below()
	if hits := way.Hits; !hits.IsZero() && (hits.Grid != "" || len(way.Between) == 0) {
		return fmt.Sprintf("the arm hits it at %q already, so that no pose between helps: move or turn what stands there, or that place", hits), nil
	}
	if len(way.Between) == 0 {
		return fmt.Sprintf("no single pose between %q and %q was found by %d tries: turn the tool, move the grid, or write several poses for \"entry\"", from, to, way.Tried), nil
	}
	worse := ""
	for _, between := range way.Between {
		for _, o := range options(now.Layout, way) {
			name := o.pose
			at, rpy := [3]float64{between.At.X, between.At.Y, between.At.Z}, [3]float64{between.At.Roll, between.At.Pitch, between.At.Yaw}
			t := b.tried(o.change(now.Plan.WithPose(name, at, rpy)))
			if t == nil {
				return "", nil
			}
			if worse = b.worse(t, false); worse == "" && !joined(t, way, name) && !blocksMore(t, now) {
				return fmt.Sprintf("%s: in the cell, under \"poses\", %s: {at: %s, rpy: %s}, where the joints read %s%s; that was tried: the way is free then, and no new error comes up",
					o.what, name, figures(at[:]...), figures(rpy[:]...), readings(now.Layout, &between), o.use), t
			}
		}
	}
	p := way.Between[0]
	where := fmt.Sprintf("between %q and %q a pose is free", from, to)
	if !way.Hits.IsZero() {
		where = fmt.Sprintf("the arm hits it at %q already, which would be free", way.Hits)
	}
	hint := fmt.Sprintf("%s at %s, rpy %s, but none was found that serves for all travels there", where, figures(p.At.X, p.At.Y, p.At.Z), figures(p.At.Roll, p.At.Pitch, p.At.Yaw))
	if worse != "" {
		hint += " (" + worse + ")"
	}
	return hint, nil
}

// joined says whether a way is still blocked, or one to or from the new pose is.
func joined(t *Trial, way *check.Blocked, pose string) bool {
	return slices.ContainsFunc(t.Blocked, func(other *check.Blocked) bool {
		return other.Joins(way.From, way.To) || pose != "" && (other.From.Pose == pose || other.To.Pose == pose)
	})
}

// blocksMore says whether a way is blocked that was not before.
func blocksMore(t, before *Trial) bool {
	return slices.ContainsFunc(t.Blocked, func(way *check.Blocked) bool {
		return !slices.ContainsFunc(before.Blocked, func(other *check.Blocked) bool { return other.Joins(way.From, way.To) })
	})
}

// readings is what the joints read at a pose, to a tenth.
func readings(l *layout.Layout, p *check.Between) string {
	var values []float64
	for i := range l.Arm.Joints {
		values = append(values, math.Round(p.Joints[i]*10)/10)
	}
	return figures(values...)
}

// free is a name that no pose has yet.
func free(l *layout.Layout, stem string) string {
	name := stem
	for n := 2; slices.ContainsFunc(l.Poses, func(p *layout.NamedPose) bool { return p.Name == name }); n++ {
		name = fmt.Sprintf("%s_%d", stem, n)
	}
	return name
}

// option is a way of having the arm pass a pose.
type option struct {
	pose   string // its name
	change func(p *plan.Plan) *plan.Plan
	what   string // to do
	use    string // what else is to be written
}

// options are the ways of having the arm pass a pose between the ends of a travel, or stand elsewhere at one of them.
func options(l *layout.Layout, way *check.Blocked) (all []option) {
	from, to := way.From, way.To
	if hits := way.Hits; !hits.IsZero() {
		if hits.Grid != "" {
			return nil
		}
		return []option{{pose: hits.Pose, change: func(p *plan.Plan) *plan.Plan { return p }, what: fmt.Sprintf("give %q another place", hits.Pose)}}
	}
	for _, g := range l.Grids {
		entry := names(l.Figures(nil, g).Entry)
		switch {
		case from.Grid == g.Name && to.Grid == g.Name:
			all = append(all, asClear(l, g))
		case from.Grid == g.Name:
			all = append(all, inEntry(l, g, entry, to)...)
		case to.Grid == g.Name:
			all = append(all, inEntry(l, g, entry, from)...)
		case from.Grid == "" && to.Grid == "":
			all = append(all, amongEntry(l, g, entry, from.Pose, to.Pose)...)
		}
	}
	return all
}

func names(poses []*layout.NamedPose) (names []string) {
	for _, p := range poses {
		names = append(names, p.Name)
	}
	return names
}

// inEntry is next to a grid, on the way from somewhere else.
func inEntry(l *layout.Layout, g *layout.Grid, entry []string, other move.Target) []option {
	if n := len(entry); n > 0 && entry[n-1] != other.Pose {
		return nil
	}
	return []option{asEntry(l, g, entry, len(entry))}
}

// amongEntry is between two poses that are passed on the way into a grid, the first of which may be another one.
func amongEntry(l *layout.Layout, g *layout.Grid, entry []string, one, other string) []option {
	for i, name := range entry {
		switch {
		case i == 0 && (name == one && !slices.Contains(entry, other) || name == other && !slices.Contains(entry, one)):
			return []option{asEntry(l, g, entry, 0)}
		case i > 0 && (entry[i-1] == one && name == other || entry[i-1] == other && name == one):
			return []option{asEntry(l, g, entry, i)}
		}
	}
	return nil
}

const passed = "pass a pose between"

// asEntry puts a pose among the entry poses of a grid.
func asEntry(l *layout.Layout, g *layout.Grid, entry []string, at int) option {
	name := free(l, "way_to_"+g.Name)
	with := slices.Insert(slices.Clone(entry), at, name)
	return option{name, func(p *plan.Plan) *plan.Plan { return p.WithEntry(g.Name, with) }, passed, inMotion(g, "entry: ["+strings.Join(with, ", ")+"]")}
}

// asClear makes it the clear pose of a grid.
func asClear(l *layout.Layout, g *layout.Grid) option {
	name := free(l, "clear_of_"+g.Name)
	return option{name, func(p *plan.Plan) *plan.Plan { return p.WithClear(g.Name, name) }, passed, inMotion(g, "clear: "+name)}
}

// inMotion says where a key of a grid's motion is to be written.
func inMotion(g *layout.Grid, key string) string {
	if g.HasMotion() {
		return fmt.Sprintf("; and in the \"motion\" of the grid %q, %s", g.Name, key)
	}
	return fmt.Sprintf("; and in the grid %q, motion: {%s}", g.Name, key)
}
