package unit

import (
	"math"
	"strconv"
	"strings"
)

// ParseWhole reads a whole number written as decimal digits, with a minus sign or without. The error is always an *Error.
func ParseWhole(text string) (int, error) {
	trimmed := strings.TrimSpace(text)
	if hint, odd := ambiguous(trimmed); odd {
		if strings.ContainsRune(trimmed, ',') {
			hint = "write a whole number in decimal digits, with no mark between them, such as 4"
		}
		return 0, fault(Ambiguous, text, hint, "can be read as more than one number, wanted a whole number")
	}
	digits := strings.TrimPrefix(trimmed, "-")
	if digits == "" || digitsLength(digits) != len(digits) {
		return 0, fault(NotWhole, text, wholeHint(trimmed), "is not a whole number")
	}
	n, err := strconv.Atoi(trimmed)
	if err != nil {
		return 0, fault(NotWhole, text, "", "is bigger than any whole number that can be computed with")
	}
	return n, nil
}

// wholeHint offers the whole number that a text such as "4.0", "1e3" or "+5" stands for.
func wholeHint(text string) string {
	value, err := ParseNumber(text)
	if err != nil || value != math.Trunc(value) || math.Abs(value) > 1e15 {
		return "write a whole number in decimal digits, such as 4"
	}
	return "write " + strconv.FormatFloat(value, 'f', -1, 64)
}
