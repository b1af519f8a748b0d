// Package rules is what family.yaml says about a program's text, wording aside: how
// figures are rounded and formatted (figures.go, numbers.go, units.go), how comments, names
// and files are spelled, how lines are numbered and coded. A family writes and reads by
// the same rules.
package rules
