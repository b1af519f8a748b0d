// Package nest turns the entries of a plan into nested loops: the statements
// that a person would write by hand for the same job. It is for package loops what
// package expand is for package move: it knows nothing of text, and its statements
// come one at a time.
//
// Where one nest of loops gives the slots of a stop (nest.go), a source leads, or a
// destination where the source is a feeder's only slot, and a destination of the same
// shape uses the same counters. The slots of any other stop are written into a list
// first, and the k-th part uses item k (entry.go).
//
// What is done at a slot is a routine, one for all that is alike (book.go); which
// routines an entry calls, and in which groups of parts, is settled first (job.go).
package nest
