// Package explain says which line of the plan made which moves, which moves made
// which lines of the program, and why each of them is there.
//
// A Tracer writes the program and gives the lines of each move; trace.go joins
// the two in one pass. A query is about a subject (subject.go): a thing in the plan
// or cell and the moves that depend on it. A Report keeps what people need to see of
// that, with repeats folded (fold.go); it is as large as what it shows, not as the
// job. It is printed as text (text.go) or as a page (page.go). Data for programs is
// not folded and is streamed (json.go).
package explain
