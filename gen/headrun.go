package gen

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// HeadError is for a program that belongs to another run than the one it is compared
// with, as its head says. Nearly every line would differ, for one reason.
type HeadError struct {
	File  string
	Said  Run // by the head
	Asked Run // by the command
}

func (e *HeadError) Error() string {
	instead, others := "", "--stops"
	if asked := e.Asked.flags(); asked != "" {
		instead = " instead of " + asked
	}
	if e.Said.Resume != nil {
		others = "--begin, --slots or --stops"
	}
	return fmt.Sprintf("%s: its head says that it is %s: use %s%s, and also %s if it was written with that",
		e.File, e.Said.inWords(), e.Said.flags(), instead, others)
}

// inWords names a run with its transfer; "" for the whole job.
func (r *Run) inWords() string {
	words := ""
	if r.ProveOut != nil {
		words = "a prove-out"
	}
	if r.Resume == nil {
		return words
	}
	resumed := fmt.Sprintf("a job resumed at transfer %d", r.Resume.Transfer)
	if r.Resume.Holding {
		resumed += ", with its part in the gripper"
	}
	if words != "" {
		return words + " of " + resumed
	}
	return resumed
}

// flags are the command line flags that ask for the run.
func (r *Run) flags() string {
	var flags []string
	if q := r.Resume; q != nil {
		flags = append(flags, "--from "+strconv.Itoa(q.Transfer))
		if q.Holding {
			flags = append(flags, "--holding")
		}
	}
	if o := r.ProveOut; o != nil {
		flags = append(flags, "--prove-out")
		for _, f := range []struct {
			otherwise bool
			flag      string
		}{
			{o.Speed != proveout.TopSpeed, "--speed " + strconv.FormatFloat(o.Speed, 'f', -1, 64)},
			{o.Lift != proveout.DefaultLift, "--lift " + strconv.FormatFloat(o.Lift, 'f', -1, 64)},
			{o.Grips, "--gripper work"}, {o.Steps, "--steps work"},
		} {
			if f.otherwise {
				flags = append(flags, f.flag)
			}
		}
	}
	return strings.Join(flags, " ")
}

// sameHead reports whether programs of two runs have the same head.
func (r *Run) sameHead(other *Run) bool {
	return r.inWords() == other.inWords() && r.flags() == other.flags()
}

// headBytes is a bound on the length of a program's head: notices and cautions in lines
// of forty characters, and what a family writes before them.
const headBytes = 8 << 10

// headRun is the run that the notices in a program's head speak of; the whole job where
// there are none.
func headRun(text io.Reader, rules *rules.Rules) (Run, error) {
	head, err := io.ReadAll(io.LimitReader(text, headBytes))
	if err != nil {
		return Run{}, err
	}
	var comments []string
	for _, line := range diag.SplitLines(string(head)) {
		comments = append(comments, strings.Fields(seal.Remark(line, rules))...)
	}
	said, run := strings.Join(comments, " "), Run{}
	if o, ok := proveout.ReadNotice(said); ok {
		run.ProveOut = &o
	}
	if q, ok := resume.ReadNotice(said); ok {
		run.Resume = &q
	}
	return run, nil
}

// headFits is a HeadError for a program of another run than the one asked for. A head
// without notices proves nothing: it may have lost its comments.
func headFits(asked *Run, rules *rules.Rules, name string, text io.Reader) error {
	said, err := headRun(text, rules)
	if err != nil {
		return err
	}
	if said.inWords() == "" || said.sameHead(asked) {
		return nil
	}
	return &HeadError{name, said, *asked}
}
