package fit

import (
	"fmt"
	"strconv"
	"strings"

	"gridferry/gen/geom"
	"gridferry/plan/wording"
)

// Kind says why points were refused.
type Kind int

const (
	TooFew       Kind = iota + 1 // Got of them, at least Want needed
	TooMany                      // Got of them, at most Want make sense
	Unequal                      // Got measured points for Want nominal ones
	OutOfRange                   // Points[0] is not a number, or beyond Farthest
	TooClose                     // the two Points are Got mm apart, Want needed
	OneLine                      // Points along one line: Got degrees off it, Want needed
	OneLineMany                  // all points along the line Free: Got mm spread across it, Want needed
	Mirrored                     // the measured points are the mirror image of the nominal ones
	OneTurn                      // all poses are turned alike: Got degrees between the two most different
	OneAxis                      // all poses turn about the axis Free: the tip along it stays unknown
	SameSlot                     // the two Points are given for the same row and column
	SlotLine                     // the rows and columns of the corners lie along one line
	NotRectangle                 // four corners are not two rows by two columns
	Folded                       // the four corners cross over: going round them, the surface turns upside down
)

// Error is a refusal. Callers with names and places at hand make their own
// sentences from its figures; Error and Hint are the plain ones.
type Error struct {
	Kind   Kind
	Of     string   // what the indices count, as Label writes it: "point", "measured point", "pose", …
	Points []int    // the indices at fault, from 0; empty where all are
	Got    float64  // what was found, in the unit that Kind names
	Want   float64  // what it takes
	Free   geom.Vec // OneLineMany, OneAxis, TooFew of two poses: unit vector of the direction that stays unknown
	About  geom.Vec // OneAxis, OneTurn, TooFew of two poses: unit vector, in the flange, of an axis to turn about next

	// Names are what the caller calls the points, by index; where there is none
	// they are numbered from 1.
	Names []string
}

// threeNames are the roles of the three points of a frame, by index.
var threeNames = [...]string{"origin", "along_x", "toward_y"}

// roles marks an Error whose indices stand for threeNames.
const roles = "point of the frame"

// Label names the point, pose or corner with index i as the messages do.
func (e *Error) Label(i int) string {
	if e.Of == roles {
		return `"` + threeNames[i] + `"`
	}
	if i < len(e.Names) && e.Names[i] != "" {
		return e.Of + " " + strconv.Quote(e.Names[i])
	}
	return e.Of + " " + strconv.Itoa(i+1)
}

// labels joins the names of all the points at fault.
func (e *Error) labels() string {
	names := make([]string, len(e.Points))
	for i, p := range e.Points {
		names[i] = e.Label(p)
	}
	return wording.List(names, len(names))
}

// Error says what was found and what was wanted.
func (e *Error) Error() string {
	got, want := Figure(e.Got), Figure(e.Want)
	switch e.Kind {
	case TooFew:
		return fmt.Sprintf("found %s %ss, wanted %s or more", got, e.Of, want)
	case TooMany:
		return fmt.Sprintf("found %s %ss, wanted %s or fewer", got, e.Of, want)
	case Unequal:
		return fmt.Sprintf("found %s measured points for %s nominal points, wanted as many", got, want)
	case OutOfRange:
		return e.labels() + " is no place: found a value that is not a number or beyond 1000 km, wanted millimetres"
	case TooClose:
		return fmt.Sprintf("%s are %s mm apart, wanted %s mm or more", e.labels(), got, want)
	case OneLine:
		return fmt.Sprintf("%s lie along one line: found %s° off it, wanted %s° or more", e.labels(), got, want)
	case OneLineMany:
		return fmt.Sprintf("the %ss lie along one line: found %s mm of spread across it, wanted %s mm or more", e.Of, got, want)
	case Mirrored, OneTurn, OneAxis, SameSlot, SlotLine, NotRectangle, Folded:
		return e.shape()
	}
	return fmt.Sprintf("refused for reason %d", int(e.Kind))
}

// shape is Error for the kinds that are about the set as a whole.
func (e *Error) shape() string {
	switch e.Kind {
	case Mirrored:
		return "the measured points are the mirror image of the nominal points, wanted the same hand"
	case OneTurn:
		return fmt.Sprintf("the poses are all turned alike: found %s° between the two most different", Figure(e.Got))
	case OneAxis:
		return "the poses turn about one axis only, so the tool centre point stays unknown along " + Direction(e.Free) + " of the flange"
	case SameSlot:
		return e.labels() + " are given for the same row and column, wanted different ones"
	case SlotLine:
		return "the rows and columns of the corners lie along one line, wanted three that span the grid"
	case NotRectangle:
		return "the four corners are not two rows by two columns" + e.stray()
	case Folded:
		return "the four corners cross over, wanted them in one round"
	default:
		return ""
	}
}

// stray names the corners that do not go with the others, where not all are at fault.
func (e *Error) stray() string {
	switch len(e.Points) {
	case 1:
		return ": " + e.labels() + " shares neither its row nor its column"
	case 2:
		return ": " + e.labels() + " do not stand in one row or column"
	}
	return ""
}

// Hint says what to do about it: most often, what to touch next.
func (e *Error) Hint() string {
	switch e.Kind {
	case TooFew:
		return "touch " + Figure(e.Want-e.Got) + " more" + e.unknownYet()
	case TooMany:
		return "leave out " + Figure(e.Got-e.Want)
	case Unequal:
		return "pair each nominal point with the point that was touched for it"
	case OutOfRange:
		return "write three finite numbers in millimetres"
	case TooClose:
		return "touch one of them again, as far from the other as the work area allows"
	case OneLine:
		return "touch " + e.Label(e.Points[len(e.Points)-1]) + " again, well to the side of the line through the others"
	case OneLineMany:
		return "touch one more point, well to the side of the line along " + Direction(e.Free)
	case OneTurn, OneAxis:
		return fmt.Sprintf("add a pose turned by %s° or more about %s of the flange, the tip on the same spot", Figure(WideSpread), Direction(e.About))
	case Mirrored, SameSlot, SlotLine, NotRectangle, Folded:
		return e.labelHint()
	}
	return ""
}

// unknownYet says for two poses what they leave open and which turn would settle it.
func (e *Error) unknownYet() string {
	if e.About == (geom.Vec{}) {
		return ""
	}
	turn := fmt.Sprintf(", turned by %s° or more about %s of the flange", Figure(WideSpread), Direction(e.About))
	if e.Free == (geom.Vec{}) {
		return turn
	}
	return turn + ": the tool centre point stays unknown along " + Direction(e.Free)
}

// labelHint is Hint for the kinds where the touches may be right and the names
// beside them wrong.
func (e *Error) labelHint() string {
	switch e.Kind {
	case Mirrored:
		return "look for two axes that are exchanged, one axis with the wrong sign, or two points that are swapped"
	case SameSlot:
		return "correct the row or column of one of them"
	case SlotLine:
		return "touch a corner in another row and another column"
	case NotRectangle:
		return "touch the first and last slot of the first row and of the last row"
	case Folded:
		return "look for two neighbouring corners that are swapped"
	default:
		return ""
	}
}

// Figure writes a number with three decimals at most.
func Figure(x float64) string {
	s := strconv.FormatFloat(x, 'f', 3, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Direction names an axis, or writes the unit vector out.
func Direction(v geom.Vec) string {
	for i, name := range [...]string{"X", "Y", "Z"} {
		if geom.IdentityRot().Column(i).Cross(v).Norm() < minRatio {
			return name
		}
	}
	return "[" + Figure(v.X) + ", " + Figure(v.Y) + ", " + Figure(v.Z) + "]"
}
