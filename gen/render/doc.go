// Package render writes a program: the moves of a job through the blocks of a
// family, in order.
//
// The list is cut into chunks (chunk.go), which workers on every core write: a move
// becomes a view of ready-made texts (views.go), and the family's block makes words
// of it (worker.go). The pass over the list takes the chunks back in order
// (pool.go). Their lines are numbered, measured and ended as the family says
// (finish.go), by the workers where lines have no numbers, and go into files
// (lines.go). The result is the same on any number of cores, and neither the
// moves nor the program are ever held as a whole.
package render
