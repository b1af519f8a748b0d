package compare

import (
	"errors"
	"fmt"
	"io"
	"math"

	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/plan/diag"
)

// Reading is how a program is read: it gives every item to each until that returns
// false. Want is the move that the item was written for, nil where that is unknown.
type Reading func(each func(item *reads.Item, want *move.Move) bool) error

// Program is a program's side. Tables are the job's, for names and frames that the
// program itself does not say; the job may be empty.
// Lines of its seal are passed over; they are 0 for none.
func Program(name string, from *reads.Reads, job *move.Job, read Reading, sealFirst, sealLast int) Side {
	var failed error
	return Side{
		Beside: besideOf(read, sealFirst, sealLast, &failed),
		Name:   name, Form: from.Label, Knows: from.Knows, Err: func() error { return failed },
		Half: Tolerance{
			from.Rules.HalfStep(rules.Length, job.Speed), from.Rules.HalfStep(rules.Angle, job.Speed), from.Rules.HalfStep(rules.Speed, job.Speed),
			from.Rules.HalfStep(rules.Limit, job.Speed), from.Rules.HalfStep(rules.Time, job.Speed), from.Rules.HalfStep(rules.Mass, job.Speed),
			from.Rules.HalfStep(rules.Inertia, job.Speed),
		},
		Steps: func(yield func(Step) bool) {
			failed = nil
			t := newTranslator(from, job)
			err := read(func(item *reads.Item, want *move.Move) bool {
				s, is := t.step(item, want)
				if t.err != nil {
					return false
				}
				return !is || yield(s)
			})
			if failed = t.err; failed == nil {
				failed = err
			}
		},
	}
}

// ReadText reads program text from a source that can be opened again and again. A text
// that has no move up to its end is not a program of the family: that is an error,
// since any two such texts would be the same.
func ReadText(open func() (io.ReadCloser, error), from *reads.Reads, job *move.Job) Reading {
	return func(each func(*reads.Item, *move.Move) bool) error {
		text, err := open()
		if err != nil {
			return err
		}
		defer text.Close()
		going, moves := true, false
		r := reads.NewFilledReader(from, *job, func(item *reads.Item) {
			moves = moves || item.IsMove()
			going = going && each(item, nil)
		}).WithRests()
		if _, err = io.Copy(whileGoing{r, &going}, text); errors.Is(err, errEnough) {
			return nil
		}
		if err == nil && going {
			err = r.Close()
		}
		if err == nil && going && !moves {
			return fmt.Errorf("%w, that of the second program with --family-b", &reads.UnreadError{Family: from.Label})
		}
		return err
	}
}

// errEnough ends a pass that nobody needs any more.
var errEnough = errors.New("enough was read")

type whileGoing struct {
	io.Writer
	going *bool
}

func (w whileGoing) Write(p []byte) (int, error) {
	if !*w.going {
		return 0, errEnough
	}
	return w.Writer.Write(p)
}

// Rendered reads the program that a plan gives, as it is written. Findings go to a
// new list in each pass; one of level error means that the text does not read back.
func Rendered(write func(io.Writer) error, checker func(list *diag.List, each func(*reads.Item, *move.Move)) *readback.Checker) Reading {
	return func(each func(*reads.Item, *move.Move) bool) error {
		going := true
		var list diag.List
		c := checker(&list, func(item *reads.Item, want *move.Move) {
			going = going && each(item, want)
		})
		err := write(whileGoing{c, &going})
		c.Close()
		switch {
		case errors.Is(err, errEnough):
			return nil
		case err == nil && list.HasErrors():
			return fmt.Errorf("what the family writes does not read back: %s", list.Sorted()[0].Message)
		}
		return err
	}
}

// translator makes steps of items.
type translator struct {
	rules  *rules.Rules
	tables map[int]geom.Pose // the frames by number: the job's, or what the program says
	chosen Step              // frame, tool and load of the last selects, as far as they are known
	begun  bool              // the first motion was read
	change bool              // a stop for another tool was, and no motion behind it
	err    error
}

