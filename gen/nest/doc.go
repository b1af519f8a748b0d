// Package nest turns the entries of a plan into nested loops: the statements
// that a person would write by hand for the same job. It is to package loops what
// package expand is to package move: it knows nothing of text, and its statements
// come one at a time.
//
// A stop's slots are a nest of loops where one nest says them (nest.go); a
// source then leads, and a goal of the same shape goes along with its counters.
// Every other stop is written down in a list first, and the k-th part uses the
// k-th entry (entry.go).
package nest
