package rules

// RotationForm is how a family writes how the tool is turned.
type RotationForm uint8

// The forms. A turn about moving axes comes first in the name: MovingZYX turns
// about Z, then about the Y axis that this gives, then about the X axis that
// both give.
const (
	FixedXYZ RotationForm = iota
	MovingZYX
	MovingZYZ
	Quaternion
	RotationVector
	Vertical // one turn about the vertical, of a tool that points straight down
)

var (
	rotationWords = []string{"fixed-xyz", "moving-zyx", "moving-zyz", "quaternion", "vector", "vertical"}
	rotationForms = []RotationForm{FixedXYZ, MovingZYX, MovingZYZ, Quaternion, RotationVector, Vertical}
)

// String is the word for the form in family.yaml.
func (f RotationForm) String() string { return rotationWords[f] }

// OfEntry is the form in which frames and tools are written: those are not
// tools that point down, so that a turn about the vertical would not do.
func (f RotationForm) OfEntry() RotationForm {
	if f == Vertical {
		return FixedXYZ
	}
	return f
}
