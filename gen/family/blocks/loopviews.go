package blocks

// The views of a family that writes loops. Rows, columns and layers count from 1.

// LoopLine is what every block of a loop can ask.
type LoopLine struct {
	Indent string `doc:"blanks, as many as the loops around the line ask for"`
	Line   int    `doc:"line of the plan that caused it"`
	Plan   Text   `doc:"the plan's file name"`
}

// Grid is where the slots of a grid are. A slot stands at X, Y, Z and the offsets
// of its column along X, of its row along Y and of its layer along Z.
type Grid struct {
	Name         string   `doc:"the grid, as an identifier"`
	Label        Text     `doc:"the grid, as the plan writes it"`
	Frame        string   `doc:"its frame, as an identifier"`
	Rows         int      `doc:"how many rows"`
	Columns      int      `doc:"how many columns; where rows are of unequal length, those of the longest"`
	Layers       int      `doc:"how many layers"`
	Layered      bool     `doc:"there are several layers"`
	X            string   `doc:"where slot A1 of the lowest layer stands, in the frame"`
	Y            string   `doc:"the same along Y"`
	Z            string   `doc:"the same along Z"`
	ColumnOffset []string `doc:"the offsets of the columns; none where there are too many to write out"`
	ColumnStep   string   `doc:"from column to column"`
	RowOffset    []string `doc:"the offsets of the rows; none where there are too many"`
	RowStep      string   `doc:"from row to row"`
	LayerOffset  []string `doc:"the offsets of the layers; none where there are too many"`
	LayerStep    string   `doc:"from layer to layer"`
	Shifted      bool     `doc:"rows 2, 4, 6 and so on are shifted"`
	Shift        string   `doc:"by how much along X"`
	Touched      bool     `doc:"the corners were touched, and the slots lie between them: then there are no offsets but the layers'"`
	Corners      []Slot   `doc:"the corners that were touched"`
	Slots        []Slot   `doc:"every slot, where they lie neither in straight rows nor between corners: then there are no offsets"`
	Rotation
}

// Slot is an entry of Corners and of Slots.
type Slot struct {
	Row    int    `doc:"its row"`
	Column int    `doc:"its column"`
	Layer  int    `doc:"its layer"`
	X      string `doc:"where it stands, in the grid's frame"`
	Y      string `doc:"the same along Y"`
	Z      string `doc:"the same along Z"`
	Turned bool   `doc:"tool and part are turned there about the frame's Z"`
	Angle  string `doc:"how far"`
}

// Routines is what every pick and place has in common.
type Routines struct {
	Tool          string `doc:"the tool, as an identifier"`
	Approach      string `doc:"how far above a slot a straight line begins"`
	TravelSpeed   string `doc:"from point to point; rounded down"`
	NearSpeed     string `doc:"of the straight lines; rounded down"`
	FlyBy         string `doc:"fly-by radius of points on the way; rounded down"`
	FlyBys        bool   `doc:"it is more than 0"`
	HasClear      bool   `doc:"there is a clear pose"`
	Clear         string `doc:"the clear pose, as an identifier"`
	ClearFrame    string `doc:"the frame that it is in, as an identifier"`
	ClearX        string `doc:"where it is in that frame"`
	ClearY        string `doc:"the same along Y"`
	ClearZ        string `doc:"the same along Z"`
	GripSignal    int    `doc:"the output that closes the gripper"`
	GripLevel     string `doc:"on or off"`
	GripMore      []Act  `doc:"what comes right behind it"`
	GripWaits     bool   `doc:"there is a wait after all that"`
	GripWait      string `doc:"the wait"`
	ReleaseSignal int    `doc:"the output that opens the gripper"`
	ReleaseLevel  string `doc:"on or off"`
	ReleaseMore   []Act  `doc:"what comes right behind it"`
	ReleaseWaits  bool   `doc:"there is a wait after all that"`
	ReleaseWait   string `doc:"the wait"`
	Holding
}

// Act is an entry of GripMore and ReleaseMore: one more output, or a wait, which is how
// long a pulse is.
type Act struct {
	Waits  bool   `doc:"it is a wait"`
	Wait   string `doc:"how long"`
	Signal int    `doc:"the output, where it is none"`
	Level  string `doc:"on or off"`
}

