package web

import (
	"encoding/json"
	"strings"
	"sync/atomic"
	"testing"

	"gridferry/golden/outside"
)

// visited is a browser of its own, so that nobody who visits waits for a long list of
// pages to be looked at.
var visited = outside.Script{Folder: browser.Folder, File: browser.File, Packages: browser.Packages, Tool: browser.Tool, Debian: browser.Debian}

// Visit is pages that stay open while the test goes on: it does steps, changes files or
// servers, and does other steps. Its pages share what a browser keeps.
type Visit struct {
	t      testing.TB
	number int64
	ended  bool
}

var visits atomic.Int64

type turn struct {
	Number int64  `json:"number"`
	Begin  *Job   `json:"begin,omitempty"`
	Steps  []Step `json:"steps,omitempty"`
	End    bool   `json:"end,omitempty"`
}

// Open opens the first page of a visit, which ends with the test at the latest.
func Open(t testing.TB, job Job) *Visit {
	t.Helper()
	v := &Visit{t: t, number: visits.Add(1)}
	v.ask(turn{Begin: &job, Steps: append([]Step{{Do: "open", On: address(t, job.Page)}}, job.Steps...)})
	t.Cleanup(func() {
		if !v.ended {
			v.End()
		}
	})
	return v
}

// Do does steps and gives a value for each, as in Sight.
func (v *Visit) Do(steps ...Step) []json.RawMessage {
	v.t.Helper()
	return v.ask(turn{Steps: steps})
}

// Read reads the value of an expression on the page of a number.
func (v *Visit) Read(page int, expression string, into any) {
	v.t.Helper()
	value := v.Do(Step{Do: "read", On: expression, Page: page})[0]
	if err := json.Unmarshal(value, into); err != nil {
		v.t.Fatalf("%s is %s: %v", expression, value, err)
	}
}

func (v *Visit) ask(turn turn) []json.RawMessage {
	v.t.Helper()
	turn.Number = v.number
	var said struct {
		Values     []json.RawMessage
		Failed     string
		Complaints []string
	}
	visited.Ask(v.t, turn, &said)
	if said.Failed != "" {
		v.t.Fatalf("%s\nthe browser's console: %s", said.Failed, strings.Join(said.Complaints, "\n"))
	}
	return said.Values
}

// End closes the pages and says what was seen; Values are those of Do.
func (v *Visit) End() Sight {
	v.t.Helper()
	v.ended = true
	var sight Sight
	visited.Ask(v.t, turn{Number: v.number, End: true}, &sight)
	return sight
}
