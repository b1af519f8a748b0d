// Package goldens compares programs with recorded ones: the comparison, which gives a
// diff; the proof, without which nothing is recorded; and the folders in which a team
// keeps its cases.
//
// The tests of Gridferry's own corpus use the same comparison and proof.
package goldens
