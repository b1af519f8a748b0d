// Package family loads a family: a folder of rules and templates that writes
// the program text one kind of controller reads.
//
// Load reads the rules (rules.go and one file for each concept), parses the
// templates, and lints them against the views that they will be given
// (views.go) before anything runs. A Printer then runs one block after another.
//
// A template is somebody else's text, and so are the titles and names in a
// plan. Two constructions keep both within bounds, whatever a template says:
//
//   - free text from a plan is a Text, which no function turns into a string;
//     it comes out as a comment in the family's own form or, through the
//     function name, as an identifier (contain.go);
//   - templates reach no files, clock, environment or random numbers, cannot call
//     themselves, and every loop and every result is counted (printer.go).
package family
