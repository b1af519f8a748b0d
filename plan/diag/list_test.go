package diag

import "testing"

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
	if l.Len() != mostShown+7 || len(all) != mostShown+1 || !l.HasErrors() || last.Rule != "too-many-findings" || last.Message != "7 more findings are not shown" || last.Severity != Error {
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
