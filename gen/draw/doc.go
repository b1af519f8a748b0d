// Package draw makes pictures of a job: the cell from above and from the side,
// to scale, with what every grid holds and the path of the tool centre point.
//
// A picture is an SVG document (SVG 1.1, of which SVG 2 keeps all that is used
// here). Its user unit is one millimetre of paper, so that the scale it states
// holds where it is printed at its own size. Line types follow ISO 128: thick
// lines for what is seen, thin ones for what is free or helps to read, dashed for
// what is hidden, chain lines for centre lines and trajectories, and chain lines
// with two dots for the limits that a moving thing reaches.
//
// Every view states how it was drawn, for people in its caption and for programs
// in the attributes of its group: data-right, data-up (directions in the base),
// data-scale (paper mm for one mm of the cell) and data-origin (where on the paper
// the base's origin lies). A point p of the base is drawn at
//
//	x = origin.x + scale·(right·p)    y = origin.y − scale·(up·p)
package draw
