// Package scene is what a viewer in three dimensions shows of a job, as data: what stands where, who moves
// it, and every move with where the tool is behind it. The sheet and the live page have the same viewer
// and so the same data.
//
// Lengths are mm in the base and angles degrees, but for figures that say otherwise; a quaternion is
// [w, x, y, z]. Figures are rounded where they become text: lengths to a thousandth, quaternions to a
// millionth, readings of joints to a ten-thousandth.
package scene
