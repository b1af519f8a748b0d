package timing

// run is the legs between two stops of the arm.
type run struct {
	machine Machine
	legs    []leg
	corners []corner // one more than legs: the stops at both ends are corners too
}

// settle gives each leg its time; a fly-by counts half to either side. Where the
// jerk or a turn makes all its fly-bys together slower than stopping at the corners
// would be, it stops.
func (r *run) settle() {
	r.meet()
	flying, stopping := 0.0, 0.0
	from := passage{}
	for i := range r.legs {
		l, to := &r.legs[i], r.corners[i+1].passage()
		l.seconds = l.between(&from, &to)
		l.alone = l.seconds
		if from.out > 0 || to.in > 0 {
			l.alone = l.between(&passage{}, &passage{})
		}
		flying, stopping = flying+l.seconds, stopping+l.alone
		from = to
	}
	if stopping < flying {
		for i := range r.legs {
			r.legs[i].seconds = r.legs[i].alone
		}
	}
}

// between is the leg's time from inside one corner to inside the next.
func (l *leg) between(from, to *passage) float64 {
	p := Between(l.way()-from.after-to.before, from.out, to.in, l.limits)
	return p.Seconds() + from.seconds/2 + to.seconds/2
}

// meet settles how fast every corner is passed.
func (r *run) meet() {
	r.corners = append(r.corners[:0], corner{})
	for i := range len(r.legs) - 1 {
		r.corners = append(r.corners, r.machine.cornerOf(&r.legs[i], &r.legs[i+1]))
	}
	r.corners = append(r.corners, corner{})
	r.lookBack()
	r.lookAhead()
}

// lookBack lowers corners from which the arm could not brake down to the next
// one in time.
func (r *run) lookBack() {
	for i := len(r.legs) - 1; i > 0; i-- {
		c := &r.corners[i]
		if most := r.legs[i].limits.reach(r.between(i), r.corners[i+1].in()); c.out() > most {
			c.ceiling = most
		}
	}
}

// lookAhead lowers corners whose speed the arm could not reach in time.
func (r *run) lookAhead() {
	for i := range r.legs {
		c := &r.corners[i+1]
		if most := r.legs[i].limits.reach(r.between(i), r.corners[i].out()); c.in() > most {
			c.ceiling = most
		}
	}
}

// between is the least of leg i that is left between its fly-bys. A fly-by that
// is passed more slowly may reach further from its corner, up to the radius.
func (r *run) between(i int) float64 {
	return max(0, r.legs[i].way()-r.corners[i].radius-r.corners[i+1].radius)
}
