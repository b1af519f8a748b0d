package diag

import (
	"strings"
	"testing"
)

// TestManyFindings: a file of millions of slips fills no memory, counts as wrong and
// says that there is more.
func TestManyFindings(t *testing.T) {
	var l, other List
	for i := range mostShown + 5 {
		l.Warnf("r", Place{File: "f", Line: i + 1}, "m").WithHint("h")
	}
	other.Errorf("e", Place{File: "a", Line: 1}, "m")
	l.AddAll(&other)
	l.AddAll(&other)
	all := l.Sorted()
	last := all[len(all)-1]
	if l.Len() != mostShown+7 || len(all) != mostShown+1 || !l.HasErrors() || last.Rule != "too-many-findings" || last.Message != "there are more than 10000 findings, and the others are not shown" || last.Severity != Error {
		t.Errorf("%d findings, %d kept, the last is %+v", l.Len(), len(all), last)
	}
	var few List
	few.AddAll(&other)
	if got := few.Sorted(); few.Len() != 1 || len(got) != 1 {
		t.Errorf("%v", got)
	}
}

// TestToldOnce: what two places share through an anchor is read twice and wrong once.
func TestToldOnce(t *testing.T) {
	var l List
	here, there := Place{File: "a", Line: 3, Col: 2}, Place{File: "a", Line: 4, Col: 2}
	for _, at := range []Place{here, there, here} {
		l.Errorf("r", at, "found %d", 0)
		l.Errorf("r", at, "found %d", at.Line)
	}
	if got := l.Sorted(); len(got) != 4 || got[0].Message != "found 0" || got[1].Message != "found 3" || got[3].Place != there {
		t.Errorf("got %v", got)
	}
}

// TestFull: who looks for mistakes may stop where there are errors and no more findings are kept, and not before: a file
// of which only a part was read must be wrong.
func TestFull(t *testing.T) {
	var warned, wrong List
	for range mostShown {
		warned.Warnf("r", Place{}, "m")
		if wrong.Full() {
			t.Fatalf("full with %d findings", wrong.Len())
		}
		wrong.Errorf("r", Place{}, "m")
	}
	if warned.Full() || !wrong.Full() {
		t.Errorf("with %d warnings %v, with as many errors %v", mostShown, warned.Full(), wrong.Full())
	}
}

// TestWordsAreBounded: a message holds no more of a file than somebody may read, however often it is repeated.
func TestWordsAreBounded(t *testing.T) {
	var l List
	fits, long := strings.Repeat("x", longestWords), strings.Repeat("ä", longestWords)
	if f := l.Errorf("r", Place{}, "%s", fits); f.Message != fits {
		t.Errorf("%d bytes of %d were kept", len(f.Message), len(fits))
	}
	f := l.Errorf("r", Place{}, "%s%s", long, long).WithHint("%s", long).WithNote(Place{}, "a %q", long)
	for _, text := range []string{f.Message, f.Hint, f.Notes[0].Message} {
		if len(text) > longestWords || len(text) < longestWords-4 || !strings.HasSuffix(strings.TrimSuffix(text, `"`), cutMark) {
			t.Errorf("%d bytes: %.10q … %q", len(text), text, text[len(text)-6:])
		}
	}
}

// TestHintsAreBounded: names are compared as long as that is little work and somebody sees the hint.
func TestHintsAreBounded(t *testing.T) {
	known := make([]string, mostCompared/2)
	for i := range known {
		known[i] = "somewhere"
	}
	known[0] = "tray"
	var l List
	for range 2 {
		if got := l.Nearest("trya", known); got != "tray" {
			t.Errorf("got %q", got)
		}
	}
	if got := l.Nearest("trya", known[:1]); got != "" || l.compared != mostCompared || l.MayCompare(1) {
		t.Errorf("got %q after %d names", got, l.compared)
	}
	var full List
	for range mostShown {
		full.Errorf("r", Place{}, "m")
	}
	if got := full.Nearest("trya", known[:1]); got != "tray" {
		t.Errorf("the last finding that is kept has the hint %q", got)
	}
	full.Errorf("r", Place{}, "m")
	if got := full.Nearest("trya", known[:1]); got != "" {
		t.Errorf("a finding that is not kept has the hint %q", got)
	}
}
