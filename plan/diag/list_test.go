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
