package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// choice is a flag with one of a few words.
type choice struct {
	word  *string
	words []string
}

// addChoice adds such a flag; the first word is the default.
func addChoice(flags *pflag.FlagSet, word *string, name, usage string, words ...string) {
	*word = words[0]
	flags.Var(&choice{word, words}, name, usage)
}

// addFormat adds --format.
func addFormat(c *cobra.Command, format *string, what string, words ...string) {
	last := len(words) - 1
	addChoice(c.Flags(), format, "format", what+" as "+strings.Join(words[:last], ", ")+" or "+words[last], words...)
}

// String is the word.
func (c *choice) String() string { return *c.word }

// Set wants one of the words.
func (c *choice) Set(word string) error {
	*c.word = word
	return oneOf(word, c.words...)
}

// Type is the name of the value in the help.
func (c *choice) Type() string { return "string" }

// wanted is an error that says what a flag or an argument should be.
type wanted string

func (w wanted) Error() string { return string(w) }

// oneOf refuses other words.
func oneOf(word string, words ...string) error {
	if slices.Contains(words, word) {
		return nil
	}
	return wanted("one of " + strings.Join(words, ", "))
}
