package timing

// Machine is the machine's limits beside the speeds that the moves give. 0 means not
// known, and not limited.
type Machine struct {
	Acceleration     float64 // mm/s²
	Jerk             float64 // mm/s³
	TurnSpeed        float64 // deg/s
	TurnAcceleration float64 // deg/s²
	Between          bool    // a fly-by is passed only where the next move is a motion, too
	ByAxis           bool    // one axis turns the tool: a move's Turn says where it stands
	Joints           *Joints // of the arm; nil where the cell does not say what it is
}

// limitsOf holds line and turn to one time law: every axis has covered the
// same share of its way at all times (NISTIR 6556, 2.1.2.4). The written speed
// is that of the line; a turn rides along (2.1.2.5) as fast as the machine lets it.
func (m Machine) limitsOf(length, turn, speed float64) Limits {
	switch {
	case length == 0 && turn == 0:
		return Limits{}
	case length == 0:
		return Limits{Speed: m.TurnSpeed, Acceleration: m.TurnAcceleration}
	}
	l := Limits{Speed: speed, Acceleration: m.Acceleration, Jerk: m.Jerk}
	if turn > 0 {
		l.Speed = lower(l.Speed, float64(m.TurnSpeed*length)/turn)
		l.Acceleration = lower(l.Acceleration, float64(m.TurnAcceleration*length)/turn)
	}
	return l
}

// lower is the lower of two limits, of which 0 is none.
func lower(a, b float64) float64 {
	if a == 0 || b > 0 && b < a {
		return b
	}
	return a
}
