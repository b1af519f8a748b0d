package family

import (
	"slices"

	"gridferry/plan/decode"
)

// readChoice reads one of a few words and keeps what it stands for.
func readChoice[T any](r *decode.Reader, dst *T, words []string, values []T) func(decode.Node) {
	return func(n decode.Node) {
		var word decode.Value[string]
		r.OneOf(&word, words...)(n)
		if i := slices.Index(words, word.V); i >= 0 {
			*dst = values[i]
		}
	}
}
