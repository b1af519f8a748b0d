// Package explain is the lesson: which line of the plan made which moves, which
// moves made which lines of the program, and why each of them is there.
//
// A Tracer writes the program and gives the lines of each move; trace.go joins
// the two as they come by. What is asked about is a subject (subject.go): a
// thing in the plan or cell and the moves that rest on it. A Report keeps what
// people need to see of that, with repeats folded (fold.go); it is as large as
// what it shows, not as the job. It is printed as text (text.go) or as a page
// (page.go). Data for programs is not folded and streams (json.go).
package explain
