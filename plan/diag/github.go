package diag

import (
	"fmt"
	"io"
	"strings"
)

// PrintGitHub writes findings as workflow commands of GitHub Actions, a line each, which that shows
// beside the lines of a pull request. The hint and the notes are part of the message, since such a
// command has one place. A place that is in no file, as on standard input, is in the message, too.
//
// Only where a finding begins is given: whether "endColumn" is the last character or the one behind
// it, the documentation of the commands leaves open.
func PrintGitHub(w io.Writer, fs []Finding) error {
	var b strings.Builder
	for i := range fs {
		fs[i].workflowCommand(&b)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (f *Finding) workflowCommand(b *strings.Builder) {
	fmt.Fprintf(b, "::%s title=%s", f.Severity, inProperty(f.Rule))
	message := Visible(f.Message)
	if f.Place.InFile() {
		fmt.Fprintf(b, ",file=%s", inProperty(f.Place.File))
		if f.Place.Line > 0 {
			fmt.Fprintf(b, ",line=%d", f.Place.Line)
		}
		if f.Place.Col > 0 {
			fmt.Fprintf(b, ",col=%d", f.Place.Col)
		}
	} else if at := f.Place.String(); at != "" {
		message = Visible(at) + ": " + message
	}
	fmt.Fprintf(b, "::%s\n", inMessage(message+"\n"+f.advice()))
}

// advice is all that is said about a finding behind its message, a line each: the hint, the notes
// and where its rule is explained.
func (f *Finding) advice() string {
	var b strings.Builder
	if f.Hint != "" {
		b.WriteString("hint: " + Visible(f.Hint) + "\n")
	}
	for _, n := range f.Notes {
		if at := n.Place.String(); at != "" {
			b.WriteString(Visible(at) + ": ")
		}
		b.WriteString(Visible(n.Message) + "\n")
	}
	return b.String() + "see: " + HelpCommand(f.Rule)
}

// HelpCommand is the command that prints the page of a rule.
func HelpCommand(rule string) string { return "gridferry help rule " + rule }

// inMessage and inProperty escape what would end a message or a property of a workflow command, as
// the runner's own tools do.
func inMessage(text string) string { return messageEscapes.Replace(text) }

func inProperty(text string) string { return propertyEscapes.Replace(text) }

var (
	messageEscapes  = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	propertyEscapes = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)
