package gen

import (
	"slices"
	"strings"

	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/digest"
	"gridferry/plan/lazy"
)

// needless is a word in quotes that would be the same text without them: it begins with a
// letter, and is none of those that mean something else then.
var needless = lazy.Regexp(`(=|[\[{,] ?|: )(?:"([A-Za-z][A-Za-z0-9_.-]*(?::[A-Za-z0-9_.-]+)*)"|'([A-Za-z][A-Za-z0-9_.-]*(?::[A-Za-z0-9_.-]+)*)')([\]},]|$)`)

// aText is a setting whose whole value is a text of several words, in quotes.
var aText = lazy.Regexp(`^([^=]*=)(?:"([A-Za-z][^"\\]* [^"\\]*)"|'([A-Za-z][^'\\]* [^'\\]*)')$`)

// unquoted is a setting without needless quotes: a variants file and "--set" may write one
// value in two ways.
func unquoted(setting string) string {
	if aText().MatchString(setting) {
		return aText().ReplaceAllString(setting, "$1$2$3") // quotes inside of it belong to it
	}
	for {
		next := needless().ReplaceAllStringFunc(setting, func(quoted string) string {
			m := needless().FindStringSubmatch(quoted)
			word := m[2] + m[3]
			switch strings.ToLower(word) {
			case "null", "true", "false", "on", "off", "yes", "no", "y", "n":
				return quoted
			}
			return m[1] + word + m[4]
		})
		if next == setting {
			return setting
		}
		setting = next
	}
}

// digestOf is the digest of all that was read for a plan: the plan itself, the
// cell, files of measured values and what flags changed, wherever the files
// lie.
func digestOf(sources *diag.Sources) string {
	var parts []string
	for file, text := range sources.All() {
		text = digest.Lines(text)
		if plan.IsSetting(file) {
			text = plan.SettingText(file, unquoted(text))
		}
		parts = append(parts, digest.Of(text))
	}
	slices.Sort(parts)
	return digest.Half(strings.Join(parts, "\n"))
}
