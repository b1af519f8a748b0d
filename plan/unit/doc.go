// Package unit reads quantities: "2.5 in", "400 ms", "0.25 m/s", "90".
//
// A quantity is converted to the internal unit of its dimension once, when it is read; from there on it is a plain float64. A bare
// number is in the internal unit already. What YAML readers read differently (017, 1_000, 0x10, 12:30) is refused, never guessed.
package unit
