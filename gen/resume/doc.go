// Package resume prepares a resumed job, which is what remains of a job after a
// stop: what has to stand where before its first transfer, whether that agrees with
// what somebody found in the slots, and where its list of moves begins.
package resume
