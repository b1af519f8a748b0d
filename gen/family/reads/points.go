package reads

// aPoint is how a motion names an entry of the table of points.
var aPoint = SetOf(Point, PointNumber)

// points is the table of points as far as it was read.
type points struct {
	byName   map[string]*Values
	byNumber map[float64]*Values
}

// keep adds an entry.
func (p *points) keep(v *Values) {
	if p.byName == nil {
		p.byName, p.byNumber = map[string]*Values{}, map[float64]*Values{}
	}
	entry := *v
	p.byNumber[v.Number[Number]] = &entry
	if v.Has.Has(Point) {
		p.byName[v.Point] = &entry
	}
}

// fill gives a motion what the entry that it names says; false where no line before it
// holds that entry.
func (p *points) fill(v *Values) bool {
	entry, known := p.byNumber[v.Number[PointNumber]]
	if v.Has.Has(Point) {
		entry, known = p.byName[v.Point]
	}
	if !known {
		return false
	}
	for rest := entry.Has & (Pose | Posture | SetOf(Frame)) &^ v.Has; rest != 0; rest &= rest - 1 {
		v.Set(rest.First(), entry.Number[rest.First()])
	}
	return true
}
