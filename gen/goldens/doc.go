// Package goldens holds what comes out to what was read and recorded: the
// comparison with a real diff, the proof without which nothing is recorded, and
// the case folders in which a team keeps its own.
//
// The tests of Gridferry's own corpus use the same comparison and proof.
package goldens
