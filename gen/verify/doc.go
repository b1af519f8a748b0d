// Package verify is the offline report: a program from elsewhere is laid beside the one
// that would be written now, and every difference is reported with its line and move.
// Package readback is the online check, of a program that is being written; what would
// be written now goes through it here, too.
//
// A Comparison reads both (compare.go), aligns their lines (align.go), and folds what
// differs into a Report (report.go).
package verify
