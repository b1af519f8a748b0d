package ynode

import "gridferry/plan/diag"

// maxMarks bounds what the library builds from a file: every value in it costs some 200 bytes, and 16 MiB of "[a,a,a" would be
// eight million values. A hundred thousand transfers, a line each, have 600,000 marks; a million marks take 700 MB at most.
const maxMarks = 1_000_000

// fewerHint is for files that say at length what can be said briefly.
const fewerHint = "write slots as rectangles (\"A1:F20\"), and entries of transfers that differ only in their slots as one entry"

// checkMarks counts what separates values: commas, opening brackets, line ends, the ":" behind a key and the "-" before an
// entry. No text has more than about two values for each of them. Those inside of quotes and remarks are counted, too: to tell
// them apart would be to read the file.
func checkMarks(file, text string, list *diag.List) bool {
	if len(text) <= maxMarks {
		return true
	}
	marks := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case ',', '[', '{', '\n', '\r':
			marks++
		case ':', '-', '?':
			if i+1 < len(text) && (text[i+1] == ' ' || text[i+1] == '\t') {
				marks++
			}
		}
		if marks > maxMarks {
			list.Errorf("too-many-values", newSource(file, text[:i+1], 0).atOffset(i), "up to here the file has more than %d lines, commas, colons, dashes and opening brackets, too many to be read", maxMarks).
				WithHint("%s", fewerHint)
			return false
		}
	}
	return true
}
