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
	Across       string   `doc:"the same in words: 3 to 5 where rows are of unequal length"`
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
	Off          []Slot   `doc:"single slots that are off these places: X, Y and Z are how far"`
	Slots        []Slot   `doc:"every slot, where they lie neither in straight rows nor between corners: then there are no offsets"`
	Rotation
}

// Slot is an entry of Corners, Slots and Off.
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

// LoopTool is a tool, or one zone of it.
type LoopTool struct {
	Name string `doc:"as an identifier"`
	X    string `doc:"its centre point on the flange"`
	Y    string `doc:"likewise"`
	Z    string `doc:"likewise"`
	Rotation
}

// Passed is a named pose that the arm goes to.
type Passed struct {
	Pose   string `doc:"the pose, as an identifier"`
	Frame  string `doc:"the frame that it is in, as an identifier"`
	X      string `doc:"where it is in that frame"`
	Y      string `doc:"the same along Y"`
	Z      string `doc:"the same along Z"`
	Turned bool   `doc:"the tool does not point straight down there, against the frame's Z"`
	Rotation
}

// Travelling is the speeds of a travel.
type Travelling struct {
	TravelSpeed string `doc:"from point to point; rounded down"`
	Loads       bool   `doc:"while a part is held it is another"`
	LoadedSpeed string `doc:"that one; rounded down"`
}

// Way is the poses on the way into a grid; on the way out they are passed in reverse.
type Way struct {
	LoopLine
	Name  string   `doc:"of the way, as an identifier"`
	Poses []Passed `doc:"the poses, in the order of the way in"`
	Travelling
}

// Routines is what the job has beside plain picks and places.
type Routines struct {
	Several bool `doc:"several tools take parts, or several zones of one"`
	Enters  bool `doc:"some grid has poses on the way into it"`
}

// Clear is the routine to a clear pose.
type Clear struct {
	LoopLine
	Name string `doc:"of the routine, as an identifier"`
	Out  bool   `doc:"before it the arm leaves the grid that it is in"`
	Passed
	Travelling
}

// Zones is which gripper works: that of the only tool, of one of several, or some zones.
type Zones struct {
	Alone   bool   `doc:"one tool takes every part, so its gripper needs no name"`
	Tool    string `doc:"otherwise: the tool or the zone, or the first of some, as an identifier"`
	Several bool   `doc:"several zones work together"`
	Last    string `doc:"the last of them"`
}

// Gripper is the routine that opens or closes.
type Gripper struct {
	LoopLine
	Opens bool `doc:"it opens"`
	Zones
	Acts  []Act   `doc:"the outputs that it writes, in order, and how long pulses are"`
	Waits bool    `doc:"there is a wait after all that"`
	Wait  string  `doc:"the wait"`
	Asks  []Asked `doc:"the questions behind it: whether a part is held"`
}

// Act is an entry of Acts: an output, or a wait, which is how long a pulse is.
type Act struct {
	Waits  bool   `doc:"it is a wait"`
	Wait   string `doc:"how long"`
	Signal int    `doc:"the output, where it is none"`
	Level  string `doc:"on or off"`
}

// Asked is an entry of Asks: a wait for an input that tells whether a part is held.
type Asked struct {
	Signal int    `doc:"the input"`
	Level  string `doc:"the level that it has to have: on or off"`
	Wait   string `doc:"the time-out; then the program stops"`
}

// Steps is the beginning of a routine of steps.
type Steps struct {
	LoopLine
	Name string `doc:"of the routine, as an identifier"`
}

// Home is how the arm leaves where it is.
type Home struct {
	HasClear bool   `doc:"by the routine that leads to a clear pose"`
	Clear    string `doc:"that routine, as an identifier"`
	Out      bool   `doc:"out of the grid that it may be in; the routine does that itself"`
}

// Lead is where the arm comes to before it goes straight to a slot.
type Lead struct {
	Upright   bool   `doc:"straight above it, along the frame's Z"`
	Back      bool   `doc:"back along the tool's axis"`
	Approach  string `doc:"how far from the slot"`
	ApproachX string `doc:"the way from the slot, in the grid's frame, where it is neither"`
	ApproachY string `doc:"the same along Y"`
	ApproachZ string `doc:"the same along Z"`
}

