// Package route finds short paths through slots: which goes with which (assignment),
// and in which order.
//
// All lengths are whole numbers, so that sums are exact and every comparison,
// and with it the answer, is the same on every machine. Random choices come from a
// generator of its own with a fixed seed, and work is bounded by counting steps,
// never by a clock.
package route
