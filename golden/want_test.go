package golden

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A bad file says in comments what must be found in it:
//
//	rows: 4.5    # want 11 "not-whole-number: is not a whole number"
//
// "want" is for errors, "warn" for warnings; the figure is the column and may
// be left out; then come the rule, which is compared letter by letter, and a
// regular expression for the message, in quotes or backquotes. Several may
// stand behind one "want". Comments of other forms, each on a line of its own:
//
//	# set grids.a.rows=5         an argument --set; a want behind it is for its text
//	# write iso6983              the family to write, where checking is not enough
//	# want-file "rule: message"  for a finding about the file as a whole
//
// JSON has no comments, of CSV they would be lines of their own, and those of URDF are others: there the file beside it,
// with ".want" at its end, holds lines such as "6 want 36 …", the line's number first, 0 for the file
// as a whole.
type want struct {
	file     string
	line     int // 0 for the file as a whole
	col      int // 0 for any
	severity string
	rule     string
	message  *regexp.Regexp
	met      bool
}

func (w *want) String() string {
	return fmt.Sprintf("%s:%d:%d: %s %s: %s", w.file, w.line, w.col, w.severity, w.rule, w.message)
}

// badCase is one bad plan: how to run it and what it must give.
type badCase struct {
	plan   string
	sets   []string
	family string // "" for check
	wants  []*want
}

var (
	mark      = regexp.MustCompile(`# (want|warn|want-file) (.*)$`)
	jsonMark  = regexp.MustCompile(`^(\d+) (want|warn) (.*)$`)
	directive = regexp.MustCompile(`^# (set|write) (.*)$`)
	oneWant   = regexp.MustCompile("^(?:([0-9]+) )?(?:\"([a-z0-9-]+): ([^\"]*)\"|`([a-z0-9-]+): ([^`]*)`)(?: |$)")
)

// readBad reads what a plan says about itself, and what its cell and measured
// values do when those are files of the same name.
func readBad(t *testing.T, plan string) *badCase {
	c := &badCase{plan: plan}
	c.readWants(t, plan)
	for _, kind := range []string{".cell.yaml", ".measured.yaml"} {
		beside := strings.TrimSuffix(plan, ".plan.yaml") + kind
		if _, err := os.Stat(beside); err == nil {
			c.readWants(t, beside)
		}
	}
	beside := []string{plan}
	for _, kind := range []string{".*.csv", ".*.urdf"} {
		files, err := filepath.Glob(strings.TrimSuffix(plan, ".plan.yaml") + kind)
		if err != nil {
			t.Fatal(err)
		}
		beside = append(beside, files...)
	}
	for _, file := range beside {
		if _, err := os.Stat(file + ".want"); err == nil {
			c.readBeside(t, file)
		}
	}
	return c
}

func (c *badCase) readWants(t *testing.T, file string) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i, text := range strings.Split(string(data), "\n") {
		at := want{file: file, line: i + 1}
		comment := mark.FindStringSubmatchIndex(text)
		if d := directive.FindStringSubmatch(text); d != nil {
			c.direct(d[1], strings.TrimSpace(mark.ReplaceAllString(d[2], "")))
			at = want{file: fmt.Sprintf("--set[%d]", len(c.sets)), line: 1}
		}
		if comment == nil {
			continue
		}
		word, wants := text[comment[2]:comment[3]], text[comment[4]:comment[5]]
		if word == "want-file" {
			at.line, word = 0, "want"
		}
		c.addWants(t, at, word, wants)
	}
}

func (c *badCase) direct(word, argument string) {
	if word == "write" {
		c.family = argument
	} else {
		c.sets = append(c.sets, argument)
	}
}

func (c *badCase) readBeside(t *testing.T, file string) {
	data, err := os.ReadFile(file + ".want")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		m := jsonMark.FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("%s.want: %q is not of the form LINE want …", file, text)
		}
		line, _ := strconv.Atoi(m[1]) // digits only
		c.addWants(t, want{file: file, line: line}, m[2], m[3])
	}
}

// addWants reads one or several expectations for one place.
func (c *badCase) addWants(t *testing.T, at want, word, text string) {
	for text = strings.TrimSpace(text); text != ""; {
		m := oneWant.FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("%s:%d: cannot read the expectation %s", at.file, at.line, text)
		}
		w := at
		w.severity = map[string]string{"want": "error", "warn": "warning"}[word]
		if m[1] != "" {
			w.col, _ = strconv.Atoi(m[1]) // digits only
		}
		w.rule = m[2] + m[4]
		message, err := regexp.Compile(m[3] + m[5])
		if err != nil {
			t.Fatalf("%s:%d: %v", at.file, at.line, err)
		}
		w.message = message
		c.wants = append(c.wants, &w)
		text = strings.TrimSpace(text[len(m[0]):])
	}
}
