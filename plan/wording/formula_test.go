package wording

import "testing"

// TestInert: the signs are those that the OWASP page "CSV Injection" names (from memory).
func TestInert(t *testing.T) {
	for text, want := range map[string]string{
		"=1+1": "'=1+1", "+1+1": "'+1+1", "-A1": "'-A1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1",
		"-": "'-", "-1-1": "'-1-1", "+1 mm": "'+1 mm", "-Inf": "'-Inf",
		"-12.5": "-12.5", "+5": "+5", "-0,25": "-0,25", "": "", "'": "'", "tray A1": "tray A1", "a=1": "a=1", "'tis": "'tis", "'-5": "'-5",
		"'=1": "''=1", "''=1": "'''=1",
	} {
		if got := Inert(text); got != want || FromInert(got) != text {
			t.Errorf("%q is written %q and read %q, wanted %q", text, got, FromInert(got), want)
		}
	}
}

func FuzzInert(f *testing.F) {
	f.Add("=1")
	f.Add("'-5")
	f.Fuzz(func(t *testing.T, text string) {
		if got := FromInert(Inert(text)); got != text {
			t.Fatalf("%q is read as %q", text, got)
		}
	})
}
