package blocks

// The views: what a block is given as its dot. They hold ready-made texts and
// whole numbers only, so that a template puts words and never calculates, and they have
// no methods, so that a template has nothing to call. The doc tags are the
// tables of templates/AUTHORING.md; a tag "when" names the rule under which the
// field is filled, and the lint refuses the field under any other. A tag "own" marks what
// is a move's own: moves that are otherwise alike differ in it.

// Step is what every block about a move can ask.
type Step struct {
	N          int    `doc:"number of the move, from 1" own:"yes"`
	Transfer   int    `doc:"number of the transfer, from 1; 0 outside of any" own:"yes"`
	Leg        int    `doc:"leg within its entry of transfers, from 1; 0 outside" own:"yes"`
	Line       int    `doc:"line of the plan that caused it" own:"yes"`
	Plan       Text   `doc:"the plan's file name"`
	PartID     Text   `doc:"which part it is: the id of the one that the transfer carries or, of a grip or a release, that is gripped or let go; empty where the plan names none, in loops and outside of any transfer" own:"yes"`
	HasPartID  bool   `doc:"the plan names it" own:"yes"`
	Load       string `doc:"tool and part together"`
	CentreX    string `doc:"centre of gravity of tool and part together, on the flange; 0 where it is not known"`
	CentreY    string `doc:"likewise"`
	CentreZ    string `doc:"likewise"`
	HasCentre  bool   `doc:"it is known: the cell says the tool's"`
	InertiaX   string `doc:"moment of inertia of tool and part together about an axis through that centre, along the flange's X; 0 where it is not known"`
	InertiaY   string `doc:"likewise, along Y"`
	InertiaZ   string `doc:"likewise, along Z"`
	HasInertia bool   `doc:"they are known: the cell says the tool's and, with a part, the plan the part's size"`
	Indent     string `doc:"blanks, as many as the loops around the line ask for; empty where every move is written"`
}

// Transfer is given to the block before the first move of a transfer.
type Transfer struct {
	Step
	HasEnds bool      `doc:"From and To are known" own:"yes"`
	From    Text      `doc:"the slot that the part comes from" own:"yes"`
	To      Text      `doc:"the slot that it goes to" own:"yes"`
	Last    int       `doc:"where parts are carried at once and this is the first of their transfers, the number of the last one; otherwise its own" own:"yes"`
	Group   []Carried `doc:"all of those, with this one, where it is the first and the ends of all are known; otherwise empty" own:"yes"`
}

// Carried is one entry of Group: one of the transfers whose parts are carried at once.
type Carried struct {
	Transfer  int  `doc:"its number, from 1"`
	PartID    Text `doc:"which part it is; empty where the plan names none"`
	HasPartID bool `doc:"the plan names it"`
	From      Text `doc:"the slot that the part comes from"`
	To        Text `doc:"the slot that it goes to"`
}

// Select is a change of frame, tool or load.
type Select struct {
	Step
	Frame        string `doc:"the frame, as an identifier"`
	FrameLabel   Text   `doc:"the frame, as the cell writes it"`
	FrameNumber  int    `doc:"the number that the controller knows it by"`
	FramePlace   int    `doc:"place of the frame in Frames, from 1"`
	Tool         string `doc:"the tool, as an identifier"`
	ToolLabel    Text   `doc:"the tool, as the cell writes it"`
	ToolNumber   int    `doc:"the number that the controller knows it by"`
	ToolPlace    int    `doc:"place of the tool in Tools, from 1"`
	FrameChanged bool   `doc:"another frame than before, or the program's first"`
	LoadChanged  bool   `doc:"another tool or load than before, or the program's first"`
	ToolChanged  bool   `doc:"another tool than before; not so for the program's first"`
}

// Change is a select at which a person changes the tool.
type Change struct {
	Select
	Text Text `doc:"what the person does: take jaw off, fit cup"`
}

