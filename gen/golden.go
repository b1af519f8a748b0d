package gen

import (
	"bytes"
	"io"
	"iter"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/goldens"
	"gridferry/gen/layout"
	"gridferry/gen/render"
	"gridferry/gen/seal"
)

// GoldenCase is the result of running one case.
type GoldenCase struct {
	goldens.Case
	Job  *Job // with the findings about plan and family
	Diff []string
	// Faults are reasons not to record the result.
	Faults []string
	// Foreign is what else stands in the folder of the recorded programs, and stays.
	Foreign  []string
	Recorded bool
	Err      error // trouble outside of plan and family
}

// RunGoldens runs cases side by side, in their order: one after the other where results are recorded,
// so that none is after one that could not be.
func RunGoldens(cases []goldens.Case, accept bool) iter.Seq[*GoldenCase] {
	run := func(i int) *GoldenCase {
		c, err := RunGolden(cases[i], accept)
		c.Err = err
		return c
	}
	if !accept {
		return SideBySide(len(cases), run)
	}
	return func(yield func(*GoldenCase) bool) {
		for i := range cases {
			if !yield(run(i)) {
				return
			}
		}
	}
}

// Passed reports whether the result is what was recorded.
func (c *GoldenCase) Passed() bool {
	return !c.Job.Findings.HasErrors() && len(c.Faults) == 0 && (c.Recorded || len(c.Diff) == 0)
}

// RunGolden runs a case twice and compares the result with what is recorded. With accept
// the result is recorded if it is sound: the plan passes every check, the program reads
// back, both runs are equal, and no line shows a missing value.
func RunGolden(c goldens.Case, accept bool) (*GoldenCase, error) {
	run := &GoldenCase{Case: c}
	first, job, rules, err := writeCase(c)
	run.Job = job
	if err != nil || job.Findings.HasErrors() {
		return run, err
	}
	second, job2, _, err := writeCase(c)
	if err != nil {
		return run, err
	}
	run.Faults = goldens.Prove(first, second, rules.Form.Mark())
	if job2.Findings.Len() != job.Findings.Len() {
		run.Faults = append(run.Faults, "two runs report different findings")
	}
	recorded, err := goldens.Read(c.Expected())
	if err != nil {
		job.Findings.Errorf("expected-unreadable", c.Place, "the folder of recorded programs cannot be read: %v", err)
		return run, nil
	}
	return run, run.compare(recorded, first, rules, accept)
}

// compare compares what comes out with what is recorded, and records it if asked to.
func (c *GoldenCase) compare(recorded, now goldens.Files, rules *rules.Rules, accept bool) error {
	var unsure []string
	c.Foreign, unsure = sortOut(recorded, now, rules)
	// Seals change with every comment in the plan's and the family's files.
	c.Diff = goldens.Differences(withoutSeals(recorded, rules), withoutSeals(now, rules), "--accept records it")
	if !accept || len(c.Diff) == 0 {
		return nil
	}
	for _, f := range c.Job.Findings.Sorted() {
		if f.Rule == family.RuleNoReadBack {
			c.Faults = append(c.Faults, f.Message)
		}
	}
	if c.Faults = append(c.Faults, unsure...); len(c.Faults) > 0 {
		return nil
	}
	c.Recorded = true
	return now.Record(c.Expected(), recorded, c.Job.Sources.Names()...)
}

// sortOut takes out of the files of a folder what golden did not record there, as the
// seals show, and names it. Of a program that nothing gives any more, and that may hold
// the work of somebody's hand, it says why it cannot be removed.
func sortOut(recorded, now goldens.Files, rules *rules.Rules) (foreign, unsure []string) {
	for _, name := range recorded.Names(nil) {
		if _, given := now[name]; given {
			continue
		}
		in, err := seal.Inspect(strings.NewReader(recorded[name]), rules)
		switch unsealed := !seal.Fits(rules) && strings.HasSuffix(name, rules.Extension); {
		case err == nil && in.State == seal.Whole: // recorded, and as it was
		case in.State == seal.Changed || unsealed:
			unsure = append(unsure, name+": nothing gives it any more, and nothing shows that it is as it was recorded: move it away")
		default:
			foreign = append(foreign, name)
			delete(recorded, name)
		}
	}
	return foreign, unsure
}

func withoutSeals(files goldens.Files, rules *rules.Rules) goldens.Files {
	bare := goldens.Files{}
	for name, text := range files {
		bare[name] = seal.Strip(text, rules)
	}
	return bare
}

// writeCase writes the programs of a case into memory.
func writeCase(c goldens.Case) (goldens.Files, *Job, *rules.Rules, error) {
	job := new(Job)
	source, name, ok := c.Open(&job.Findings, &job.Sources)
	if !ok {
		return nil, job, nil, nil
	}
	ok = job.Read(source, c.Settings, layout.Options{Slots: layout.DefaultSlots})
	f, err := job.OpenFamily(name)
	if err != nil || !ok || job.Findings.HasErrors() || !job.Check() {
		return nil, job, nil, err
	}
	files := goldens.Files{}
	err = job.WriteFiles(func(name string) (io.WriteCloser, error) { return &textFile{files: files, name: name}, nil }, f, render.Options{})
	return files, job, &f.Rules, err
}

// textFile is a file in memory.
type textFile struct {
	bytes.Buffer
	files goldens.Files
	name  string
}

// Close keeps the text.
func (t *textFile) Close() error {
	t.files[t.name] = t.String()
	return nil
}
