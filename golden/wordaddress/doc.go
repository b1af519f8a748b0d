// Package wordaddress reads and runs word-address program text (ISO 6983-1,
// also called RS274) so that tests can check what a family writes.
//
// The grammar and the meanings come from T. Kramer, F. Proctor and
// E. Messina, "The NIST RS274NGC Interpreter - Version 3", NISTIR 6556, 2000;
// every error names the clause that it breaks. The package knows nothing of
// how programs are made.
//
// Two stages: [Read] turns text into blocks and holds it to the grammar;
// [Run] turns blocks into what the machine would do, in the order of Table 8.
//
// The reader is stricter than the language in one place: parameters (#1) and
// expressions ([1+2]) are refused. Nothing is ever skipped.
package wordaddress
