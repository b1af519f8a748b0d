// Package seal marks a program, so that it shows later what it was written from and
// whether it was changed since.
//
// A seal is a few comments in the family's own form, directly before what the
// family's "end" block writes: any program may have comments there, and nothing that
// has to be first or last is moved.
//
//	(seal 1 gridferry 0.1.0)
//	(seal 2 plan 8f0e…)       the plan, its cell and what was set: 32 digits
//	(seal 3 family 51c7…)     the family's files: 32 digits
//	(seal 4 frame 2 1a2b3c4d) of each frame and tool whose figures are entered at the controller: a digest of them
//	(seal 5 body 0b9a…)       SHA-256 of the body, in pieces that fit a line
//	(seal 6 body e2d3…)
//
// The body is the program without these lines. Every line counts with a line feed
// behind it; a line that ends otherwise than the family's do is a change. A seal has one
// form: lines that are not the ones that would be written for what they say are no seal,
// and are read as any other line. Of several seals in a program (a title may imitate one)
// the last counts.
//
// A seal is not a signature: it shows what was changed by hand or by accident, not
// what somebody forged.
package seal

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/plan/lazy"
)

// Stamp is what a program was written from.
type Stamp struct {
	Version      string // of Gridferry
	Plan, Family string // digests, 32 hexadecimal digits each
	Entered      Entered
}

// Entered is what a program counts on at the controller, line by line: the frames and
// tools that it does not write.
type Entered []Entry

// Entry is one of them.
type Entry struct {
	What   string // "frame" or "tool"
	Number int    // that the controller knows it by
	Digest string // EntryDigits hexadecimal digits
}

// EntryDigits is how long the digest of an entry is.
const EntryDigits = 8

// Has reports whether an entry is among them.
func (e Entered) Has(one Entry) bool { return slices.Contains(e, one) }

// HasOne reports whether there is one of that number, whatever its figures.
func (e Entered) HasOne(what string, number int) bool {
	return slices.ContainsFunc(e, func(one Entry) bool { return one.What == what && one.Number == number })
}

const (
	halfDigits = 32 // of the digests of plan and family
	bodyDigits = 64 // of the body's SHA-256
)

// pieceDigits is how many digits stand on a line, and on one of narrow programs.
var pieceDigits = []int{32, 16}

// lines is the seal's comments, marks and all; nil for a family in whose form
// they could not be read again.
func (s Stamp) lines(rules *rules.Rules, body string) []string {
	for _, piece := range pieceDigits {
		lines := s.pieces(rules, body, piece)
		var read collector
		for i, line := range lines {
			read.take(i, line, rules)
		}
		if read.found && read.seal.Body == body && read.seal.Plan == s.Plan && read.seal.Family == s.Family && slices.Equal(read.seal.Entered, s.Entered) {
			return lines
		}
	}
	return nil
}

func (s Stamp) pieces(rules *rules.Rules, body string, piece int) []string {
	texts := []string{"gridferry " + s.Version}
	parts := []struct{ word, digits string }{{"plan", s.Plan}, {"family", s.Family}}
	for _, e := range s.Entered {
		parts = append(parts, struct{ word, digits string }{e.What + " " + strconv.Itoa(e.Number), e.Digest})
	}
	for _, part := range append(parts, struct{ word, digits string }{"body", body}) {
		for at := 0; at < len(part.digits); at += piece {
			texts = append(texts, part.word+" "+part.digits[at:min(at+piece, len(part.digits))])
		}
	}
	for i, text := range texts {
		texts[i] = rules.Comment.Format(fmt.Sprintf("seal %d %s", i+1, text), rules.LongestLine)
	}
	return texts
}

// Fits reports whether the family's programs can carry a seal.
func Fits(rules *rules.Rules) bool { return sample(rules) != nil }

func sample(rules *rules.Rules) []string {
	digits := strings.Repeat("0123456789abcdef", bodyDigits/16)
	return Stamp{Version: "0.0.0", Plan: digits[:halfDigits], Family: digits[:halfDigits]}.lines(rules, digits)
}

