package plan

import (
	"path"

	"gridferry/plan/diag"
	"gridferry/plan/urdf"
)

// armFile reads the URDF file that an arm names, and makes joints of those that it has.
func (r *reader) armFile(a *Arm) {
	if !a.URDF.IsSet() {
		a.Unread = a.Unread || a.Joints == nil
		return
	}
	if a.Unread {
		return
	}
	a.Unread = true
	of, data, ok := r.readBeside(r.cellAt.dir, path.Dir(r.cellAt.file), a.URDF, "urdf")
	if !ok {
		return
	}
	shown := of.File
	if len(data) > LargestFile {
		r.List.Errorf("file-too-big", diag.Place{File: shown}, "the file has more than the %d bytes that are read", LargestFile).WithHint("keep the arm, and leave the rest out")
		return
	}
	r.sources.Add(shown, data)
	robot := urdf.Read(shown, string(data), r.List)
	if robot == nil {
		return
	}
	if a.Chain, ok = robot.Chain(urdf.Text(a.From), urdf.Text(a.To), a.URDF.Place, r.List); !ok {
		return
	}
	for _, j := range a.Chain.Moving() {
		joint := added(&a.Joints, ArmJoint{Name: Text(j.Name), Place: j.Name.Place, Slides: j.Slides(), Range: Pair{V: [2]float64{j.Lo, j.Hi}, Place: j.Name.Place}})
		if j.Speed > 0 {
			joint.Speed = Real{V: j.Speed, Place: j.Name.Place}
		}
	}
	if n := len(a.Joints); n == 0 || n > MostJoints {
		r.List.Errorf("wrong-length", a.URDF.Place, "the arm has %d joints from %q to %q, wanted 1 to %d", n, a.Chain.Links[0].Name.V, a.Chain.Links[len(a.Chain.Links)-1].Name.V, MostJoints).
			WithHint("\"from\" and \"to\" name the links at the ends of the arm")
		return
	}
	a.Unread = false
	r.meshes(a)
}

// meshes reports links whose shape stands in another file, where the cell does not give it instead.
func (r *reader) meshes(a *Arm) {
	given := map[string]bool{}
	for _, l := range a.Links {
		given[l.Joint.V] = true
	}
	behind := ""
	for i, l := range a.Chain.Links {
		if i > 0 && a.Chain.Joints[i-1].Moves() {
			behind = a.Chain.Joints[i-1].Name.V
		}
		if len(l.Meshes) == 0 || given[behind] {
			continue
		}
		f := r.List.Warnf("urdf-mesh", l.Meshes[0].Place, "the shape of the link %q stands in the file %q, which is not read", l.Name.V, l.Meshes[0].V)
		if behind == "" {
			f.WithHint("the link stands still: write boxes around it under \"keep_out\" in the cell")
		} else {
			f.WithHint("write a capsule around it under \"links\" of the arm, such as \"%s: [{capsule: {from: [0, 0, 0], to: [0, 0, 300], radius: 60}}]\"", behind)
		}
	}
}
