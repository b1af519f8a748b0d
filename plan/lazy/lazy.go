// Package lazy makes what costs time only once it is asked for: a command needs little of all that there is.
package lazy

import (
	"regexp"
	"sync"
)

// Regexp compiles an expression when it is first asked for. One that is wrong panics then.
func Regexp(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}
