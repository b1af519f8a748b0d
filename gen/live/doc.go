// Package live serves the live page: a page on this computer that follows a plan while it is edited, in any editor or
// on the page itself.
//
// Texts become a reading (reading.go), a reading becomes a result (results.go), what the disk says is followed
// (follow.go, watch.go) and told to the pages (pages.go). gate.go says who may ask, answers.go what; save.go is the only way to
// the disk. What a plan means is asked of a Flow, which package gen gives.
package live
