package out

import (
	"errors"
	"fmt"
	"syscall"
)

// full is what systems say when nothing more fits.
var full = []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG}

// errAdvised keeps advice from being given twice.
type errAdvised struct{ error }

func (e errAdvised) Unwrap() error { return e.error }

// advised adds to an error what to do about it, where that is known.
func advised(err error) error {
	var before errAdvised
	if errors.As(err, &before) {
		return err
	}
	for _, f := range full {
		if errors.Is(err, f) {
			return errAdvised{fmt.Errorf("%w: there is no room for the new file; the old ones stand as they were: make room and run the command again", err)}
		}
	}
	return err
}
