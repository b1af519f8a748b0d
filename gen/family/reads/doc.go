// Package reads is what reads: how a family's own lines read ("reads" in family.yaml),
// and program text read so.
//
// The entries (reads.go, entry.go) are patterns or the columns of a row, with the fields
// that such lines carry (fields.go, about.go); most patterns are found in a line without
// a search (scan.go). A Reader turns lines into items: numbers and comments taken off,
// the first entry that fits, its fields as values (reader.go, clean.go, parser.go,
// value.go). Values that a line leaves out are those of a line before (modal.go). What
// lines say by their words alone can be read ahead on other cores (ahead.go).
package reads
