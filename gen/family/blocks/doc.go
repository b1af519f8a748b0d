// Package blocks is what writes: a family's templates, ready to print.
//
// Source.Compile parses them (parse.go) and lints them against the views that they will
// be given (lint.go, views.go), before anything runs. A Printer then runs one block
// after another (printer.go); those that only print take a short way (direct.go).
//
// A template is somebody else's text, and so are the titles and names in a
// plan. Two constructions keep both in bounds, whatever a template says:
//
//   - free text from a plan is a Text, which no function turns into a string;
//     it comes out as a comment in the family's own form or, through the
//     function name, as an identifier (contain.go);
//   - templates reach no files, clock, environment or random numbers, cannot call
//     themselves, and every loop and every result is counted (printer.go).
package blocks
