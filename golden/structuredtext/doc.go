// Package structuredtext reads, checks and runs IEC 61131-3 Structured Text
// programs, so that tests can check what a family writes.
//
// The productions and tables are those of IEC 61131-3, edition 3 (2013), as
// far as open sources quote them; the motion function blocks are those of
// PLCopen Motion Control Part 4, V1.0 (2008), and their execution rules those of
// Part 1, V2.0 (2011), section 2. The package knows nothing of how programs are
// made.
//
// The stages, each usable alone:
//
//	Parse       text to Program: the syntax
//	Check       Program: names, types, block inputs, ranges
//	Portable    text: the subset that different tools read alike
//	Motion      Program: every motion block can see its rising edge again
//	NewMachine  Program to a Machine that executes it scan by scan
//
// The parser is written by hand and not with a parser library: the lexical
// rules (1..5 against 1.5, doubled underscores, ordered units in durations, no
// nested comments) need a scanner of their own, after which the grammar is a
// page of recursive descent.
package structuredtext
