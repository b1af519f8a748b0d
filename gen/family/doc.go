// Package family loads a family: a folder of rules and templates that writes
// the program text one kind of controller reads.
//
// Load compiles it once, into what writes (package blocks) and what reads (package
// reads), both by the same rules (package rules). Package render uses the one,
// package readback the other; neither comes back here.
package family
