package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// longestNumber is how many characters a number may have. Seventeen digits say all that a float64 can hold.
const longestNumber = 100

// ParseNumber reads a plain decimal number without a unit. The result is finite; the error is always an *Error.
func ParseNumber(text string) (float64, error) {
	number, symbol, err := split(text, "a number")
	if err != nil {
		return 0, err.hinted("write a number in decimal digits, such as 1.5")
	}
	if symbol != "" {
		return 0, fault(NotANumber, text, "leave out what follows the number", "is not a plain number: %s follows the number", quote(symbol))
	}
	value, err := toFloat(text, number)
	return value, orNil(err)
}

// orNil keeps a nil *Error from becoming an error that is not nil.
func orNil(err *Error) error {
	if err == nil {
		return nil
	}
	return err
}

// split parts a quantity into its number and its unit symbol, "" if there is none. wanted names what the reader hoped for.
func split(text, wanted string) (number, symbol string, err *Error) {
	trimmed := strings.TrimSpace(text)
	if isNotFinite(trimmed) {
		return "", "", fault(NotFinite, text, "", "is not a finite number, wanted %s", wanted)
	}
	if hint, odd := ambiguous(trimmed); odd {
		return "", "", fault(Ambiguous, text, hint, "can be read as more than one number, wanted %s", wanted)
	}
	n := numberLength(trimmed)
	if n == 0 {
		return "", "", fault(NotANumber, text, numberHint(trimmed), "is not a number, wanted %s", wanted)
	}
	symbol = strings.TrimSpace(trimmed[n:])
	if goesOn(symbol) {
		return "", "", fault(Ambiguous, text, "write one number, with a decimal point", "can be read as more than one number, wanted %s", wanted)
	}
	return trimmed[:n], symbol, nil
}

// goesOn recognises more of a number after the number: "1.000,5", "1.5 000".
func goesOn(symbol string) bool {
	return symbol != "" && (isDigit(symbol[0]) || strings.ContainsRune(",.:_'", rune(symbol[0])))
}

func toFloat(text, number string) (float64, *Error) {
	value, err := strconv.ParseFloat(number, 64)
	if math.IsInf(value, 0) {
		return 0, tooBig(text)
	}
	if err != nil {
		return 0, fault(NotANumber, text, "", "is not a number")
	}
	return value + 0, nil // + 0 makes a negative zero a plain one
}

func tooBig(text string) *Error {
	return fault(NotFinite, text, "", "is bigger than any number that can be computed with")
}

// isNotFinite recognises the spellings of YAML, JSON's neighbours and Go: nan, .NaN, inf, -.Inf, infinity.
func isNotFinite(text string) bool {
	word := strings.ToLower(strings.TrimLeft(text, "+-"))
	switch strings.TrimPrefix(word, ".") {
	case "nan", "inf", "infinity":
		return true
	}
	return false
}

// numberLength is the length of the decimal number that text begins with, 0 for none: a sign, digits with a point before,
// between or after them, and an exponent.
func numberLength(text string) int {
	i := signLength(text)
	whole := digitsLength(text[i:])
	i += whole
	fraction := 0
	if strings.HasPrefix(text[i:], ".") {
		fraction = digitsLength(text[i+1:])
		i += 1 + fraction
	}
	if whole+fraction == 0 {
		return 0
	}
	return i + exponentLength(text[i:])
}

// exponentLength is 0 unless a whole exponent stands there, so that "5 em" has a unit and not half an exponent.
func exponentLength(text string) int {
	if text == "" || text[0] != 'e' && text[0] != 'E' {
		return 0
	}
	sign := signLength(text[1:])
	digits := digitsLength(text[1+sign:])
	if digits == 0 {
		return 0
	}
	return 1 + sign + digits
}

func signLength(text string) int {
	if text != "" && (text[0] == '+' || text[0] == '-') {
		return 1
	}
	return 0
}

func digitsLength(text string) int {
	n := 0
	for n < len(text) && isDigit(text[n]) {
		n++
	}
	return n
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// ambiguous recognises numbers on which readers disagree: octal or decimal, grouped digits, other bases, base sixty, a comma
// that may be a decimal point. The hint says how to write it plainly.
func ambiguous(text string) (hint string, odd bool) {
	unsigned := text[signLength(text):]
	n := digitsLength(unsigned)
	if n == 0 {
		return "", false
	}
	digits, rest := unsigned[:n], []rune(unsigned[n:])
	follows := func(i int, ok func(rune) bool) bool { return i < len(rest) && ok(rest[i]) }
	switch {
	case digits == "0" && follows(0, isBase) && follows(1, isHex):
		return "write it in plain decimal digits", true
	case len(digits) > 1 && digits[0] == '0':
		return "leave out the leading zero", true
	case follows(0, isComma) && follows(1, unicode.IsDigit):
		return `write a decimal point ("1.5"), and no mark between thousands`, true
	case follows(0, isGrouping) && follows(1, unicode.IsDigit):
		return "write the digits without anything between them", true
	case follows(0, isColon) && follows(1, unicode.IsDigit):
		return "write one number in one unit", true
	}
	return "", false
}

func isBase(r rune) bool { return strings.ContainsRune("xXoObB", r) }

func isHex(r rune) bool { return r < 0x80 && strings.ContainsRune("0123456789abcdefABCDEF", r) }

func isComma(r rune) bool { return r == ',' }

func isColon(r rune) bool { return r == ':' }

func isGrouping(r rune) bool { return r == '_' || r == '\'' || r == '’' || unicode.IsSpace(r) }

// numberHint says what may have gone wrong with a text that does not begin with a number.
func numberHint(text string) string {
	if text != "" && strings.ContainsRune("−–—", []rune(text)[0]) {
		return `write the minus sign as "-"`
	}
	return ""
}
