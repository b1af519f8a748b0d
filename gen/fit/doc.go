// Package fit works out frames, tool centres and grids from touched points: always
// the answer together with how far it can be trusted.
//
//   - [ThreePoints]: a frame from its origin, a point along X, a point toward Y
//   - [BestFit]: a frame from three or more points whose places in it are known
//   - [LeaveOneOut], [LeaveOneOutPose]: which one point or pose spoils a fit
//   - [Pivot]: the tool centre point, from poses that hold the tip on one point
//   - [Corners]: the places of a grid, from three or four of its corners
//
// Lengths are millimetres, angles degrees, indices count from 0. Points that
// give no answer are refused with an [Error], which holds the values, the indices
// and what to touch next.
//
// Best fits and tool centres use gonum's singular values, whose sums run in
// another order on other processors: their last bits may differ, so round them
// before they are printed. The other answers are the same to the last bit.
package fit
