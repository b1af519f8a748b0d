package scene

// Moves is the list, a column a slice: item i of each is of move i+1, but where two or three are said to be. A map has
// only the moves that have such a value, by i.
type Moves struct {
	N           int  `json:"n"`
	Of          int  `json:"of"` // moves of the whole job
	Transfers   int  `json:"transfers"`
	OfTransfers int  `json:"ofTransfers"`
	Whole       bool `json:"whole"`

	Kinds    []string        `json:"kinds"`
	Kind     Numbers         `json:"kind"`
	Roles    []string        `json:"roles"`
	Role     Numbers         `json:"role"`
	Transfer Numbers         `json:"transfer"`         // 0 outside any
	Behind   map[int32]int32 `json:"behind,omitempty"` // so many transfers behind that one is the part that is gripped or let go

	// Where the tool is when the move is done. Before anything is known of that it is where the first motion leads.
	From  *Vec         `json:"from"` // before the first motion; nil where nobody knows
	At    Lengths      `json:"at"`   // of the TCP, three figures a move
	Turn  Numbers      `json:"turn"`
	Turns []Quaternion `json:"turns"`
	Tool  Numbers      `json:"tool"` // whose TCP that is

	Path  string          `json:"path,omitempty"` // of travels: "line", or "axes" if each goes for itself; "" where only the controller knows
	Speed Lengths         `json:"speed"`          // mm/s; 0 for what is no motion
	Slot  Numbers         `json:"slot"`           // grid and slot, two figures a move: that it goes to or over, or works at; -1 and -1 for none
	Zone  map[int32]int32 `json:"zone,omitempty"`

	Part map[int32]string `json:"part,omitempty"` // of grips and releases: the part, where it has an id
	Lies map[int32]int32  `json:"lies,omitempty"` // of releases: how the part lies there, where not as the slot says
	Load map[int32]Length `json:"load,omitempty"` // kg, of selects

	Place Numbers `json:"place"`           // two figures a move
	Lines Numbers `json:"lines,omitempty"` // of the program, the first and the last one; 0 and 0 for none

	Seconds Lengths `json:"seconds,omitempty"`
	Through Numbers `json:"through,omitempty"` // motions that end in a fly-by
	Settle  Numbers `json:"settle,omitempty"`  // those that are dwells behind a grip or a release
	Unknown Numbers `json:"unknown,omitempty"` // those that take longer than anybody knows: waits, and changes of tool by hand

	Joints        Readings         `json:"joints,omitempty"`    // a figure a joint, kept by what is no motion and by motions that the arm has no readings for
	Unreached     Numbers          `json:"unreached,omitempty"` // motions that the arm has no readings for
	Configuration map[int32]string `json:"configuration,omitempty"`

	Words []string `json:"words"`
}
