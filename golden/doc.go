// Package golden holds what must come out: for every plan of testdata/demo its
// moves, its findings and its program in every shipped family, and for every
// plan of testdata/bad what a person reads. The tests run the command in
// process and compare; "go test ./golden -update" proves first, then records.
//
// Beside the comparison stand the tests of things that hold for the project as
// a whole: every kind of move is reached, every rule is broken by some bad
// plan, every package imports only what it may.
package golden