// Holding is the input that tells whether the gripper holds a part.
type Holding struct {
	Holds       bool   `doc:"there is an input that tells whether a part is held"`
	HoldsSignal int    `doc:"the input"`
	HoldsLevel  string `doc:"its level while one is: on or off"`
	EmptyLevel  string `doc:"its level while none is"`
	HoldsWait   string `doc:"the time-out; then the program stops"`
}

// First is the first motion: to the start pose or, where there is none, to the approach
// point of the first slot.
type First struct {
	Carry
	Holding
	OpensBefore bool   `doc:"the gripper is opened before it: there is no clear pose"`
	HasStart    bool   `doc:"there is a start pose; otherwise it goes above the slot"`
	Start       string `doc:"the start pose, as an identifier"`
	Frame       string `doc:"the frame that it is in, or else the grid's, as an identifier"`
	X           string `doc:"where it is in that frame"`
	Y           string `doc:"the same along Y"`
	Z           string `doc:"the same along Z"`
	Approach    string `doc:"how far above the slot"`
	Speed       string `doc:"that of straight lines; rounded down"`
}

// Entry is an entry of the plan's transfers, or one leg of it.
type Entry struct {
	LoopLine
	Number int  `doc:"the entry's place in the plan, from 1"`
	Parts  int  `doc:"parts that it carries"`
	Legs   int  `doc:"how many legs they make"`
	Leg    int  `doc:"the leg that begins, from 1; 0 where the entry as a whole begins"`
	ByPart bool `doc:"each part makes all legs before the next one starts"`
	Stops  Text `doc:"the grids, in order"`
}

// Loop counts from First to Last.
type Loop struct {
	LoopLine
	Counter   string `doc:"what is counted: row, column, layer or count"`
	First     int    `doc:"where the counter begins"`
	Last      int    `doc:"where it ends"`
	Down      bool   `doc:"it counts down"`
	Turns     bool   `doc:"in every second row it runs backwards"`
	TurnsEven bool   `doc:"those are the rows with an even number; otherwise with an odd one"`
}

// Skip is a block of slots that the loops around it pass over.
type Skip struct {
	LoopLine
	Slots       Text `doc:"the slots as a plan names them"`
	OfRows      bool `doc:"they are only some of the rows"`
	FirstRow    int  `doc:"the first of those rows"`
	LastRow     int  `doc:"the last one"`
	OfColumns   bool `doc:"they are only some of the columns"`
	FirstColumn int  `doc:"the first of those columns"`
	LastColumn  int  `doc:"the last one"`
	OfLayers    bool `doc:"they are only some of the layers"`
	FirstLayer  int  `doc:"the first of those layers"`
	LastLayer   int  `doc:"the last one"`
}

// Counting is the count, of parts or of the slots in a list.
type Counting struct {
	LoopLine
	List string `doc:"the list whose slots are counted; empty for parts"`
}

// Carry is a slot that is picked from, placed to, or put into a list.
type Carry struct {
	LoopLine
	Grid    string `doc:"the grid, as an identifier"`
	Layered bool   `doc:"it has several layers"`
	Listed  bool   `doc:"the slot is the one that stands in From at the count"`
	From    string `doc:"that list; empty otherwise"`
	Into    string `doc:"the list that it is put into; empty for a pick and a place"`
	Row     string `doc:"a number, a counter, or a counter and a number"`
	Column  string `doc:"the same"`
	Layer   string `doc:"the same"`
}

// Listed is slots, written out.
type Listed struct {
	LoopLine
	List    string `doc:"the list"`
	Grid    string `doc:"the grid, as an identifier"`
	Layered bool   `doc:"it has several layers"`
	First   int    `doc:"the place in the list of the first slot here, from 1"`
	Last    int    `doc:"that of the last one"`
	Rows    []int  `doc:"the slots' rows"`
	Columns []int  `doc:"their columns"`
	Layers  []int  `doc:"their layers"`
}

// Leave ends the loops.
type Leave struct {
	LoopLine
	Limit int `doc:"the count at which they end"`
}
