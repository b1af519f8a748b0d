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

// HeadError is for a program whose head says that it is of another run than the one
// that it is held to: then nearly every line differs, and one word tells why.
type HeadError struct {
	File  string
	Said  Run // by the head
	Asked Run
}

func (e *HeadError) Error() string {
	instead, others := "", "--stops"
	if asked := e.Asked.flags(); asked != "" {
		instead = " instead of " + asked
	}
	if e.Said.Resume != nil {
		others = "--begin, --slots or --stops"
	}
	return fmt.Sprintf("%s: its head says that it is %s: give %s%s, and %s if it was written with that",
		e.File, e.Said.inWords(), e.Said.flags(), instead, others)
}

// inWords is a run for people; "" for a whole job.
func (r *Run) inWords() string {
	words := ""
	if r.ProveOut != nil {
		words = "a first run"
	}
	if r.Resume == nil {
		return words
	}
	rest := fmt.Sprintf("the rest of a job from transfer %d on", r.Resume.Transfer)
	if r.Resume.Holding {
		rest += ", with its part in the jaw"
	}
	if words != "" {
		return words + " of " + rest
	}
	return rest
}

// flags are what asks for the run.
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

// like tells whether the heads of two runs say the same.
func (r *Run) like(other *Run) bool {
	return r.inWords() == other.inWords() && r.flags() == other.flags()
}

// headBytes is how far into a program its head goes at most: notices and cautions in
// lines of forty characters, and what a family has before them.
const headBytes = 8 << 10

// headRun is the run that a program's head tells of, in the notices that stand before
// the cautions; that of a whole job where it tells of none.
func headRun(text io.Reader, rules *rules.Rules) (Run, error) {
	head, err := io.ReadAll(io.LimitReader(text, headBytes))
	if err != nil {
		return Run{}, err
	}
	var remarks []string
	for _, line := range diag.SplitLines(string(head)) {
		remarks = append(remarks, strings.Fields(seal.Remark(line, rules))...)
	}
	said, run := strings.Join(remarks, " "), Run{}
	if o, ok := proveout.ReadNotice(said); ok {
		run.ProveOut = &o
	}
	if q, ok := resume.ReadNotice(said); ok {
		run.Resume = &q
	}
	return run, nil
}

// headFits holds a program's head to the run that is asked for. A head that tells of
// no run may have lost its remarks, and says nothing.
func headFits(asked *Run, rules *rules.Rules, name string, text io.Reader) error {
	said, err := headRun(text, rules)
	if err != nil {
		return err
	}
	if said.inWords() == "" || said.like(asked) {
		return nil
	}
	return &HeadError{name, said, *asked}
}
