package layout

import (
	"fmt"

	"gridferry/gen/geom"
	"gridferry/plan/urdf"
)

// WriteURDF is an arm as a URDF file: links "link_0" to "link_n", of which each has its coordinate
// system on the axis of its joint and turned as the base while all joints read 0, and the link "flange".
// What is not known is left out or, where the format asks for it, 0: see package urdf. Accelerations and
// the other facts of a cell have no place in it.
func WriteURDF(a *Arm) []byte {
	robot := &urdf.Robot{Name: "arm"}
	at := geom.Vec{}
	for i := range len(a.Joints) + 1 {
		next := at
		if i > 0 {
			j := &a.Joints[i-1]
			if !j.Slides {
				next = j.Point
			}
			robot.Joints = append(robot.Joints, &urdf.Joint{
				Name: urdf.Text{V: j.Name}, Kind: urdf.Revolute, Parent: linkName(i - 1), Child: linkName(i), Origin: urdf.Origin{XYZ: three(next.Sub(at))},
				Axis: three(j.Axis), Lo: j.Lo, Hi: j.Hi, Speed: a.Speeds[i-1],
			})
			if j.Slides {
				robot.Joints[i-1].Kind = urdf.Prismatic
			}
		}
		at = next
		robot.Links = append(robot.Links, &urdf.Link{Name: linkName(i), Shapes: writtenShapes(a.Shapes[i], at)})
	}
	turn := a.Flange.R.RPY()
	robot.Links = append(robot.Links, &urdf.Link{Name: urdf.Text{V: "flange"}})
	robot.Joints = append(robot.Joints, &urdf.Joint{
		Name: urdf.Text{V: "to_flange"}, Kind: urdf.Fixed, Parent: linkName(len(a.Joints)), Child: urdf.Text{V: "flange"},
		Origin: urdf.Origin{XYZ: three(a.Flange.T.Sub(at)), RPY: [3]float64{turn.Roll, turn.Pitch, turn.Yaw}},
	})
	return urdf.Write(robot)
}

func linkName(i int) urdf.Text { return urdf.Text{V: fmt.Sprint("link_", i)} }

func three(v geom.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// writtenShapes is shapes of a link whose coordinate system is at a point. The format has no capsule:
// a cylinder and two spheres are one.
func writtenShapes(shapes []LinkShape, at geom.Vec) (all []urdf.Shape) {
	for _, s := range shapes {
		ball := func(centre geom.Vec) urdf.Shape {
			return urdf.Shape{Origin: urdf.Origin{XYZ: three(centre.Sub(at))}, Radius: s.Radius, Round: true}
		}
		switch {
		case s.Radius == 0:
			turn := s.At.R.RPY()
			all = append(all, urdf.Shape{Origin: urdf.Origin{XYZ: three(s.At.T.Sub(at)), RPY: [3]float64{turn.Roll, turn.Pitch, turn.Yaw}}, Size: three(s.Half.Scale(2))})
		case s.From == s.To:
			all = append(all, ball(s.From))
		default:
			way := s.To.Sub(s.From)
			middle := ball(s.From.Add(way.Scale(0.5)))
			middle.Length = way.Norm()
			// Z turned onto the line: by the pitch off Z, then by the yaw.
			middle.Origin.RPY = [3]float64{0, geom.Atan2(geom.Vec{X: way.X, Y: way.Y}.Norm(), way.Z), geom.Atan2(way.Y, way.X)}
			all = append(all, middle, ball(s.From), ball(s.To))
		}
	}
	return all
}
