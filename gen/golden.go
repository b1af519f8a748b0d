package gen

import (
	"bytes"
	"io"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/goldens"
	"gridferry/gen/layout"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/plan"
)

// GoldenCase is the result of running one case.
type GoldenCase struct {
	goldens.Case
	Job  *Job // with the findings about plan and family
	Diff []string
	// Faults are reasons not to record the result.
	Faults   []string
	Recorded bool
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
		return run, err
	}
	// Seals change with every comment in the plan's and the family's files.
	run.Diff = goldens.Differences(withoutSeals(recorded, rules), withoutSeals(first, rules), "--accept records it")
	if !accept || len(run.Diff) == 0 {
		return run, nil
	}
	for _, f := range job.Findings.Sorted() {
		if f.Rule == family.RuleNoReadBack {
			run.Faults = append(run.Faults, f.Message)
		}
	}
	if len(run.Faults) > 0 {
		return run, nil
	}
	run.Recorded = true
	return run, first.Record(c.Expected(), job.Sources.Names()...)
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
	source, err := plan.Open(c.Plan, strings.NewReader(""))
	if err != nil {
		return nil, job, nil, err
	}
	var settings []plan.Setting
	for _, text := range c.Set {
		path, value, _ := strings.Cut(text, "=")
		settings = append(settings, plan.Setting{Path: path, Value: value})
	}
	ok := job.Read(source, settings, layout.Options{Slots: layout.DefaultSlots})
	f, err := job.OpenFamily(c.Family)
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