// Lines is how many lines a seal takes in the family's programs.
func Lines(rules *rules.Rules) int { return len(sample(rules)) }

// Seal is the content of a program's seal.
type Seal struct {
	Stamp
	Body string // SHA-256 in 64 hexadecimal digits
}

// sealLine is one line of a seal without its marks. A controller may have
// written it again in capital letters.
var sealLine = lazy.Regexp(`^[Ss][Ee][Aa][Ll] ([0-9]{1,5}) ([A-Za-z]+)(?: ([0-9]+))? (\S+)$`)

// versionNumbers are what counts of a version, between whatever a family puts in the
// place of its full stops.
var versionNumbers = lazy.Regexp(`[0-9]+`)

// collector puts a seal together from lines that follow each other.
type collector struct {
	seal        Seal // the last whole one
	found       bool
	first, last int // its lines, counted from 0

	begun Seal
	lines []string // of it
	next  int      // the number that the next line must have; 0 outside of a seal
	at    int
}

// take looks at a line, counted from 0.
func (c *collector) take(number int, line string, rules *rules.Rules) {
	m := sealLine().FindStringSubmatch(Remark(line, rules))
	if m == nil {
		c.next = 0
		return
	}
	n, _ := strconv.Atoi(m[1])
	word, of, value := strings.ToLower(m[2]), m[3], m[4]
	if n == 1 && word == "gridferry" {
		version := strings.Join(versionNumbers().FindAllString(value, -1), ".")
		c.begun, c.lines, c.next, c.at = Seal{Stamp: Stamp{Version: version}}, []string{line}, 2, number
		return
	}
	if c.next == 0 || n != c.next || !c.begun.add(word, of, strings.ToLower(value)) {
		c.next = 0
		return
	}
	c.lines = append(c.lines, line)
	c.next++
	if len(c.begun.Body) < bodyDigits {
		return
	}
	if c.next = 0; c.begun.isWritten(c.lines, rules) {
		c.seal, c.found, c.first, c.last = c.begun, true, c.at, number
	}
}

// isWritten reports whether these are the lines that would be written for a seal, so that
// they hold nothing else: no word behind the version, no mark, no move behind a comment.
// The case of letters is left to the controller.
func (s *Seal) isWritten(lines []string, rules *rules.Rules) bool {
	return slices.ContainsFunc(pieceDigits, func(piece int) bool {
		return slices.EqualFunc(lines, s.pieces(rules, s.Body, piece), strings.EqualFold)
	})
}

var hexadecimal = lazy.Regexp(`^[0-9a-f]+$`)

// add appends digits to the part that they belong to, in the order of a seal.
func (s *Seal) add(word, of, digits string) bool {
	full := len(s.Plan) == halfDigits && len(s.Family) == halfDigits
	switch {
	case !hexadecimal().MatchString(digits):
		return false
	case of != "":
		number, err := strconv.Atoi(of)
		s.Entered = append(s.Entered, Entry{word, number, digits})
		return err == nil && full && s.Body == "" && len(digits) == EntryDigits && (word == "frame" || word == "tool")
	case word == "plan" && s.Family == "":
		s.Plan += digits
	case word == "family" && len(s.Plan) == halfDigits && s.Body == "":
		s.Family += digits
	case word == "body" && full:
		s.Body += digits
	default:
		return false
	}
	return len(s.Plan) <= halfDigits && len(s.Family) <= halfDigits && len(s.Body) <= bodyDigits
}

// Remark is a comment without its marks; "" for a line that is not one comment and
// nothing else.
func Remark(line string, r *rules.Rules) string {
	line = strings.TrimSpace(line)
	if r.Comment.Form == rules.Plain {
		return line
	}
	open, end := strings.TrimSpace(r.Comment.Open), strings.TrimSpace(r.Comment.Close)
	line, opened := strings.CutPrefix(line, open)
	line, closed := strings.CutSuffix(line, end)
	if !opened || !closed || r.Comment.Form != rules.Marked {
		return ""
	}
	if end != "" && (strings.Contains(line, open) || strings.Contains(line, end)) {
		return "" // what stands between two comments is program
	}
	return strings.Join(strings.Fields(line), " ")
}
