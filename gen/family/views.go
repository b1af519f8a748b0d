package family

// The views: what a block is given as its dot. They hold ready-made texts and
// whole numbers only, so that a template words and never reckons, and they have
// no methods, so that a template has nothing to call. The doc tags are the
// tables of templates/AUTHORING.md.

// Step is what every block about a move can ask.
type Step struct {
	N        int    `doc:"number of the move, from 1"`
	Transfer int    `doc:"number of the transfer, from 1; 0 outside of any"`
	Leg      int    `doc:"leg within its entry of transfers, from 1; 0 outside"`
	Line     int    `doc:"line of the plan that caused it"`
	Plan     Text   `doc:"the plan's file name"`
	Load     string `doc:"tool and part together, kg"`
}

// Transfer is given to the block before the first move of a transfer.
type Transfer struct {
	Step
	HasEnds bool `doc:"From and To are known"`
	From    Text `doc:"the slot that the part comes from"`
	To      Text `doc:"the slot that it goes to"`
}

// Select is a change of frame, tool or load.
type Select struct {
	Step
	Frame        string `doc:"the frame, as an identifier"`
	FrameLabel   Text   `doc:"the frame, as the cell writes it"`
	FrameNumber  int    `doc:"place of the frame in Frames, from 1"`
	Tool         string `doc:"the tool, as an identifier"`
	ToolLabel    Text   `doc:"the tool, as the cell writes it"`
	ToolNumber   int    `doc:"place of the tool in Tools, from 1"`
	FrameChanged bool   `doc:"another frame than before, or the program's first"`
	LoadChanged  bool   `doc:"another tool or load than before, or the program's first"`
	ToolChanged  bool   `doc:"another tool than before; not so for the program's first"`
}

// Motion is a travel or a straight.
type Motion struct {
	Step
	Target      Text   `doc:"what it goes to: a slot, the approach point above one, a waypoint"`
	Frame       string `doc:"the frame, as an identifier"`
	FrameLabel  Text   `doc:"the frame, as the cell writes it"`
	FrameNumber int    `doc:"place of the frame in Frames, from 1"`
	Tool        string `doc:"the tool, as an identifier"`
	ToolNumber  int    `doc:"place of the tool in Tools, from 1"`
	X           string `doc:"mm, in the base or in the frame as family.yaml says"`
	Y           string `doc:"mm"`
	Z           string `doc:"mm"`
	Roll        string `doc:"degrees about the fixed X axis, the first turn; empty when rotation is vertical"`
	Pitch       string `doc:"degrees about the fixed Y axis, the second turn; empty when rotation is vertical"`
	Yaw         string `doc:"degrees about the fixed Z axis, the third turn; empty when rotation is vertical"`
	Turn        string `doc:"degrees about the vertical from the base's X axis, above -180 and at most 180; empty unless rotation is vertical"`
	Speed       string `doc:"in the family's unit"`
	Blend       string `doc:"fly-by radius, mm"`
	Stops       bool   `doc:"the arm comes to rest there: Blend is 0"`
}

// Gripping is a grip or a release.
type Gripping struct {
	Step
	Target     Text   `doc:"the slot it happens at; may be empty"`
	Tool       string `doc:"the tool, as an identifier"`
	ToolNumber int    `doc:"place of the tool in Tools, from 1"`
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
	Seconds string `doc:"the time-out, s; 0 without one"`
	GoOn    bool   `doc:"after the time-out the program goes on instead of stopping"`
}

// Dwell is a wait of a fixed time.
type Dwell struct {
	Step
	Seconds string `doc:"s"`
}

// Note is a remark.
type Note struct {
	Step
	Text  Text   `doc:"the remark as one text; what does not fit its line is cut"`
	Lines []Text `doc:"the remark in pieces that fit a comment of their own"`
}

// Head is given to the first and to the last block.
type Head struct {
	Title           Text     `doc:"the plan's title, or its file name"`
	Plan            Text     `doc:"the plan's file name"`
	Cell            Text     `doc:"the cell's name"`
	Program         string   `doc:"an identifier made from Title"`
	Version         string   `doc:"of Gridferry"`
	Cautions        []string `doc:"the cautions that belong at the head of every program, line by line"`
	Frames          []Frame  `doc:"the frames; the base is number 1"`
	Tools           []Tool   `doc:"the tools"`
	Moves           int      `doc:"how many moves there are"`
	Transfers       int      `doc:"how many transfers there are"`
	Outputs         int      `doc:"the highest output number that is written"`
	Inputs          int      `doc:"the highest input number that is waited for"`
	Blends          bool     `doc:"some move is to pass its point without a stop"`
	TravelSpeed     string   `doc:"the fastest travel, in the family's unit"`
	StraightSpeed   string   `doc:"the fastest straight, in the family's unit"`
	MachineSpeed    string   `doc:"the machine's own limit, in the family's unit; empty when the cell does not say"`
	Acceleration    string   `doc:"mm/s²; empty when the cell does not say"`
	HasAcceleration bool     `doc:"the cell says it"`
}

// Frame is one entry of Frames.
type Frame struct {
	Number int    `doc:"its place in the list, from 1"`
	Name   string `doc:"as an identifier, different from every other"`
	Label  Text   `doc:"as the cell writes it"`
	X      string `doc:"mm, in the base"`
	Y      string `doc:"mm"`
	Z      string `doc:"mm"`
	Roll   string `doc:"degrees about the base's X axis, the first turn"`
	Pitch  string `doc:"degrees about the base's Y axis, the second turn"`
	Yaw    string `doc:"degrees about the base's Z axis, the third turn"`
	Used   bool   `doc:"some move is written in it"`
}

// Tool is one entry of Tools.
type Tool struct {
	Number  int    `doc:"its place in the list, from 1"`
	Name    string `doc:"as an identifier, different from every other"`
	Label   Text   `doc:"as the cell writes it"`
	X       string `doc:"tool centre point on the flange, mm"`
	Y       string `doc:"mm"`
	Z       string `doc:"mm"`
	Roll    string `doc:"degrees, as for frames"`
	Pitch   string `doc:"degrees"`
	Yaw     string `doc:"degrees"`
	Mass    string `doc:"kg"`
	CentreX string `doc:"centre of gravity on the flange, mm"`
	CentreY string `doc:"mm"`
	CentreZ string `doc:"mm"`
	Used    bool   `doc:"some move uses it"`
}
