package solid

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/geom"
	"gridferry/golden/outside"
)

// asked is a pair of solids, and its line for testdata/fcl.cpp.
type asked struct {
	a, b    Solid
	touches bool // moved until they nearly do: FCL's EPA ends the program over some of these
	line    string
}

// TestDepthAgreesWithFCL holds boxes against boxes, and against swept ones, to the Flexible
// Collision Library (J. Pan, S. Chitta, D. Manocha, FCL: A general purpose library for
// collision and proximity queries, ICRA 2012), in the version that the log names: whether
// they overlap, by its separating axes for two boxes and by GJK for swept ones; how deep,
// by EPA; and how far they are apart, which a depth below 0 must not overstate.
func TestDepthAgreesWithFCL(t *testing.T) {
	t.Parallel()
	const touching = 1e-6 // mm
	const exact = 1e-4    // mm, where FCL goes on until it is sure of 1e-6
	pairs := fclPairs(10000)
	var question bytes.Buffer
	for i := range pairs {
		question.WriteString(pairs[i].line)
	}
	answers := bufio.NewScanner(bytes.NewReader(outside.Cpp(t, "libfcl-dev", "fcl/config.h", "testdata/fcl.cpp", question.Bytes(), "-lfcl", "-lccd")))
	answers.Scan()
	t.Log(answers.Text())
	together, apart, near := 0, 0, 0
	for i := range pairs {
		p := &pairs[i]
		var meet int
		var gap float64
		answers.Scan()
		if _, err := fmt.Sscan(answers.Text(), &meet, &gap); err != nil {
			t.Fatalf("pair %d: FCL says %q (%v): %s", i, answers.Text(), err, p.line)
		}
		depth := DepthOver(&p.a, &p.b, math.Inf(-1))
		if math.Abs(depth) < 0.01 {
			near++
		}
		switch {
		case math.Abs(depth) < touching:
			continue
		case depth > 0:
			together++
		default:
			apart++
		}
		agree := depth > 0 == (meet == 1)
		if depth < 0 {
			agree = agree && gap > -depth-exact
		} else if !p.touches {
			agree = agree && math.Abs(depth+gap) < exact
		}
		if !agree {
			t.Errorf("pair %d: the depth is %g, FCL says %q: %s", i, depth, answers.Text(), p.line)
		}
	}
	if answers.Scan() || together < 2000 || apart < 2000 || near < 1000 {
		t.Errorf("%d pairs are together and %d apart, %d of them hardly: the test proves little", together, apart, near)
	}
}

// fclPairs are boxes against boxes and swept boxes by turns, turned anyhow or by steps of
// 15 degrees; of every four two are moved until they touch, or a little nearer or farther.
func fclPairs(n int) []asked {
	r := rand.New(rand.NewPCG(9, 11))
	var pairs []asked
	for k := range n {
		in, half := randomPose(r, 100), randomSize(r)
		to, other := randomPose(r, 200), randomSize(r)
		if k%3 == 0 {
			angle := func() float64 { return r.Float64()*360 - 180 }
			to = geom.At(to.T, geom.RPY{Roll: angle(), Pitch: angle(), Yaw: angle()})
		}
		var way geom.Vec
		if k%2 == 1 {
			way = randomPose(r, 200).T
		}
		a, b := Block(in, half), Block(to, other)
		b = b.Swept(way)
		p := asked{touches: k%4 >= 2, line: "depth"}
		if p.touches {
			p.line = "apart"
			off := []float64{1e-5, -1e-5, 1e-3, -1e-3}[r.IntN(4)]
			to.T = to.T.Add(untilTouching(&a, &b).Scale(1 + off))
			b = Block(to, other)
			b = b.Swept(way)
		}
		p.a, p.b = a, b
		if k%2 == 1 {
			p.line += boxLine(in, half) + hullLine(&b) + "\n"
		} else {
			p.line += boxLine(in, half) + boxLine(to, other) + "\n"
		}
		pairs = append(pairs, p)
	}
	return pairs
}

// untilTouching is how far one solid has to go from or towards the other, along the line
// between their centres, until they touch.
func untilTouching(a, b *Solid) geom.Vec {
	way := b.Centre.Sub(a.Centre)
	moved := *b
	near, far := -1.0, 20.0
	for range 100 {
		middle := (near + far) / 2
		moved.Centre = b.Centre.Add(way.Scale(middle))
		if deep(a, &moved) > 0 {
			near = middle
		} else {
			far = middle
		}
	}
	return way.Scale(far)
}

func boxLine(in geom.Pose, half geom.Vec) string {
	return " box" + figures(half.Scale(2), in.R.Column(0), in.R.Column(1), in.R.Column(2), in.T)
}

// hullLine writes the corners of a solid, and points inside it.
func hullLine(s *Solid) string {
	corners := make([]geom.Vec, 1<<s.n)
	for k := range corners {
		corners[k] = s.corner(k)
	}
	return fmt.Sprint(" hull ", len(corners), figures(corners...))
}

func figures(all ...geom.Vec) string {
	var b strings.Builder
	for _, v := range all {
		fmt.Fprintf(&b, " %.17g %.17g %.17g", v.X, v.Y, v.Z)
	}
	return b.String()
}
