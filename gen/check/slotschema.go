package check

import "gridferry/plan/schema"

// SlotsSchema is the form of what Slots.WriteJSON writes.
func SlotsSchema() schema.Schema {
	return schema.Object(schema.Schema{
		{Name: "findings", Value: FindingsSchema()},
		{Name: "not_looked_at", Value: schema.Each(schema.Of("string")).With("description", "What no rule looked at, and why.")},
		{Name: "stacks", Value: schema.Each(stackSchema())},
		{Name: "grids", Value: schema.Each(gridSchema()).With("description", "Every grid; none where the plan has errors.")},
	}, []string{"findings", "grids"})
}

func stackSchema() schema.Schema {
	share := schema.Of("number").With("minimum", 0)
	return schema.Object(schema.Schema{
		{Name: "grids", Value: schema.Each(schema.Of("string")).With("description", "A stack of boxes, or several on one footprint.")},
		{Name: "boxes_per_layer", Value: from(1, "In each layer.")},
		{Name: "layers", Value: from(1, "One on the other.")},
		{Name: "boxes", Value: from(0, "In all.")},
		{Name: "footprint_share", Value: share.With("description", "What part of the footprint a layer covers.")},
		{Name: "height", Value: share.With("description", "In mm.")},
		{Name: "mass", Value: share.With("description", "In kg.")},
		{Name: "centre_of_gravity", Value: schema.Times(3, schema.Of("number")).With("description", "In mm, from the corner of the footprint.")},
		{Name: "least_support", Value: share.With("description", "What part of its base the worst borne box rests on.")},
		{Name: "on_several", Value: from(0, "Boxes that rest on more than one.")},
		{Name: "joints_through", Value: share.With("description", "What part of the joints goes on in the layer above.")},
	}, []string{"grids", "boxes", "height", "mass", "centre_of_gravity"})
}

func gridSchema() schema.Schema {
	return schema.Object(schema.Schema{
		{Name: "name", Value: schema.Of("string")},
		{Name: "rows", Value: from(1, "Lettered.")},
		{Name: "columns", Value: from(1, "Numbered.")},
		{Name: "layers", Value: from(1, "One on the other.")},
		{Name: "before", Value: from(0, "Parts that stand in it before the first move.")},
		{Name: "after", Value: from(0, "Parts that stand in it after the last.")},
		{Name: "slots", Value: schema.Each(slotSchema()).With("description", "Without those that are missing.")},
	}, []string{"name", "rows", "columns", "layers", "before", "after", "slots"})
}

func slotSchema() schema.Schema {
	return schema.Object(schema.Schema{
		{Name: "slot", Value: schema.Of("string")},
		{Name: "before", Value: schema.Of("boolean").With("description", "Whether a part stands there before the first move.")},
		{Name: "after", Value: schema.Of("boolean").With("description", "Whether one stands there after the last.")},
		{Name: "first", Value: from(1, "The first transfer that changes it.")},
		{Name: "last", Value: from(1, "The last one.")},
		{Name: "times", Value: from(1, "How many do.")},
	}, []string{"slot", "before", "after"})
}

func from(least int, about string) schema.Schema {
	return schema.Of("integer").With("minimum", least).With("description", about)
}
