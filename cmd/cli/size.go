package cli

import (
	"fmt"
	"strconv"
	"strings"
)

// size is a number of bytes, written 1500, 64KB, 20MB or 4GB; a KB is 1000 bytes.
type size int64

var sizeUnits = []struct {
	end   string
	bytes int64
}{{"GB", 1e9}, {"MB", 1e6}, {"KB", 1e3}, {"B", 1}, {"", 1}}

// String is the size in bytes, as the help shows it.
func (s *size) String() string { return strconv.FormatInt(int64(*s), 10) }

// Type is what the help calls the value.
func (s *size) Type() string { return "SIZE" }

// Set reads a size.
func (s *size) Set(text string) error {
	for _, u := range sizeUnits {
		digits, ok := strings.CutSuffix(strings.ToUpper(text), u.end)
		if !ok {
			continue
		}
		n, err := strconv.ParseInt(strings.TrimSpace(digits), 10, 64)
		if err != nil || n < 1 || n > 1e12/u.bytes {
			break
		}
		*s = size(n * u.bytes)
		return nil
	}
	return fmt.Errorf("found %q, wanted a size from 1 byte to 1000GB, such as 64MB", text)
}
