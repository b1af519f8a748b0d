package golden

import (
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/seal"
	"gridferry/golden/wordaddress"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// otherEnds is what somebody's editor, transfer or hand can make of a line end. Controllers
// differ in which of them end a line (Unicode, UAX 14, class BK, and CR, LF, NL).
var otherEnds = []string{"\r", "\r\n", "\v", "\f", "\u0085", "\u2028", "\u2029", "\ufffe", " ", ""}

// evenEnds makes a line feed of each of them at which some controller may end a line.
var evenEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\v", "\n", "\f", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n", "\ufffe", "\n")

// twoEnds is a text as two controllers take it: one that ends lines at LF alone, and one that
// ends them at all of otherEnds.
func twoEnds(text string) []string { return []string{text, evenEnds.Replace(text)} }

// TestTamperedPrograms hides a move in every line of every seal and makes another one of
// every line end, in programs of all shipped families. None is as it was written, and
// verify calls none the same that a reader beside it, which shares no code with it, reads
// otherwise, as one of twoEnds. It takes every third, and with GRIDFERRY_WAYS=all each of them.
func TestTamperedPrograms(t *testing.T) {
	t.Parallel()
	every := 3
	if testing.Short() {
		every = 10
	} else if os.Getenv("GRIDFERRY_WAYS") != "" {
		every = 1
	}
	for _, s := range sealedPrograms(t) {
		if testing.Short() && s.name != "iso6983" {
			continue
		}
		read := readings(s.name, s.text)
		tried, judged, harmful := 0, 0, 0
		for what, tampered := range tamperings(s.name, s.text) {
			if tried++; tried%every != 0 {
				continue
			}
			v := s.verdict(t, tampered)
			judged++
			if v != nil && v.Files[0].State == seal.Whole {
				t.Errorf("%s: %s, and it is untouched", s.name, what)
			}
			if !slices.Equal(readings(s.name, tampered), read) {
				harmful++
				if v != nil && v.Same() {
					t.Errorf("%s: %s, and it is the same", s.name, what)
				}
			}
		}
		if judged*every < 300 || harmful*every < 30 {
			t.Errorf("%s: %d programs tampered with, %d of them harmful: too few", s.name, judged, harmful)
		}
		t.Logf("%s: %d programs tampered with, %d of them harmful", s.name, judged, harmful)
	}
}

// aMove is a line of each family's that moves the arm, and one that no blank divides.
var aMove = map[string][]string{
	"iso6983": {"G0X400Y0Z25", "G0 X400 Y0 Z25"},
	"starter": {"travel x=1 y=2 z=3 roll=0 pitch=0 yaw=0 speed=80.0 fly_by=0.000"},
	"listing": {"G0X400Y0Z25", "     7  Dwell 1.00 s."},
	"loops":   {"here=0", "move to slot"},
	"st":      {"Start:=TRUE;", "Start := TRUE;"},
}

// commentMarks stand around a comment of each family's.
var commentMarks = map[string][2]string{"iso6983": {"(", ")"}, "starter": {"# ", ""}, "listing": {"", ""}, "loops": {"# ", ""}, "st": {"(* ", " *)"}}

// tamperings are programs made of one, each with what was done to it.
func tamperings(name, text string) func(yield func(what, tampered string) bool) {
	marks := commentMarks[name]
	lines := strings.SplitAfter(text, "\n")
	lines = lines[:len(lines)-1]
	return func(yield func(what, tampered string) bool) {
		with := func(at int, line string) bool {
			all := slices.Clone(lines)
			all[at] = line
			return yield(fmt.Sprintf("line %d is %q", at+1, line), strings.Join(all, ""))
		}
		for at, line := range lines {
			line = strings.TrimSuffix(line, "\n")
			for k, end := range otherEnds {
				if (sealLine.MatchString(line) || len(lines) < 300 || k%5 == at%5 && at%3 == 0) && !with(at, line+end) {
					return
				}
			}
			if !sealLine.MatchString(line) {
				continue
			}
			inside := strings.TrimSuffix(line, marks[1])
			open, end := strings.TrimSpace(marks[0]), strings.TrimSpace(marks[1])
			for _, move := range aMove[name] {
				for _, one := range []string{
					inside + end + move + open + "x" + marks[1], line + move, line + " " + move, move + line, inside + move + marks[1], inside + "\r" + move + marks[1],
					line + "\r" + move, line + "\n" + move, line + "\u2028" + move, inside + "\v" + move + marks[1], move,
				} {
					if !with(at, one+"\n") {
						return
					}
				}
			}
		}
	}
}

