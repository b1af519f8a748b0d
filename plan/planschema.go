package plan

import (
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// PlanSchema is the form of a plan, its cell in place or in a file of its own.
func PlanSchema() schema.Schema {
	return schema.Object(
		schema.Must("format", "The first line of every plan.", schema.Format(Format)),
		schema.May("title", "What the plan is for; it stands at the head of every program.", schema.Text()),
		schema.Must("cell", "A cell's file beside the plan or below, or the cell's own keys in place.", cellSchema(schema.May).OrText()),
		schema.May("parts", "What is carried, by name.", schema.Table(partSchema())),
		schema.Must("grids", "Rows, columns and layers of slots, by name: trays, racks, plates, pallets, single spots.", schema.Table(gridSchema())),
		schema.Must("motion", "How the arm moves.", motionSchema()),
		schema.May("begin", "Steps before the first transfer.", stepsSchema()),
		schema.Must("transfers", "Which parts go from where to where, entry after entry.", schema.Each(transferSchema())),
		schema.May("end", "Steps after the last travel to the clear pose.", stepsSchema()),
		schema.May("variants", "The same plan with other values, one program each.", variantsSchema()),
	)
}

func partSchema() schema.Schema {
	return schema.Object(
		schema.Must("mass", "Of one part, in kg.", schema.Quantity(unit.Mass).Positive()),
		schema.May("size", "Along the X, Y and Z of the grid that it stands in, in mm.", schema.Size()),
		schema.May("grip", "Height of the TCP above the part's bottom when it is held, in mm; half its height where this is left out.", schema.Quantity(unit.Length).NotNegative()),
	).Wanting([2]string{"grip", "size"})
}

func gridSchema() schema.Schema {
	keys := []schema.Key{
		schema.Must("frame", "The frame that the grid lies in.", schema.Name()),
		schema.May("rows", "How many rows: lettered, stepping along the frame's Y.", schema.Whole(1, MostRows)),
		schema.May("columns", "How many columns: numbered, stepping along the frame's X.", schema.Whole(1, mostSlots)),
		schema.May("layers", "How many layers, stepping along the frame's Z.", schema.Whole(1, mostSlots).Default(1)),
		schema.May("pitch", "Column to column along X, row to row along Y, in mm; needed with more than one slot.", schema.Pair(schema.Quantity(unit.Length))),
		schema.May("layer_pitch", "Layer to layer, in mm; needed with more than one layer.", schema.Quantity(unit.Length).Positive()),
		schema.May("stagger", "Shift along X of every second row (B, D, F and so on), in mm.", schema.Quantity(unit.Length).Default(0)),
		schema.May("first", "TCP position of slot A1 in the lowest layer: x, y, z in the frame.", schema.Vector()),
		schema.May("rpy", "How the tool is turned at a slot, in the frame; pointing down where this is left out.", schema.Angles().Default([]int{180, 0, 0})),
		schema.May("part", "What the grid holds; needed where it is filled or taken from.", schema.Name()),
		schema.May("filled", "Which slots hold a part when the job begins: all, none, or slots such as A1:B6.", schema.Selections().Default("none")),
		schema.May("missing", "Slots that are not there.", schema.Selections()),
		schema.May("pallet", "The footprint of a pallet that the grid's parts must not stand over, from the frame's origin along +X and +Y (ISO 6780).", schema.OneOf(palletWords()...)),
	}
	keys = append(keys, cornerSchemaKeys()...)
	return oneLayoutSchema(schema.Object(append(keys, standardSchemaKeys()...)...))
}

func cornerSchemaKeys() []schema.Key {
	return []schema.Key{
		schema.May("corners", "Three or four slots that were touched, each with its position.", schema.Table(schema.Vector())),
		schema.May("corners_in", "Whose coordinates the corners were read in: the grid's frame or the base.", schema.OneOf(CornersInFrame, CornersInBase).Default(CornersInFrame)),
		schema.May("nominal_pitch", "What the drawing says: column to column, row to row, in mm.", schema.Pair(schema.Quantity(unit.Length).Positive())),
		schema.May("tolerance", toleranceDoc, toleranceSchema()),
	}
}

func standardSchemaKeys() []schema.Key {
	return []schema.Key{
		schema.May("standard", "A plate whose rows, columns and positions a standard fixes (ANSI/SLAS 4-2004).", schema.OneOf(Standards...)),
		schema.May("corner", "The corner of the plate where the frame's origin is.", schema.OneOf(PlateCorners...).Default(PlateCorners[0])),
		schema.May("height", "Of the TCP at a slot, above the frame's XY plane, in mm.", schema.Quantity(unit.Length)),
	}
}

// palletWords are the sizes of pallets as they are written.
func palletWords() []string {
	var words []string
	for _, p := range pallets() {
		words = append(words, p.Name.V)
	}
	return words
}

// oneLayoutSchema goes by the same table as the reader: a way of saying where the
// slots are asks for some keys, leaves no room for others, and its options say
// nothing without it.
func oneLayoutSchema(grid schema.Schema) schema.Schema {
	var idle [][2]string
	var rest schema.Schema
	for i := len(layouts) - 1; i >= 0; i-- {
		way := layouts[i]
		for _, key := range way.options {
			idle = append(idle, [2]string{key, way.key})
		}
		demand := schema.Required(way.needs...)
		if rest == nil { // the way that holds when no other is written
			severalSlots := schema.Schema{{Name: "anyOf", Value: []schema.Schema{schema.Above(1, "rows"), schema.Above(1, "columns")}}}
			rest = demand.When(severalSlots, schema.Required("pitch"))
			continue
		}
		rest = schema.Schema{}.When(schema.Required(way.key), demand.With("properties", refused(way.excludes))).With("else", rest)
	}
	layered := schema.Schema{}.When(schema.Above(1, "layers"), schema.Required("layer_pitch"))
	return append(grid.Wanting(idle...).With("allOf", []schema.Schema{layered}), rest...)
}

// refused is keys that there is no room for.
func refused(keys []string) schema.Schema {
	var none schema.Schema
	for _, key := range keys {
		none = none.With(key, false)
	}
	return none
}

func motionSchema() schema.Schema {
	return schema.Object(
		schema.Must("tool", "The tool of the cell that is used.", schema.Name()),
		schema.Must("approach", "How far above a slot the straight line begins, along +Z of the grid's frame, in mm.", schema.Quantity(unit.Length).Positive()),
		schema.Must("speed", "Speeds of the TCP.", schema.Object(
			schema.Must("travel", "From point to point, in mm/s.", schema.Quantity(unit.Speed).Positive()),
			schema.Must("near", "On the straight lines down to a slot and up from it, in mm/s.", schema.Quantity(unit.Speed).Positive()),
		)),
		schema.May("fly_by", "Fly-by radius at poses and approach points on the way, in mm; 0 stops everywhere.", schema.Quantity(unit.Length).NotNegative().Default(0)),
		schema.May("clear", "The pose that is passed before every pick and before every place.", schema.Name()),
		schema.May("optional_stop", "Whether the controller stops after each transfer if its operator has asked for that.", schema.OneOf("never", AfterTransfer).Default("never")),
	)
}

func transferSchema() schema.Schema {
	orders := schema.OneOf(Orders...)
	s := schema.Object(
		schema.May("from", "The stop that the parts leave: a grid, or a grid and slots such as tray A1:B6.", stopSchema()),
		schema.May("to", "The stop that the parts go to.", stopSchema()),
		schema.May("chain", "Two stops or more: the same parts make leg after leg.", schema.Each(stopSchema()).With("minItems", 2)),
		schema.May("order", "In which order slots are emptied and filled.", schema.Or(orders, schema.Object(
			schema.May("from", "The order of leaving.", orders),
			schema.May("to", "The order of filling.", orders),
		)).Default(Orders[0])),
		schema.May("take", "At most this many parts.", schema.Whole(1, mostSlots)),
		schema.May("advance", "By leg, every part makes a leg before the next leg begins; by part, each goes through all the legs first.", schema.OneOf(Advances...).Default(Advances[0])),
	)
	return s.OneWay([]string{"from", "to"}, []string{"chain"}).Wanting([2]string{"from", "to"}, [2]string{"to", "from"})
}

func stopSchema() schema.Schema {
	return schema.Shared("stop", schema.Object(
		schema.Must("grid", "A grid, or a grid and slots such as tray A1:B6.", schema.Selection()),
		schema.May("then", "Steps after the part was put down there and the arm went up again, or after it was picked up.", stepsSchema()),
	).OrText())
}

func stepsSchema() schema.Schema {
	step := schema.Object(
		schema.May("set", "Give an output other than the tool's a level.", schema.Object(
			schema.Must("output", "Number of the output.", signalNumber()),
			schema.Must("level", levelDoc, schema.Level()),
		)),
		schema.May("await", "Wait until an input has a level.", schema.Object(
			schema.Must("input", "Number of the input.", signalNumber()),
			schema.Must("level", levelDoc, schema.Level()),
			schema.May("within", "The time-out, in seconds; without one the wait may last however long.", schema.Quantity(unit.Time).Positive()),
			schema.May("else", "What happens after the time-out.", schema.OneOf("stop", "go-on").Default("stop")),
		)),
		schema.May("dwell", "Wait so long, in seconds.", schema.Quantity(unit.Time).Positive()),
		schema.May("note", "A remark in the program.", schema.Text()),
	)
	return schema.Shared("steps", schema.Each(step.With("minProperties", 1).With("maxProperties", 1)))
}

func variantsSchema() schema.Schema {
	variant := schema.Object(
		schema.May("name", "What the variant is called; needed unless there is each or cells to be named after.", schema.Name()),
		schema.May("cells", "Cell files, which take the place of the plan's cell.", schema.Each(schema.Text()).With("minItems", 1)),
		schema.May("set", "Values by path, such as grids.tray.rows.", schema.Texts(schema.Schema{})),
		schema.May("each", "Lists of values by path: every value with every other; the last one changes quickest.", schema.Texts(schema.Each(schema.Schema{}).With("minItems", 1)).With("minProperties", 1)),
	)
	return schema.Each(variant.SomeWay([]string{"name"}, []string{"each"}, []string{"cells"}))
}
