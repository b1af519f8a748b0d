package family

import (
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// viewFields is what a block calls the fields that its lines can carry.
var viewFields = [reads.Fields][]string{
	reads.Frame: {"Frame", "FrameNumber", "FramePlace", "FrameLabel"}, reads.Tool: {"Tool", "ToolNumber", "ToolPlace", "ToolLabel"}, reads.Load: {"Load"},
	reads.CentreX: {"CentreX"}, reads.CentreY: {"CentreY"}, reads.CentreZ: {"CentreZ"},
	reads.InertiaX: {"InertiaX"}, reads.InertiaY: {"InertiaY"}, reads.InertiaZ: {"InertiaZ"},
	reads.X: {"X", "Point", "PointNumber"}, reads.Y: {"Y", "Point", "PointNumber"}, reads.Z: {"Z", "Point", "PointNumber"},
	reads.Roll: {"Roll"}, reads.Pitch: {"Pitch"}, reads.Yaw: {"Yaw"}, reads.Turn: {"Turn"},
	reads.Turn1: {"Turn1"}, reads.Turn2: {"Turn2"}, reads.Turn3: {"Turn3"},
	reads.QW: {"QW"}, reads.QX: {"QX"}, reads.QY: {"QY"}, reads.QZ: {"QZ"},
	reads.RX: {"RX"}, reads.RY: {"RY"}, reads.RZ: {"RZ"},
	reads.Joint1: {"Joints"}, reads.Joint2: {"Joints"}, reads.Joint3: {"Joints"}, reads.Joint4: {"Joints"}, reads.Joint5: {"Joints"}, reads.Joint6: {"Joints"}, reads.Joint7: {"Joints"},
	reads.Quarter1: {"Quarters"}, reads.Quarter2: {"Quarters"}, reads.Quarter3: {"Quarters"}, reads.Quarter4: {"Quarters"}, reads.Quarter5: {"Quarters"}, reads.Quarter6: {"Quarters"}, reads.Quarter7: {"Quarters"},
	reads.Shoulder: {"Shoulder", "Configuration"}, reads.Elbow: {"Elbow", "Configuration"}, reads.Wrist: {"Wrist", "Configuration"},
	reads.Speed: {"Speed"}, reads.FlyBy: {"FlyBy"}, reads.Target: {"Target", "Place"}, reads.N: {"N"},
	reads.Signal: {"Signal"}, reads.Level: {"Level", "IsOn"}, reads.Time: {"Time", "Seconds"}, reads.GoOn: {"GoOn"},
}

// origin is where the block of a kind of move writes a field; the block's own place
// where it does not write it.
func (f *Family) origin(kind move.Kind, field reads.Field) diag.Place {
	return f.PlaceOf(kind.String(), viewFields[field]...)
}
