// Manual writes the manual pages of all commands into a folder, for the packages that
// .ci/package builds. Their date is that of SOURCE_DATE_EPOCH.
package main

import (
	"fmt"
	"os"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
	"github.com/spf13/pflag"

	"gridferry/cmd/cli"
	"gridferry/gen"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "manual: which folder?")
		os.Exit(2)
	}
	root := cli.Commands()
	spell(root)
	header := &doc.GenManHeader{Source: "Gridferry " + gen.Version, Manual: "Gridferry's commands"}
	if err := doc.GenManTree(root, header, os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "manual:", err)
		os.Exit(1)
	}
}

// spell writes the texts of a command, and of those below it, as Markdown, which the library
// takes them for.
func spell(c *cobra.Command) {
	c.DisableAutoGenTag = true
	c.InitDefaultHelpFlag() // or its text comes later, and stays as it is
	if c.HasParent() {
		c.Short = markdown(c.Short)
	}
	if c.Long != "" {
		c.Long = markdown(c.Long)
	}
	plain := func(f *pflag.Flag) { f.Usage = escape(f.Usage) }
	c.LocalNonPersistentFlags().VisitAll(plain)
	c.PersistentFlags().VisitAll(plain)
	for _, below := range c.Commands() {
		spell(below)
	}
}

var (
	special  = regexp.MustCompile("[\\\\`*_{}\\[\\]<>#|]")
	indented = regexp.MustCompile(`^[ \t]+\S`)
)

// escape keeps text from being read as Markdown.
func escape(text string) string { return special.ReplaceAllString(text, `\$0`) }

// markdown is the text of a help page as Markdown: lines that are set in stay as they are.
func markdown(help string) string {
	var b strings.Builder
	within := false // an indented piece
	for _, line := range strings.Split(help, "\n") {
		switch is := indented.MatchString(line); {
		case is:
			if !within {
				b.WriteString("\n")
			}
			within = true
			b.WriteString("    " + line + "\n")
		case line == "":
			b.WriteString("\n")
		default:
			if within {
				b.WriteString("\n")
			}
			within = false
			b.WriteString(escape(line) + "\n")
		}
	}
	return strings.TrimSpace(b.String())
}
