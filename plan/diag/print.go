package diag

// The rules for messages, for every package that reports a finding:
//
//   - lower case, no full stop, one line;
//   - name the thing in quotes (%q), as it was written;
//   - say what was found and what was wanted: `"fast" is not a number, wanted a speed in mm/s`;
//   - advice goes in the hint, not in the message: `write a number, or one with a unit such as "0.5 m/s"`;
//   - for two things that do not go together, the finding stands at the later one and a note at the other;
//   - "did you mean" only when there is exactly one near name (Nearest);
//   - one mistake, one message: what depends on something already reported is not reported.

import (
	"bufio"
	"io"
	"strings"
)

// The five codes; everything is printed plain without them.
const (
	ansiReset  = "\x1b[0m"
	ansiBold   = "\x1b[1m"
	ansiRed    = "\x1b[31m"
	ansiGreen  = "\x1b[32m"
	ansiYellow = "\x1b[33m"
	ansiCyan   = "\x1b[36m"
)

// Print writes findings for people: the place, the message and the rule, the source line with a caret under the spot, then the
// hint and the notes. src may be nil. Whatever comes from a file or a command line is made harmless for a terminal first.
func Print(w io.Writer, fs []Finding, src *Sources, color bool) error {
	p := printer{out: bufio.NewWriter(w), src: src, color: color}
	for i := range fs {
		p.finding(&fs[i])
	}
	return p.out.Flush()
}

// printer writes to a buffer, which keeps the first error for Flush.
type printer struct {
	out   *bufio.Writer
	src   *Sources
	color bool
}

func (p *printer) finding(f *Finding) {
	p.head(f.Place, f.Severity.String(), severityColor(f.Severity))
	p.text(Visible(f.Message))
	if f.Rule != "" {
		p.text(" [" + Visible(f.Rule) + "]")
	}
	p.text("\n")
	p.excerpt(f.Place, severityColor(f.Severity))
	if f.Hint != "" {
		p.text("    ")
		p.paint(ansiCyan, "hint:")
		p.text(" " + Visible(f.Hint) + "\n")
	}
	for _, n := range f.Notes {
		p.head(n.Place, "note", ansiCyan)
		p.text(Visible(n.Message) + "\n")
	}
}

// head starts a line with the place, so that an editor can jump there, and a word such as "error".
func (p *printer) head(at Place, word, color string) {
	if s := at.String(); s != "" {
		p.paint(ansiBold, Visible(s)+":")
		p.text(" ")
	}
	p.paint(color, word+":")
	p.text(" ")
}

func (p *printer) excerpt(at Place, color string) {
	if p.src == nil || at.Line <= 0 || at.Col <= 0 {
		return
	}
	line, before, ok := p.src.around(at)
	if !ok {
		return
	}
	at.Col -= before
	shown, caret := excerpt(line, at)
	p.text("    " + shown + "\n    ")
	// The blanks before the caret stay uncoloured.
	blanks := len(caret) - len(strings.TrimLeft(caret, " "))
	p.text(caret[:blanks])
	p.paint(color, caret[blanks:])
	p.text("\n")
}

func (p *printer) paint(code, s string) {
	if !p.color {
		p.text(s)
		return
	}
	p.text(code + s + ansiReset)
}

// text drops the error on purpose: bufio keeps it and Flush returns it.
func (p *printer) text(s string) { _, _ = p.out.WriteString(s) }

func severityColor(s Severity) string {
	if s == Warning {
		return ansiYellow
	}
	return ansiRed
}

// Diff is a unified diff with what is gone in red and what is new in green; the signs
// before the lines say the same. A line end other than the usual one is seen: it may be all that differs.
func Diff(text string, colored bool) string {
	text = visible(text, "\n\t")
	if !colored {
		return text
	}
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		paint := map[byte]string{'-': ansiRed, '+': ansiGreen, '@': ansiCyan}[(line + " ")[0]]
		if body := strings.TrimSuffix(line, "\n"); paint != "" {
			lines[i] = paint + body + ansiReset + line[len(body):]
		}
	}
	return strings.Join(lines, "")
}
