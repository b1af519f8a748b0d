// Package compare reports in what two jobs differ, whichever form they come in: two
// plans, a plan and a program, two programs.
//
// Both sides become steps (step.go, program.go) and steps become transfers
// (group.go). A first pass keeps of every transfer where its part comes from and
// goes to, some sixty bytes, and lays the transfers of both sides beside each other
// by that (align.go), so that one that was put in does not make all after it
// differ. A second pass holds the pairs to each other step by step (pair.go), a
// transfer at a time, and folds what differs alike into one line (report.go).
// Neither side is ever held as a whole.
package compare
