// Package resume works out the rest of a job after a stop: what has to stand
// where before a transfer can begin, whether what somebody found agrees with that,
// and how the rest of the move list starts.
package resume