// sealLine is a line of a seal as AUTHORING.md shows it, in the marks of the shipped families.
var sealLine = regexp.MustCompile(`(?i)^(\(|# |\(\* |)seal [0-9]+ (gridferry \S+|(plan|family|body) [0-9a-f]{32}|(frame|tool) [0-9]+ [0-9a-f]{8})(\)| \*\)|)$`)

// readings is what the controllers of twoEnds obey in a text of a family, line by line.
func readings(name, text string) []string {
	var all []string
	for _, text := range twoEnds(text) {
		all = append(all, obeyed(name, strings.Split(text, "\n"))...)
	}
	if name == "iso6983" {
		all = append(all, wordAddressEvents(text))
	}
	return all
}

// obeyed is the lines without what their family's controller, or the person at the bench,
// passes over.
func obeyed(name string, lines []string) []string {
	comment := map[string]*regexp.Regexp{
		"iso6983": regexp.MustCompile(`^N[0-9]+ |\([^()]*\)`), "starter": regexp.MustCompile(`#.*`),
		"loops": regexp.MustCompile(`#.*`), "st": regexp.MustCompile(`(?s)\(\*.*?\*\)`), "listing": sealLine,
	}[name]
	var left []string
	for _, line := range lines {
		if line = strings.Trim(comment.ReplaceAllString(line, ""), " "); line != "" {
			left = append(left, line)
		}
	}
	return left
}

// wordAddressEvents is what a reader of NISTIR 6556 finds in a program, or why it finds
// nothing.
func wordAddressEvents(text string) string {
	blocks, err := wordaddress.Read(text, wordaddress.Options{Clamp: true})
	if err != nil {
		return err.Error()
	}
	events, err := wordaddress.Run(blocks)
	for i := range events {
		events[i].Line = 0
	}
	return fmt.Sprint(events, err)
}

func tamperedJob(t testing.TB) *gen.Job {
	t.Helper()
	job := new(gen.Job)
	if !job.Read(plan.Source{File: "pegs.plan.yaml", Data: []byte(twoPegs), Dir: "."}, nil, layout.Options{Slots: layout.DefaultSlots}) {
		t.Fatalf("%+v", job.Findings.Sorted())
	}
	return job
}

const twoPegs = `format: gridferry plan 1
title: two pegs
cell:
  format: gridferry cell 1
  name: a bench
  tools:
    jaw: {mass: 1, tcp: {at: [0, 0, 100]}, grip: {output: 1, level: on, settle: 0.4}, release: {output: 1, level: off, settle: 0.3}}
  frames:
    left: {at: [100, 0, 0]}
  poses:
    clear: {at: [300, 0, 300], rpy: [180, 0, 0]}
parts:
  peg: {mass: 0.2}
grids:
  from: {frame: left, rows: 1, columns: 2, pitch: [30, 30], first: [10, 10, 10], part: peg, filled: all}
  to: {frame: left, rows: 1, columns: 2, pitch: [30, 30], first: [10, 100, 10], part: peg}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 50}, fly_by: 5, clear: clear}
transfers:
  - {from: from, to: to}
`

func shippedFamily(t testing.TB, name string) *family.Family {
	t.Helper()
	sub, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	var list diag.List
	f, ok := family.Load(sub, name, &list, nil)
	if !ok {
		t.Fatalf("%+v", list.Sorted())
	}
	return f
}
