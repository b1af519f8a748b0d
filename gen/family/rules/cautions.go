package rules

import (
	"strings"

	"gridferry/plan/wording"
)

// Cautions stand at the head of every program, broken into lines that most
// families take as a comment of their own; Rules.Cautions breaks them anew for
// the narrower ones, so that none is ever cut.
//
// The figure is the limit that ISO 10218-1 names for manual reduced speed, at
// the tool centre point.
var Cautions = []string{
	"CAUTION: this text was generated. It is no proof that a motion is safe.",
	"Before it runs: a risk assessment, guarding, and people with the right",
	"licence. Check tool, frames and load against the machine itself.",
	"Prove it out at manual reduced speed (ISO 10218-1: 250 mm/s at the tool",
	"centre point or less), empty first, a hand on the emergency stop.",
	"After a stop, check tool and gripper. Make it safe before reaching in.",
	"Local codes and rules stand above anything written here.",
}

// Cautions is the notices, each on lines of its own, and then the cautions, in
// lines that fit the family's comments. Notices hold names, and become what a comment may
// hold.
func (rules *Rules) Cautions(notices ...string) []string {
	room := rules.CommentRoom()
	widest := 0
	for _, line := range Cautions {
		widest = max(widest, len(line))
	}
	if room == 0 || room > widest {
		room = widest
	}
	var lines []string
	for _, notice := range notices {
		lines = append(lines, wording.Wrap(rules.Comment.clean(notice), room)...)
	}
	if room == widest {
		return append(lines, Cautions...)
	}
	return append(lines, wording.Wrap(strings.Join(Cautions, " "), room)...)
}

// shortestLine is the least that "longest_line" may say: the longest word of the
// cautions has to fit with a comment's marks and a block number.
const shortestLine = 40

// CommentRoom is how many characters of text fit into a comment on a line of its
// own; 0 for any number.
func (rules *Rules) CommentRoom() int {
	if rules.LongestLine == 0 {
		return 0
	}
	return max(rules.LongestLine-rules.BlockNumbers.Width()-rules.Comment.marksWidth(), 1)
}
