// Package unit reads quantities: "2.5 in", "400 ms", "0.25 m/s", "90".
//
// A quantity is turned into its dimension's base unit once, on the way in; from there on it is a plain float64. A bare number is
// already in the base unit. What YAML readers disagree on (017, 1_000, 0x10, 12:30) is refused and never guessed at.
package unit