// Rotation is how a pose is turned, in the one form that family.yaml names.
type Rotation struct {
	Roll  string `doc:"the first turn, about the fixed X axis" when:"rotation fixed-xyz"`
	Pitch string `doc:"the second turn, about the fixed Y axis" when:"rotation fixed-xyz"`
	Yaw   string `doc:"the third turn, about the fixed Z axis" when:"rotation fixed-xyz"`
	Turn1 string `doc:"the first turn, about Z" when:"rotation moving-zyx moving-zyz"`
	Turn2 string `doc:"the second turn, about the Y axis as the first one left it" when:"rotation moving-zyx moving-zyz"`
	Turn3 string `doc:"the third turn, about the X axis (moving-zyx) or the Z axis (moving-zyz) as the first two left it" when:"rotation moving-zyx moving-zyz"`
	QW    string `doc:"the unit quaternion's real component; of the two quaternions that turn so, a motion has the one that lies nearer to the motion before; elsewhere, and at first, the first component that is not 0 is positive" when:"rotation quaternion"`
	QX    string `doc:"its component along X" when:"rotation quaternion"`
	QY    string `doc:"its component along Y" when:"rotation quaternion"`
	QZ    string `doc:"its component along Z" when:"rotation quaternion"`
	RX    string `doc:"the rotation vector's X: its direction is the axis, its length the angle" when:"rotation vector"`
	RY    string `doc:"its Y" when:"rotation vector"`
	RZ    string `doc:"its Z" when:"rotation vector"`
}

// Posture is how the arm stands at the end of a motion. All of it is empty where the cell does not say
// what the arm is; a family that asks for it cannot write such a plan.
type Posture struct {
	Joints        []string `doc:"the readings of the arm's joints, in their order: angles, and lengths of those that slide" own:"yes"`
	Quarters      []int    `doc:"of each joint, in how many quarter turns its reading lies from 0 up, rounded down: 0 from 0 to 90 degrees, -1 below; 0 of those that slide" own:"yes"`
	Configuration string   `doc:"the configuration in words: front up up; empty of an arm that has none" own:"yes"`
	Shoulder      string   `doc:"its first word: front or back; empty of an arm without it" own:"yes"`
	Elbow         string   `doc:"its second: up or down" own:"yes"`
	Wrist         string   `doc:"its third: up or down" own:"yes"`
}

// Motion is a travel or a straight.
type Motion struct {
	Step
	Target      Text   `doc:"what it goes to: a slot, the approach point above one, a pose" own:"yes"`
	Place       Text   `doc:"the slot or the pose alone: tray A1 where Target is tray A1 approach" own:"yes"`
	Above       bool   `doc:"it goes to the approach point above the slot"`
	Free        bool   `doc:"it goes to a pose of the cell: neither to a slot nor above one"`
	Frame       string `doc:"the frame, as an identifier"`
	FrameLabel  Text   `doc:"the frame, as the cell writes it"`
	FrameNumber int    `doc:"the number that the controller knows it by"`
	FramePlace  int    `doc:"place of the frame in Frames, from 1"`
	Tool        string `doc:"the tool, as an identifier"`
	ToolNumber  int    `doc:"the number that the controller knows it by"`
	ToolPlace   int    `doc:"place of the tool in Tools, from 1"`
	Point       string `doc:"its entry in Points, as an identifier" own:"yes"`
	PointNumber int    `doc:"place of that entry in Points, from 1" own:"yes"`
	X           string `doc:"in the base or in the frame as family.yaml says" own:"yes"`
	Y           string `doc:"likewise" own:"yes"`
	Z           string `doc:"likewise" own:"yes"`
	Rotation
	Posture
	Turn  string `doc:"the turn about the vertical from the base's X axis: of those that the axis can reach, the nearest to the one before" when:"rotation vertical"`
	Speed string `doc:"in the family's unit; rounded down"`
	FlyBy string `doc:"fly-by radius, a length; rounded down"`
	Stops bool   `doc:"the arm comes to rest there: FlyBy is 0"`
	First bool   `doc:"the program's first motion: it leads from wherever the arm stands, at the speed near a slot, to a stop"`
}

