// Package fit turns points that were touched into frames, tool centres and grids:
// always the answer together with what it is worth.
//
//   - [ThreePoints]: a frame from its origin, a point along X, a point toward Y
//   - [BestFit]: a frame from three or more points whose places in it are known
//   - [LeaveOneOut], [LeaveOneOutPose]: which one point or pose spoils a fit
//   - [Pivot]: the tool centre point, from poses that hold the tip on one spot
//   - [Corners]: the places of a grid, from three or four of its corners
//
// Lengths are millimetres, angles degrees, indices count from 0. Points that
// cannot carry an answer are refused with an [Error], which holds the figures and
// the indices and knows what to touch next.
//
// Best fits and tool centres rest on gonum's singular values, whose sums run in
// another order on other processors: their last bits may differ, so round them
// before they are printed. The other answers are the same to the last bit.
package fit
