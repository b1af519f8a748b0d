// Package compare reports how two jobs differ: two plans, a plan and a program, or
// two programs.
//
// Both sides become steps (step.go, program.go) and steps become transfers
// (group.go), those of parts that are carried at once each its own (haul.go). A first pass keeps of every transfer where its part comes from and
// goes to, some sixty bytes, and pairs the transfers of both sides by that
// (align.go), so that one that was added does not make all after it differ. A
// second pass compares the pairs step by step (pair.go), one load of the tool at a time, and
// folds equal differences into one line (report.go). Neither side is ever held as
// a whole.
package compare
