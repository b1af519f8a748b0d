// Package golden holds the recorded results: for every plan of testdata/demo its
// moves, its findings and its program in every shipped family, and for every
// plan of testdata/bad the messages. The tests run the command in process and
// compare; "go test ./golden -update" records, after the proof of package goldens.
//
// Here are also the tests of the project as a whole: every kind of move is
// reached, every rule is broken by some bad plan, every package imports only what
// it may.
package golden
