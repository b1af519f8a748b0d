// Package measure works out frames, tool centres and grids from touched points as
// they are written, with their names and places. It asks package fit for the answer,
// keeps the residuals beside it, and says how far it can be trusted.
//
// There are two kinds of findings. Points that give no answer are reported at once,
// to the list that the caller gives. How far an answer can be trusted is returned by
// Judge, as verdicts, for the check of a plan or for the command that works out a
// single answer.
package measure