func newTranslator(from *reads.Reads, job *move.Job) *translator {
	t := &translator{rules: from.Rules, tables: map[int]geom.Pose{}}
	for _, frame := range job.Frames {
		t.tables[frame.Number] = geom.At(frame.Base.Vec, frame.Base.RPY)
	}
	return t
}

// facts is which fields of an item say what.
var facts = []struct {
	field reads.Field
	fact  Facts
}{
	{reads.X, At}, {reads.Speed, Speed}, {reads.FlyBy, FlyBy}, {reads.Frame, Frame}, {reads.Tool, Tool},
	{reads.Load, Load}, {reads.CentreX, Centre}, {reads.InertiaX, Inertia}, {reads.Signal, Signal}, {reads.Level, Level}, {reads.Time, Seconds}, {reads.GoOn, GoOn},
}

// step is what an item says; false for a line that does nothing.
func (t *translator) step(item *reads.Item, want *move.Move) (Step, bool) {
	switch item.Means {
	case 0:
		return unread(item), true // a line that nobody can read may do anything
	case reads.MeansFrame:
		t.frame(int(item.Number[reads.Number]), geom.Pose{R: rotation(item, t.rules.Rotation.OfEntry()), T: position(item)})
		return Step{}, false
	case reads.MeansText, reads.MeansMode, reads.MeansBegun, reads.MeansTool, reads.MeansPoint:
		return Step{}, false
	case reads.MeansMove:
		if !item.IsMove() {
			return Step{}, false
		}
	}
	s := said(item)
	if want != nil {
		s.Transfer, s.Behind, s.Role, s.Target, s.Place = want.Transfer, want.Behind, want.Role, want.Target, want.Place
	}
	t.complete(&s, item)
	return s, true
}

// unread is a line of which only the text is known.
func unread(item *reads.Item) Step {
	s := Step{Line: item.Line, Knows: Text}
	s.Text = string(item.Text)
	return s
}

// said is what the line of a move says itself.
func said(item *reads.Item) Step {
	if fractions(item) {
		return unread(item) // what a controller makes of it is its own affair
	}
	s, n := Step{Line: item.Line, Rest: item.Rest}, &item.Number
	s.Kind, s.Speed, s.FlyBy, s.Load, s.Seconds = item.Kind, n[reads.Speed], n[reads.FlyBy], n[reads.Load], n[reads.Time]
	s.Signal, s.Level, s.GoOn = int(n[reads.Signal]), n[reads.Level] != 0, n[reads.GoOn] != 0
	s.ByHand = n[reads.ByHand] != 0
	s.FrameNumber, s.ToolNumber = int(n[reads.Frame]), int(n[reads.Tool])
	if item.Has&(reads.Centre|reads.Inertia) != 0 {
		s.Spread = &move.Spread{
			Centre:  geom.Vec{X: n[reads.CentreX], Y: n[reads.CentreY], Z: n[reads.CentreZ]},
			Inertia: geom.Vec{X: n[reads.InertiaX], Y: n[reads.InertiaY], Z: n[reads.InertiaZ]},
		}
	}
	for _, f := range facts {
		if item.Has.Has(f.field) {
			s.Knows |= f.fact
		}
	}
	if item.Has.Has(reads.Target) {
		s.Text, s.Knows = item.Target, s.Knows|Text
	}
	return s
}

// complete adds what the lines before it say, and where a motion goes.
func (t *translator) complete(s *Step, item *reads.Item) {
	switch s.Kind {
	case move.Await:
		if s.Seconds == 0 {
			s.Knows &^= GoOn
		}
	case move.Select:
		t.chosen.choose(s, s.Knows)
		t.change = t.change || s.ByHand || item.When == reads.WhenTool || item.When == reads.WhenHand
	case move.Travel, move.Straight:
		if !t.begun { // from wherever the arm stands: a travel, or a line where a travel could not be slow
			t.begun, s.Kind = true, move.Travel
		}
		s.Changed, t.change = t.change, false
		s.choose(&t.chosen, t.chosen.Knows&^s.Knows)
		if s.Knows.has(At) {
			t.place(s, item)
		}
	case move.Grip, move.Release, move.Set, move.Dwell, move.Note:
	}
}

