package render

import (
	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// own fills what is a move's own into the view of its kind, in the fields that have the tag for that; the rest stays there as it is.
// The error is a figure that is no number.
func (v *viewer) own(m *move.Move) error {
	switch m.Kind {
	case move.Select:
		v.ownStep(&v.views.selection.Step, m)
	case move.Travel, move.Straight:
		v.ownStep(&v.views.motion.Step, m)
		v.ownMotion(&v.views.motion, m)
	case move.Grip, move.Release:
		v.ownStep(&v.views.gripping.Step, m)
		v.ownGripping(&v.views.gripping, m)
	case move.Set:
		v.ownStep(&v.views.set.Step, m)
	case move.Await:
		v.ownStep(&v.views.await.Step, m)
	case move.Dwell:
		v.ownStep(&v.views.dwell.Step, m)
	case move.Note:
		v.ownStep(&v.views.note.Step, m)
	}
	return v.figures.take()
}

func (v *viewer) ownStep(s *blocks.Step, m *move.Move) {
	s.N, s.Transfer, s.Leg, s.Line = m.N, m.Transfer, m.Leg, m.Line()
	s.PartID, s.HasPartID = blocks.Text{}, m.ID != nil
	if s.HasPartID {
		s.PartID = blocks.NewText(*m.ID)
	}
}

func (v *viewer) ownMotion(view *blocks.Motion, m *move.Move) {
	view.Target, view.Place = v.targets.text(&m.Target), v.targets.place(&m.Target)
	view.Point, view.PointNumber = v.points.of(m)
	v.posture.fill(&view.Posture, &v.figures, m.Joints, m.Configuration)
	view.X, view.Y, view.Z = v.figures.vector(v.family.Coordinates(m).Vec)
}

func (v *viewer) ownGripping(view *blocks.Gripping, m *move.Move) {
	view.Target = v.targets.text(&m.Target)
}