// Gripping is a grip or a release.
type Gripping struct {
	Step
	Target     Text   `doc:"the slot it happens at; may be empty" own:"yes"`
	Tool       string `doc:"the tool, or the zone of it, as an identifier"`
	ToolLabel  Text   `doc:"the same, as the cell writes it"`
	ToolNumber int    `doc:"the number that the controller knows it by"`
	ToolPlace  int    `doc:"place of the tool in Tools, from 1"`
	Signal     int    `doc:"number of the output"`
	Level      string `doc:"on or off"`
	IsOn       bool   `doc:"Level is on"`
}

// Set is any other output.
type Set struct {
	Step
	Signal int    `doc:"number of the output"`
	Level  string `doc:"on or off"`
	IsOn   bool   `doc:"Level is on"`
}

// Await is a wait for an input.
type Await struct {
	Step
	Signal  int    `doc:"number of the input"`
	Level   string `doc:"on or off"`
	IsOn    bool   `doc:"Level is on"`
	Limited bool   `doc:"there is a time-out"`
	Time    string `doc:"the time-out; 0 without one"`
	Seconds string `doc:"the same" when:"time_unit s"`
	GoOn    bool   `doc:"after the time-out the program goes on instead of stopping"`

	HasTool   bool   `doc:"the input tells whether a gripper holds a part"`
	Tool      string `doc:"the tool, or the zone of it, that is asked, as an identifier; empty for any other input"`
	ToolLabel Text   `doc:"the same, as the cell writes it"`
}

// Dwell is a wait of a fixed time.
type Dwell struct {
	Step
	Time    string `doc:"how long"`
	Seconds string `doc:"the same" when:"time_unit s"`
}

// Note is a note of the plan.
type Note struct {
	Step
	Text  Text   `doc:"the note as one text; what does not fit its line is cut"`
	Lines []Text `doc:"the note in pieces that fit a comment of their own"`
}

// Stop is an optional stop.
type Stop struct {
	Step
	Text Text `doc:"what the stop is for"`
}

// Part is one of the files of a program that does not fit into one.
type Part struct {
	Number  int    `doc:"which part, from 1"`
	Name    string `doc:"the part's identifier, made from the title and its number"`
	File    string `doc:"its file's name"`
	Stem    string `doc:"its file's name without the extension"`
	Program string `doc:"the whole program's identifier"`
	Title   Text   `doc:"the plan's title, or its file name"`
	First   int    `doc:"number of the part's first move"`
	Last    int    `doc:"number of its last move; 0 at the head, where that is not known yet"`
}

// TableView is the next of the tables that hold the moves.
type TableView struct {
	Number int `doc:"which table, from 1"`
	Rows   int `doc:"how many moves it holds"`
}