// fractions reports whether a number that counts, of a frame, a tool or a signal, is no
// whole one: some controllers round it, some cut it off.
func fractions(item *reads.Item) bool {
	for _, f := range []reads.Field{reads.Frame, reads.Tool, reads.Signal} {
		if n := item.Number[f]; item.Has.Has(f) && n != math.Trunc(n) {
			return true
		}
	}
	return false
}

// choose takes over what another step has chosen, as far as it is asked to: a motion has
// that of the select before it where its own line is silent.
func (s *Step) choose(from *Step, which Facts) {
	if which.has(Frame) {
		s.FrameNumber = from.FrameNumber
	}
	if which.has(Tool) {
		s.ToolNumber = from.ToolNumber
	}
	if which.has(Load) {
		s.Load = from.Load
	}
	switch {
	case which.has(Centre | Inertia):
		s.Spread = from.Spread
	case which.has(Centre):
		s.Spread = &move.Spread{Centre: from.Centre(), Inertia: s.Inertia()}
	case which.has(Inertia):
		s.Spread = &move.Spread{Centre: s.Centre(), Inertia: from.Inertia()}
	}
	s.Knows |= which & Chosen
}

// frame takes in what the program says of a frame. Its origin and its turn are each the
// job's own where they are but for their rounding: a tenth of a degree is a millimetre at
// arm's length.
func (t *translator) frame(number int, given geom.Pose) {
	mm, degrees := t.rules.HalfStep(rules.Length, 0)+rounding, t.rules.HalfStep(rules.Angle, 0)+rounding
	if job, known := t.tables[number]; known {
		if off := given.T.Sub(job.T); max(math.Abs(off.X), math.Abs(off.Y), math.Abs(off.Z)) <= mm {
			given.T = job.T
		}
		// Three angles that are each off by half a step turn by no more than twice that.
		if job.R.T().Mul(given.R).Angle() <= 2*degrees {
			given.R = job.R
		}
	}
	t.tables[number] = given
}

// place works out where a motion ends in the base.
func (t *translator) place(s *Step, item *reads.Item) {
	at, turn := position(item), rotation(item, t.rules.Rotation)
	if !t.rules.BaseCoordinates {
		frame, known := t.tables[s.FrameNumber]
		if !known {
			t.err = fmt.Errorf("line %d is written in a frame that the program does not define: name its plan with --plan", s.Line)
			return
		}
		at, turn = frame.Apply(at), frame.R.Mul(turn)
	}
	s.Base.Vec, s.Turn = at, turn
	s.Knows |= Turned
}

func position(item *reads.Item) geom.Vec {
	return geom.Vec{X: item.Number[reads.X], Y: item.Number[reads.Y], Z: item.Number[reads.Z]}
}

// rotation undoes what the family's form of a rotation does.
func rotation(item *reads.Item, form rules.RotationForm) geom.Rot {
	three := func(first reads.Field) (a, b, c float64) {
		return item.Number[first], item.Number[first+1], item.Number[first+2]
	}
	switch form {
	case rules.Vertical:
		return geom.RotZ(item.Number[reads.Turn]).Mul(geom.RotX(180))
	case rules.MovingZYX:
		z, y, x := three(reads.Turn1)
		return geom.RPY{Roll: x, Pitch: y, Yaw: z}.Rot()
	case rules.MovingZYZ:
		z1, y, z2 := three(reads.Turn1)
		return geom.RotZ(z1).Mul(geom.RotY(y)).Mul(geom.RotZ(z2))
	case rules.Quaternion:
		x, y, z := three(reads.QX)
		r, ok := geom.Quaternion(item.Number[reads.QW], x, y, z)
		if !ok {
			return geom.IdentityRot()
		}
		return r
	case rules.RotationVector:
		x, y, z := three(reads.RX)
		return geom.RotFromVector(geom.Vec{X: x, Y: y, Z: z})
	case rules.FixedXYZ:
	}
	roll, pitch, yaw := three(reads.Roll)
	return geom.RPY{Roll: roll, Pitch: pitch, Yaw: yaw}.Rot()
}
