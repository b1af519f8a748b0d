package arm

import (
	"errors"
	"math"

	"gridferry/gen/geom"
)

// guesses are readings that are worth polishing; more than there is room for are none.
type guesses struct {
	list [32]Readings
	n    int
}

func (g *guesses) add(r Readings) {
	if g.n < len(g.list) {
		g.list[g.n] = r
		g.n++
	}
}

// guesser finds readings among which all solutions of a pose are, nearly so where rounding has moved them; and where there are
// none, some that miss it by little. It gets and gives them by value, so that they stay off the heap.
type guesser interface {
	class() string
	guess(flange geom.Pose, near Readings) guesses
}

// guessed solves with a guesser.
type guessed struct {
	arm *Arm
	guesser
}

// worthwhile is how far a guess may be off a pose to be worth polishing, in lengths of the arm and in radians.
const worthwhile = 0.03

func (s guessed) solve(flange geom.Pose, near Readings, found solutions) solutions {
	g := s.guess(flange, near)
	for i := range g.n {
		way, turn := Off(s.arm.Pose(g.list[i]), flange)
		if way < worthwhile*s.arm.length && turn*math.Pi/180 < worthwhile {
			found.add(g.list[i], near)
		}
	}
	return found
}

// few returns the solver of arms with sliding joints, or with other than six.
func few(a *Arm) (solver, error) {
	a.Joints = straighten(a.Joints)
	if s, ok := onRail(a); ok {
		return s, nil
	}
	if len(a.Joints) > 6 {
		return nil, errors.New("seven joints are solved only where the first one slides, as a rail under an arm, and the others are solved without it")
	}
	if err := a.spare(); err != nil {
		return nil, err
	}
	if g, ok := summed(a); ok {
		return guessed{a, g}, nil
	}
	if g, ok := slidingWrist(a); ok {
		return guessed{a, g}, nil
	}
	return embed(a)
}