// Head is given to the first and to the last block.
type Head struct {
	Title           Text        `doc:"the plan's title, or its file name"`
	Plan            Text        `doc:"the plan's file name"`
	Cell            Text        `doc:"the cell's name"`
	Program         string      `doc:"an identifier made from Title"`
	Version         string      `doc:"of Gridferry"`
	Cautions        []string    `doc:"the cautions that belong at the head of every program, line by line; before them, in a prove-out or a resumed job, what kind of run it is, and in every program how arm and gripper have to be found before the start"`
	Start           Text        `doc:"the start pose, as the cell writes it: where the arm has to stand before the program starts"`
	HasStart        bool        `doc:"there is one"`
	Frames          []Frame     `doc:"the frames; the base is the first, and number 1"`
	Tools           []Tool      `doc:"the tools"`
	JointNames      []Text      `doc:"the names of the arm's joints, in their order; none where the cell does not say what the arm is"`
	Points          []Point     `doc:"every pose that some move goes to, once, in the order of the moves"`
	Parts           int         `doc:"how many parts the program comes in; 0 when it is one text"`
	TableRows       int         `doc:"how many moves the first table holds, and each but the last; with tables"`
	Tables          []TableView `doc:"the tables that hold the moves; a single one without the rule tables"`
	LengthUnit      string      `doc:"the word for the unit of lengths: mm or inch"`
	SpeedUnit       string      `doc:"the word for the unit of speeds, as in family.yaml"`
	Moves           int         `doc:"how many moves there are"`
	Transfers       int         `doc:"how many transfers there are"`
	Outputs         int         `doc:"the highest output number that is written"`
	Inputs          int         `doc:"the highest input number that is waited for"`
	FlyBys          bool        `doc:"some move is to pass its point without a stop"`
	ByHand          bool        `doc:"somewhere a person changes the tool: there is a block change"`
	Passes          bool        `doc:"some fly-by point is passed: there is one, and the rule fly_by does not say stops"`
	Travels         bool        `doc:"some move is a travel; a prove-out may have none"`
	TravelSpeed     string      `doc:"the fastest travel, in the family's unit, rounded down"`
	StraightSpeed   string      `doc:"the fastest straight, in the family's unit, rounded down"`
	MachineSpeed    string      `doc:"the machine's own limit, in the family's unit, rounded down; empty when the cell does not say"`
	TurnFrom        string      `doc:"how far the axis turns that turns the tool, from" when:"rotation vertical"`
	TurnTo          string      `doc:"and to" when:"rotation vertical"`
	Acceleration    string      `doc:"in the length unit per s², rounded down; where the cell does not say it is that of the rule limits, or empty"`
	HasAcceleration bool        `doc:"the cell says it"`
	Jerk            string      `doc:"in the length unit per s³, rounded down; likewise"`
	HasJerk         bool        `doc:"the cell says it"`
}

// Frame is one entry of Frames.
type Frame struct {
	Number int    `doc:"the number that the controller knows it by"`
	Place  int    `doc:"its place in the list, from 1"`
	Name   string `doc:"as an identifier, different from every other"`
	Label  Text   `doc:"as the cell writes it"`
	X      string `doc:"in the base"`
	Y      string `doc:"likewise"`
	Z      string `doc:"likewise"`
	Rotation
	Used bool `doc:"some move is written in it"`
}

// Point is one entry of Points.
type Point struct {
	Number      int    `doc:"its place in the list, from 1"`
	Name        string `doc:"as an identifier, different from that of every other, of every frame and of every tool"`
	Label       Text   `doc:"what moves that go there have as Target"`
	Above       bool   `doc:"it is the approach point above a slot"`
	Frame       string `doc:"the frame, as an identifier"`
	FrameNumber int    `doc:"the number that the controller knows it by"`
	FramePlace  int    `doc:"place of the frame in Frames, from 1"`
	X           string `doc:"in the base or in the frame as family.yaml says"`
	Y           string `doc:"likewise"`
	Z           string `doc:"likewise"`
	Rotation
	Posture
	Turn string `doc:"as of a motion" when:"rotation vertical"`
}

// Tool is one entry of Tools.
type Tool struct {
	Number int    `doc:"the number that the controller knows it by"`
	Place  int    `doc:"its place in the list, from 1"`
	Name   string `doc:"as an identifier, different from every other"`
	Label  Text   `doc:"as the cell writes it"`
	X      string `doc:"tool centre point on the flange"`
	Y      string `doc:"likewise"`
	Z      string `doc:"likewise"`
	Rotation
	Mass     string `doc:"of the tool alone"`
	CentreX  string `doc:"centre of gravity on the flange"`
	CentreY  string `doc:"likewise"`
	CentreZ  string `doc:"likewise"`
	InertiaX string `doc:"moment of inertia about an axis through that centre, along the flange's X"`
	InertiaY string `doc:"likewise, along Y"`
	InertiaZ string `doc:"likewise, along Z"`
	Used     bool   `doc:"some move uses it"`
}
