package plan

import (
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// The schemas stand in the words of FORMAT.md; a test holds them to what the
// reader takes and refuses.

// CellSchema is the form of a cell's file.
func CellSchema() schema.Schema { return cellSchema(schema.Must) }

// cellSchema is the form of a cell; in place the format line can be left out.
func cellSchema(format func(string, string, schema.Schema) schema.Key) schema.Schema {
	s := schema.Object(
		format("format", "The first line of every cell.", schema.Format(CellFormat)),
		schema.May("name", "What the cell is called.", schema.Text()),
		schema.May("measured", "A file of measured values beside the cell; what it says takes the place of what the cell says.", schema.Text()),
		schema.May("touch_error", "How far off one touch may be, in mm.", schema.Quantity(unit.Length).Positive().Default(0.1)),
		schema.May("machine", "The arm's limits; what is not known is not checked.", machineSchema()),
		schema.Must("tools", "What is on the flange, by name; tools count from 1 in a program.", schema.Table(toolSchema().With("type", orNothing))),
		schema.May("frames", "Named work coordinate systems; in a program the base is number 1, and these count on from there.", schema.Table(frameSchema().With("type", orNothing))),
		schema.May("poses", "Named poses in free space.", schema.Table(namedPoseSchema())),
		schema.May("keep_out", "Boxes to keep out of, by name; {} says that nothing is in the way.", schema.Table(boxSchema())),
	)
	return wholeUnlessMeasured(s)
}

// orNothing is what may stand below measured values: "bath:" alone will do there.
var orNothing = []string{"object", "null"}

// wholeUnlessMeasured asks for all that tools and frames need, but in a cell with
// measured values, since those may hold it.
func wholeUnlessMeasured(cell schema.Schema) schema.Schema {
	whole := func(demand schema.Schema) schema.Schema {
		return schema.Schema{{Name: "additionalProperties", Value: demand.With("type", "object")}}
	}
	demands := schema.Schema{
		{Name: "tools", Value: whole(schema.Required("tcp", "mass", "grip", "release"))},
		{Name: "frames", Value: whole(schema.Schema{}.SomeWay([]string{"at"}, []string{"three_points"}, []string{"best_fit"}))},
	}
	return cell.When(schema.Required("measured"), schema.Schema{}).With("else", schema.Schema{{Name: "properties", Value: demands}})
}

func machineSchema() schema.Schema {
	return schema.Object(
		schema.May("rated_load", "What the flange may carry, tool and part together, in kg.", schema.Quantity(unit.Mass).Positive()),
		schema.May("moment", "What tool and part may turn the flange with, about its centre, in N·m.", schema.Quantity(unit.Moment).Positive()),
		schema.May("speed", "The fastest TCP speed that may be written, in mm/s.", schema.Quantity(unit.Speed).Positive()),
		schema.May("acceleration", "The acceleration of the TCP, in mm/s².", schema.Quantity(unit.Acceleration).Positive()),
		schema.May("jerk", "How quickly the acceleration may change, in mm/s³; only the time estimate asks for it.", schema.Quantity(unit.Jerk).Positive()),
		schema.May("rotation", "How fast the tool may be turned; only the time estimate asks for it.", schema.Object(
			schema.May("speed", "In deg/s.", schema.Quantity(unit.AngularSpeed).Positive()),
			schema.May("acceleration", "In deg/s².", schema.Quantity(unit.AngularAcceleration).Positive()),
		)),
		schema.May("reach", "Where the TCP can be, about the base's Z axis.", schema.Object(
			schema.May("radius", "From and to, in mm from the base's Z axis; the smaller figure first.", schema.Pair(schema.Quantity(unit.Length).NotNegative())),
			schema.May("height", "From and to, in mm above the base; the smaller figure first.", schema.Pair(schema.Quantity(unit.Length))),
		)),
	)
}

// toolSchema is a tool of which measured values may hold a part.
func toolSchema() schema.Schema {
	return schema.Object(
		schema.May("tcp", "Where the tool centre point is on the flange: a pose, or poses about one spot.", tcpSchema()),
		schema.May("mass", "Of the tool alone, in kg.", schema.Quantity(unit.Mass).Positive()),
		schema.May("centre_of_gravity", "Of the tool: x, y, z in mm on the flange.", schema.Vector()),
		schema.May("radius", "Of the cylinder about the line from the flange to the TCP that holds the tool, in mm.", schema.Quantity(unit.Length).Positive()),
		schema.May("grip", "The output that closes on a part, and the level that it gets.", signalSchema()),
		schema.May("release", "The output that lets a part go, and the level that it gets.", signalSchema()),
	)
}

func tcpSchema() schema.Schema {
	s := schema.Object(append(poseSchemaKeys(schema.May),
		schema.May("pivot", "Poses of the flange, in the base, while the tip stays on one fixed spot; three or more.", pivotSchema()),
		schema.May("tolerance", toleranceDoc, toleranceSchema()),
	)...)
	return s.OneWay([]string{"at"}, []string{"pivot"}).NeverBoth(orientations).Wanting([2]string{"tolerance", "pivot"})
}

// orientations are two ways of saying one thing.
var orientations = []string{"rpy", "quaternion"}

const toleranceDoc = "How far a point may be off the answer, in mm."

func toleranceSchema() schema.Schema {
	return schema.Quantity(unit.Length).Positive().Default(0.5)
}

func pivotSchema() schema.Schema {
	pose := schema.Object(poseSchemaKeys(schema.Must)...).OneWay([]string{"rpy"}, []string{"quaternion"})
	return schema.Each(schema.Shared("turned_pose", pose))
}

func poseSchemaKeys(at func(string, string, schema.Schema) schema.Key) []schema.Key {
	return []schema.Key{
		at("at", "The position: x, y, z in mm.", schema.Vector()),
		schema.May("rpy", "How it is turned: roll, pitch, yaw in degrees, about the fixed X, then Y, then Z axes.", schema.Angles()),
		schema.May("quaternion", "How it is turned: w, x, y, z, w first.", schema.Quaternion()),
	}
}

func signalSchema() schema.Schema {
	return schema.Shared("signal", schema.Object(
		schema.Must("output", "Number of the output.", signalNumber()),
		schema.Must("level", levelDoc, schema.Level()),
		schema.May("settle", "How long to wait after it, in seconds.", schema.Quantity(unit.Time).NotNegative().Default(0)),
	))
}

const levelDoc = "On for a signal that is high, off for one that is low."

func signalNumber() schema.Schema { return schema.Whole(0, HighestSignal) }

// frameSchema is a frame whose place measured values may hold.
func frameSchema() schema.Schema {
	s := schema.Object(append(poseSchemaKeys(schema.May),
		schema.May("three_points", "Three points that were touched with the tool's tip, in the parent's coordinates.", threePointsSchema()),
		schema.May("best_fit", "Points whose places in the frame are known, and where they were touched.", bestFitSchema()),
		schema.May("parent", "The frame that it is placed in.", schema.Name().Default(BaseFrame)),
	)...)
	return s.
		NeverBoth(orientations, []string{"at", "three_points"}, []string{"at", "best_fit"}, []string{"three_points", "best_fit"}).
		Wanting([2]string{"rpy", "at"}, [2]string{"quaternion", "at"})
}

func threePointsSchema() schema.Schema {
	return schema.Shared("three_points", schema.Object(
		schema.Must("origin", "The frame's origin.", schema.Vector()),
		schema.Must("along_x", "A point on the frame's X axis.", schema.Vector()),
		schema.Must("toward_y", "A point on the side of +Y in the frame's XY plane.", schema.Vector()),
	))
}

func bestFitSchema() schema.Schema {
	point := schema.Object(
		schema.May("name", "What findings call the point; no two alike.", schema.Text()),
		schema.Must("nominal", "Where it is in the frame, from a drawing for instance.", schema.Vector()),
		schema.Must("measured", "Where it was touched, in the coordinates of the frame's parent.", schema.Vector()),
	)
	return schema.Shared("best_fit", schema.Object(
		schema.Must("points", "Three points or more.", schema.Each(point)),
		schema.May("tolerance", toleranceDoc, toleranceSchema()),
	))
}

func namedPoseSchema() schema.Schema {
	keys := poseSchemaKeys(schema.Must)
	return schema.Object(append(keys, schema.May("frame", "The frame that the pose is in.", schema.Name().Default(BaseFrame)))...).NeverBoth(orientations)
}

func boxSchema() schema.Schema {
	return schema.Object(
		schema.May("frame", "The frame that the corners are in.", schema.Name().Default(BaseFrame)),
		schema.Must("from", "One corner of the box.", schema.Vector()),
		schema.Must("to", "The opposite corner.", schema.Vector()),
	)
}
