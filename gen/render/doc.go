// Package render writes a program: the moves of a job through the blocks of a
// family, in order, one at a time.
//
// A move becomes a view of ready-made texts (views.go), the family's block
// makes words of it, and the lines are numbered, measured and ended as the
// family says (lines.go). Neither the moves nor the program are ever held as a
// whole.
package render