// Routine is what is done at a slot.
type Routine struct {
	LoopLine
	Name    string `doc:"of the routine, as an identifier"`
	Picks   bool   `doc:"it is for a pick, otherwise for a place"`
	Comes   bool   `doc:"it only comes above the slot, for steps before the arm goes down"`
	Returns bool   `doc:"it only comes back there, after such steps"`
	Home
	Inside      bool   `doc:"the arm does not leave where it is if it is in the grid already, nor if it stands above the slot"`
	Opens       bool   `doc:"the gripper is opened, unless it is open"`
	OpensFirst  bool   `doc:"before the arm leaves where it is"`
	OpenTool    string `doc:"the tool or zone that is opened, or the first of some; where Alone holds it needs no name"`
	OpenSeveral bool   `doc:"several zones are opened"`
	OpenLast    string `doc:"the last of them"`
	Enters      bool   `doc:"the grid has poses on the way into it, if not by these figures then by others"`
	HasEntry    bool   `doc:"by these figures it has"`
	Entry       string `doc:"their name, as an identifier"`
	Zones
	Shifted   bool   `doc:"Tool is another zone than the tool's first, whose centre point counts elsewhere"`
	FirstTool string `doc:"that first one"`
	Lead
	Above       bool    `doc:"a part is let go above its slot"`
	Release     string  `doc:"how far, likewise along Z or back along the tool"`
	ReleaseX    string  `doc:"the way from the slot, where it is neither"`
	ReleaseY    string  `doc:"the same along Y"`
	ReleaseZ    string  `doc:"the same along Z"`
	TravelSpeed string  `doc:"to where the straight line begins; rounded down"`
	NearSpeed   string  `doc:"of the straight lines; rounded down"`
	Asks        []Asked `doc:"the questions above the slot: whether a part is held"`
}

// Job is the beginning of what calls the routines.
type Job struct {
	Several bool   `doc:"several tools take parts, or several zones of one"`
	Tool    string `doc:"then: the one whose centre point counts at first, as an identifier"`
}

// Ask is whether nothing is held before the job begins.
type Ask struct {
	LoopLine
	Asks []Asked `doc:"the questions"`
}

// First is the first motion: to a pose or, where there is none on the way, to where a
// straight line to the first slot begins.
type First struct {
	Carry
	Zones
	Lead
	Passed
	Opens bool   `doc:"the gripper is opened before it: there is no clear pose"`
	Posed bool   `doc:"it goes to a pose; otherwise above the slot, and Frame is the grid's"`
	Speed string `doc:"that of straight lines; rounded down"`
}

// Go is a step that moves the arm.
type Go struct {
	LoopLine
	Passed
	Straight bool   `doc:"on a straight line"`
	Framed   bool   `doc:"the step right before went to a pose in the same frame"`
	First    bool   `doc:"it is the first motion, from wherever the arm stands"`
	Out      bool   `doc:"before it the arm leaves the grid that it may be in, as far as the pose"`
	Speed    string `doc:"of the motion; rounded down"`
}

// Switch is another tool on the flange.
type Switch struct {
	LoopLine
	Home
	From    Text    `doc:"the tool that comes off, as the cell writes it"`
	To      Text    `doc:"the tool that comes on"`
	Leaves  bool    `doc:"the arm leaves the one by itself"`
	Leave   string  `doc:"the routine for that, as an identifier"`
	ByHand  bool    `doc:"a person changes the tool, or does half of it"`
	Text    Text    `doc:"what the person does: take jaw off, fit cup"`
	Speed   string  `doc:"of the first motion after that, which is slow wherever it goes; rounded down"`
	Tool    string  `doc:"the tool, or its first zone, whose centre point counts then, as an identifier"`
	Fetches bool    `doc:"the arm fetches the other one by itself"`
	Fetch   string  `doc:"the routine for that, as an identifier"`
	Asks    []Asked `doc:"the questions behind it: nothing may be held"`
}

// Groups is groups of parts that a tool carries at once.
type Groups struct {
	LoopLine
	First int `doc:"the first of the groups, from 1"`
	Last  int `doc:"the last of them"`
	Parts int `doc:"how many parts each has"`
}

// Finish is the end of the job.
type Finish struct {
	LoopLine
	Home
}

// Entry is an entry of the plan's transfers, or one leg of it.
type Entry struct {
	LoopLine
	Number int  `doc:"the entry's place in the plan, from 1"`
	Parts  int  `doc:"parts that it carries"`
	Legs   int  `doc:"how many legs they make"`
	Leg    int  `doc:"the leg that begins, from 1; 0 where the entry as a whole begins"`
	ByPart bool `doc:"each part makes all legs before the next one starts"`
	AtOnce int  `doc:"parts that are carried at once"`
	Stops  Text `doc:"the grids, in order"`
}

// Loop counts from First to Last.
type Loop struct {
	LoopLine
	Counter   string `doc:"what is counted: row, column, layer, count or group"`
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
	List  string `doc:"the list whose slots are counted; empty for parts"`
	Parts int    `doc:"how many more they are; 0 where they are counted from 0"`
}

// Carry is a slot that a routine is called for, or that is put into a list.
type Carry struct {
	LoopLine
	Routine string `doc:"the routine, as an identifier"`
	Grid    string `doc:"the grid, as an identifier"`
	Layered bool   `doc:"it has several layers"`
	Listed  bool   `doc:"the slot is the one that stands in From at the count"`
	From    string `doc:"that list; empty otherwise"`
	Item    string `doc:"the item of that list: count, or count and a number where several parts are carried at once"`
	Into    string `doc:"the list that it is put into; empty where a routine is called"`
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
