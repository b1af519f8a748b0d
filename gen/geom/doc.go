// Package geom holds vectors, rotations and poses: pure values, no state, no errors.
//
// Lengths are millimetres and angles are degrees throughout. A rotation turns a
// point: applied to a point written in a child frame's axes it gives the same
// point along the parent's axes.
//
// Every result is the same to the last bit on every processor. For that, sums of
// products are written float64(a*b) + float64(c*d), which the Go specification
// forbids to fuse, and the angle functions are our own, since those of package
// math differ in the last bit between processors.
package geom
