package ynode

import (
	"strings"

	"gridferry/plan/diag"
)

// checkDirectives refuses tag directives (YAML 1.2, section 6.8.2). There is no use for them where tags have no meaning, and
// the library takes time with the square of their number.
func checkDirectives(src *source, list *diag.List) bool {
	for i := range src.lines {
		if strings.HasPrefix(src.line(i), "%TAG") {
			list.Errorf("custom-tag", src.at(i+1, 1, 4), "tags have no meaning here").WithHint("leave the line out")
			return false
		}
	}
	return true
}
