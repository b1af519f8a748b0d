package rules

import (
	"gridferry/gen/move"
	"gridferry/plan/decode"
)

func (rules *Rules) travelPath() decode.Key {
	return decode.May("travel_path", "What lies between the two points of a travel: a path of the joints, about which `check` can only warn; a straight `line`, "+
		"which is held to all that straights are held to; or, where each of the `axes` moves for itself, any place between the lowest and the highest X, Y and Z of the two. "+
		"What the tool or the part in the gripper may hit there is an error, and nothing is written.",
		decode.Choice(&rules.TravelPath, []string{"joint", "line", "axes"}, []move.Path{move.JointPath, move.LinePath, move.AxesPath})).Default("joint")
}
