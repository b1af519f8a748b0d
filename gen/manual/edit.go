package manual

import (
	"fmt"
	"strings"
)

// in is the example in which a piece of one line of ExamplePlan is another. A test makes every example,
// so that a piece that is not there, or there twice, shows at once.
func in(was, is string) Example { return swapped(ExamplePlan, was, is) }

// swapped is a change to the one line of a text that has a piece.
func swapped(text, was, is string) Example {
	line := ""
	for l := range strings.Lines(text) {
		if strings.Contains(l, was) {
			if line != "" {
				panic(fmt.Sprintf("%q stands in two lines", was))
			}
			line = l
		}
	}
	if line == "" {
		panic(fmt.Sprintf("%q stands in no line", was))
	}
	return "-" + Example(line) + "+" + Example(strings.ReplaceAll(strings.TrimSuffix(strings.Replace(line, was, is, 1), "\n"), "\n", "\n+")) + "\n"
}

// beside is a file that an example has beside its plan.
func beside(name, text string) Example {
	return Example("== " + name + "\n+" + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n+") + "\n")
}

// inFamily is a change to a file of the family that examples of families begin with.
func inFamily(file, was, is string) Example {
	return Example("== "+familyFolder+file+"\n") + swapped(starterFile(file), was, is)
}
