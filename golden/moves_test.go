package golden

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// listed is one line of "moves --format jsonl", the list that programs are
// compared with.
type listed struct {
	N, Transfer, Leg                         int
	Action, Target, Frame, Tool, Level, Text string
	ID                                       string // of the part
	X, Y, Z, Roll, Pitch, Yaw                float64
	BaseX                                    float64 `json:"base_x"`
	BaseY                                    float64 `json:"base_y"`
	BaseZ                                    float64 `json:"base_z"`
	BaseRoll                                 float64 `json:"base_roll"`
	BasePitch                                float64 `json:"base_pitch"`
	BaseYaw                                  float64 `json:"base_yaw"`
	Speed, FlyBy, Load, Seconds              float64
	CentreX                                  float64 `json:"centre_x"`
	CentreY                                  float64 `json:"centre_y"`
	CentreZ                                  float64 `json:"centre_z"`
	InertiaX                                 float64 `json:"inertia_x"`
	InertiaY                                 float64 `json:"inertia_y"`
	InertiaZ                                 float64 `json:"inertia_z"`
	Signal, Line                             int
}

func (m *listed) moves() bool { return m.Action == "travel" || m.Action == "straight" }

// base is where the move ends, in the base.
func (m *listed) base() pose {
	return pose{[3]float64{m.BaseX, m.BaseY, m.BaseZ}, turned(m.BaseRoll, m.BasePitch, m.BaseYaw)}
}

// listMoves is a plan's moves, as the command gives them.
func listMoves(t testing.TB, plan string, args ...string) []listed {
	t.Helper()
	text := mustRun(t, append([]string{"moves", plan, "--format", "jsonl"}, args...)...)
	var moves []listed
	for d := json.NewDecoder(strings.NewReader(text)); d.More(); {
		var m listed
		if err := d.Decode(&m); err != nil {
			t.Fatal(err)
		}
		moves = append(moves, m)
	}
	return moves
}

// pose is a place in mm and a rotation matrix, worked out here and not by the
// project's own geometry.
type pose struct {
	at   [3]float64
	turn [3][3]float64
}

// turned is R = Rz(yaw) Ry(pitch) Rx(roll), angles in degrees: the fixed-axis
// roll, pitch, yaw of the URDF XML specification ("origin").
func turned(roll, pitch, yaw float64) [3][3]float64 {
	sr, cr := math.Sincos(roll * math.Pi / 180)
	sp, cp := math.Sincos(pitch * math.Pi / 180)
	sy, cy := math.Sincos(yaw * math.Pi / 180)
	return [3][3]float64{
		{cy * cp, cy*sp*sr - sy*cr, cy*sp*cr + sy*sr},
		{sy * cp, sy*sp*sr + cy*cr, sy*sp*cr - cy*sr},
		{-sp, cp * sr, cp * cr},
	}
}

// times is p followed by q in p's frame.
func (p pose) times(q pose) pose {
	out := pose{at: p.at}
	for i := range 3 {
		for k := range 3 {
			out.at[i] += p.turn[i][k] * q.at[k]
			for j := range 3 {
				out.turn[i][j] += p.turn[i][k] * q.turn[k][j]
			}
		}
	}
	return out
}

// apart is how far two poses are from each other: mm, and degrees.
func (p pose) apart(q pose) (mm, degrees float64) {
	var trace float64
	for i := range 3 {
		mm += (p.at[i] - q.at[i]) * (p.at[i] - q.at[i])
		for j := range 3 {
			trace += p.turn[i][j] * q.turn[i][j]
		}
	}
	return math.Sqrt(mm), math.Acos(max(-1, min(1, (trace-1)/2))) * 180 / math.Pi
}
