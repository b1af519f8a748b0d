// Package timing estimates how long a list of moves takes, in seconds.
//
// The model, in four sentences. A motion follows the straight line between its
// ends, its speed climbing to the written speed and falling again within the
// machine's acceleration (trapezoid, or triangle where the way is short) and,
// where it is known, its jerk (double S). A turn shares the motion's one time
// law, so whichever of the two needs longer slows the other one down. A fly-by
// is passed on a parabola that touches both lines inside the fly-by's radius, at
// the highest speed that the acceleration allows on it (the linear segments with
// parabolic blends of Craig, Introduction to Robotics, ch. 7; from memory).
// Dwells are added; a wait for an input is unknown and counts as zero.
//
// Where the arm is known, its joints share that time law, too, each with its own speed and
// acceleration, and a travel's way is theirs: see Joints.
//
// Every report lists what the estimate leaves out: see Report.LeftOut.
package timing
