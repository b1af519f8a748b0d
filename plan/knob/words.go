package knob

import "strings"

// things is what each table or list holds one of.
var things = map[string]string{
	"parts": "part", "grids": "grid", "tools": "tool", "frames": "frame", "poses": "pose", "keep_out": "keep-out box", "transfers": "transfer",
}

// named is what a figure is of and what it is called there, from the path to it. of is its name
// where it is one of several in a list.
func named(path []string, of string) (group, name string) {
	group, rest := path[0], path[1:]
	if thing := things[group]; thing != "" && len(rest) > 1 {
		group, rest = thing+" "+rest[0], rest[1:]
	}
	if len(rest) == 0 {
		return group, spoken(path[0])
	}
	if of != "" {
		rest = append(rest[:len(rest)-1:len(rest)-1], of)
	}
	return spoken(group), spoken(strings.Join(rest, " "))
}

// spoken is a key as a word.
func spoken(key string) string { return strings.ReplaceAll(key, "_", " ") }
