package arm

// factored is a solver of arms whose singular places have words.
type factored interface {
	// factors are those of the arm's singular places, in the order shoulder, elbow, wrist: what becomes 0
	// there, and has another sign on either side. NaN stands for one that such an arm does not have.
	factors(r Readings) [3]float64
}

// Factors tells how far readings are from the arm's singular places, and on which side: of the shoulder in
// mm, of elbow and wrist as sines. It is false for an arm that has no words for them.
func (a *Arm) Factors(r Readings) (f [3]float64, ok bool) {
	s, ok := a.solver.(factored)
	if !ok {
		return f, false
	}
	return s.factors(r), true
}
