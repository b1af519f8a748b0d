// Package reads is what reads: the entries under "reads" in family.yaml, each a pattern
// or the columns of a row, the fields that lines carry (fields.go), and how they are
// found in a line without a search (scan.go).
package reads
