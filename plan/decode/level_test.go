package decode_test

import (
	"strings"
	"testing"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// TestLevels: "on" and "off" are read from their letters, and nothing else is
// taken for one of them or offered in its place: "no" must not become "on".
func TestLevels(t *testing.T) {
	for text, want := range map[string]string{
		"on": "on", "off": "off", "'on'": "on",
		"no": "refused", "yes": "refused", "true": "refused", "On": "refused", "1": "refused", "[on]": "refused", "null": "refused", "onn": "refused",
	} {
		var list diag.List
		root, ok := decode.File("f", text+"\n", &list)
		var level decode.Value[bool]
		got := "refused"
		if ok {
			decode.Level(&level).Read(&decode.Reader{List: &list}, root)
		}
		if level.IsSet() {
			got = map[bool]string{true: "on", false: "off"}[level.V]
		}
		if got != want || (want == "refused") != list.HasErrors() {
			t.Errorf("%s is %s, wanted %s; %v", text, got, want, list.Sorted())
		}
		for _, f := range list.Sorted() {
			if strings.Contains(f.Hint, "did you mean") {
				t.Errorf("%s: the hint guesses: %s", text, f.Hint)
			}
		}
	}
}
