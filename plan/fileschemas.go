package plan

import "gridferry/plan/schema"

// MeasuredSchema is the form of a file of measured values.
func MeasuredSchema() schema.Schema {
	return schema.Object(
		schema.Must("format", "The first line of every file of measured values.", schema.Format(MeasuredFormat)),
		schema.May("frames", "Frames of the cell, with the keys that they have there.", schema.Table(frameSchema())),
		schema.May("tools", "Tools of the cell, with the keys that they have there.", schema.Table(toolSchema())),
	)
}

// SlotsSchema is the form of a file that says what stands where.
func SlotsSchema() schema.Schema {
	return schema.Object(
		schema.Must("format", "The first line of every file of slots.", schema.Format(SlotsFormat)),
		schema.Must("filled", "What stands in the grids, by name: all, none, or slots such as A1:B6; a grid that is not named was not looked at.", schema.Table(schema.Selections())),
		schema.May("removed", "Parts that people took away since the job began.", schema.Whole(0, mostSlots).Default(0)),
		schema.May("added", "Parts that people put in since the job began.", schema.Whole(0, mostSlots).Default(0)),
	)
}

// VariantsSchema is the form of a file of variants.
func VariantsSchema() schema.Schema {
	return schema.Object(
		schema.Must("format", "The first line of every file of variants.", schema.Format(VariantsFormat)),
		schema.Must("variants", "The same plan with other values, one program each.", variantsSchema().With("minItems", 1)),
	)
}

// PointsSchema is the form of a file of touched points by itself: of a frame, a
// tool or a grid.
func PointsSchema(kind string) schema.Schema {
	switch kind {
	case PointsOfTool:
		return schema.Object(
			schema.Must("pivot", "Poses of the flange, in the base, while the tip stays on one fixed spot; three or more.", pivotSchema()),
			schema.May("tolerance", toleranceDoc, toleranceSchema()),
			schema.May("rpy", "How the tool is turned on the flange: roll, pitch, yaw in degrees.", schema.Angles()),
			schema.May("quaternion", "How the tool is turned on the flange: w, x, y, z, w first.", schema.Quaternion()),
		).NeverBoth(orientations)
	case PointsOfGrid:
		return schema.Object(cornerSchemaKeys()...).Needing("corners")
	default:
		return framePointsSchema()
	}
}

// framePointsSchema is three points, a best fit, or what stands inside of one.
func framePointsSchema() schema.Schema {
	forms := schema.Object(
		schema.May("three_points", "Three points that were touched with the tool's tip.", threePointsSchema()),
		schema.May("best_fit", "Points whose places in the frame are known, and where they were touched.", bestFitSchema()),
	).OneWay([]string{"three_points"}, []string{"best_fit"})
	return schema.Schema{}.When(schema.Required("points"), bestFitSchema()).With("else", forms)
}
