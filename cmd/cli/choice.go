package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// choice is a flag that holds one of a few words.
type choice struct {
	word  *string
	words []string
}

// addChoice adds such a flag; where nobody gives it, it holds the first of the words.
func addChoice(flags *pflag.FlagSet, word *string, name, usage string, words ...string) {
	*word = words[0]
	flags.Var(&choice{word, words}, name, usage)
}

// addFormat asks in which form a command writes something.
func addFormat(c *cobra.Command, format *string, what string, words ...string) {
	last := len(words) - 1
	addChoice(c.Flags(), format, "format", what+" as "+strings.Join(words[:last], ", ")+" or "+words[last], words...)
}

// String is the word.
func (c *choice) String() string { return *c.word }

// Set takes one of the words.
func (c *choice) Set(word string) error {
	*c.word = word
	return oneOf(word, c.words...)
}

// Type is what the help calls the value.
func (c *choice) Type() string { return "string" }

// wanted is what a flag or an argument could have been.
type wanted string

func (w wanted) Error() string { return string(w) }

// oneOf refuses all but a few words.
func oneOf(word string, words ...string) error {
	if slices.Contains(words, word) {
		return nil
	}
	return wanted("one of " + strings.Join(words, ", "))
}
