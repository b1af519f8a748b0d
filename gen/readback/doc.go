// Package readback is the online check: a program is read back while it is being
// written, and held to the move list line by line. Package verify makes the offline
// report, of a program from elsewhere.
//
// A Checker walks the list beside the lines that package reads makes items of and
// reports where they part (check.go, expect.go), at the place in the templates that is
// to blame (blame.go). What is the same is for a Judge to say (judge.go), and for the
// entries of the frames and tools (tables.go); the offline report asks the same.
//
// Nothing here shares code with gen/render but the rules: what a family's units,
// decimals, comment marks and names are.
package readback
