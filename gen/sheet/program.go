package sheet

import (
	"fmt"

	"gridferry/plan/wording"
)

// started is the file that the operator starts; it calls the others, if there are any.
func (j *Job) started() File {
	if len(j.Files) == 0 {
		return File{}
	}
	return j.Files[len(j.Files)-1]
}

// files is the program's files, the one that is started first, and how each can be told
// from every other.
func (j *Job) files() table {
	var t table
	add := func(f File) {
		body := grouped(f.Body)
		if body == "" {
			body = "no seal: this family's comments do not let one through"
		}
		t.add(f.Name, body)
	}
	add(j.started())
	for _, f := range j.Files[:max(0, len(j.Files)-1)] {
		add(f)
	}
	t.keep(mostFiles, "file")
	return t
}

// short16 is as much of a digest as people compare, which no accident gets right.
func short16(digest string) string { return grouped(digest[:min(len(digest), 16)]) + " …" }

// foot is what stands at the foot of every sheet of paper.
func (j *Job) foot() string {
	main := j.started()
	if main.Body == "" {
		return main.Name + " · plan " + short16(j.Digest)
	}
	return main.Name + " · body " + short16(main.Body)
}

// programCheck is how the program in the controller is known for the one of this run: the
// plan's digest is that of the whole job, its prove-out and every resumed job.
func (j *Job) programCheck() item {
	main := j.started()
	more := ""
	if n := len(j.Files) - 1; n > 0 {
		more = fmt.Sprintf("; the same for the other %s at the head of this sheet", wording.Count(n, "file"))
	}
	if main.Body == "" {
		return item{What: "The program in the controller is that of this sheet, " + j.kind() + ": “gridferry verify” finds it the same" + more, Want: main.Name}
	}
	return item{
		What: "The program in the controller is that of this sheet, " + j.kind() + ": the lines “body” of the seal at its end have the digest at the head of this sheet" + more,
		Want: main.Name + ", body " + short16(main.Body),
	}
}
