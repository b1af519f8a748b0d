package page

import "testing"

// The digest of "alert('Hello, world.');" is the example of Content Security Policy
// Level 3, section 8.3 (from memory).
func TestPolicy(t *testing.T) {
	const hello = "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"
	for _, c := range []struct {
		script string
		styles []string
		want   string
	}{
		{"alert('Hello, world.');", []string{"", "alert('Hello, world.');"}, "default-src 'none'; style-src 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=' " + hello + "; script-src " + hello + "; base-uri 'none'; form-action 'none'"},
		{"", []string{"alert('Hello, world.');"}, "default-src 'none'; style-src " + hello + "; base-uri 'none'; form-action 'none'"},
	} {
		if got := Policy(c.script, c.styles...); got != c.want {
			t.Errorf("found %s\nwanted %s", got, c.want)
		}
	}
}
