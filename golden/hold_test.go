package golden

import (
	"strings"
	"testing"

	"gridferry/gen/goldens"
)

// files is what one case gives, by file name.
type files = goldens.Files

// howToRecord tells how a text that comes out is recorded.
const howToRecord = "go test ./golden -update"

// hold compares what make gives with what is recorded in a folder, or records
// it with -update, after proving it in both cases. "gridferry golden" does the
// same for the cases of a team, with the same code.
func hold(t *testing.T, folder string, make func() files) {
	t.Helper()
	got := make()
	again := got
	if updating() || !testing.Short() {
		again = make()
	}
	if faults := goldens.Prove(got, again, '.'); len(faults) > 0 {
		t.Fatalf("cannot be recorded:\n%s", strings.Join(faults, "\n"))
	}
	want, err := goldens.Read(folder)
	if updating() && err == nil {
		want, err = got, got.Record(folder, want)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range goldens.Differences(want, got, howToRecord) {
		t.Error(d)
	}
}
