// Package readback reads program text back to moves, by what the family itself
// says about its lines ("reads" in family.yaml), and compares them with the
// move list.
//
// A Reader turns lines into items: numbers and comments taken off, the first
// entry that fits, its fields as values (reader.go, clean.go, parser.go, value.go).
// Values that a line leaves out hold on from before (state.go). A Checker walks the
// move list beside a program that is being written and says where they part
// (check.go, expect.go, want.go); what lines say by their words alone can be read
// ahead on other cores (ahead.go). A Comparison aligns a program from elsewhere with
// the one that would be written now and tells what differs (compare.go, align.go).
//
// The package shares no code with gen/render but the rules: what a family's
// units, decimals, comment marks and names are.
package readback
