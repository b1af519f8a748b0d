package rules

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"gridferry/plan/wording"
)

func TestStem(t *testing.T) {
	short := fileNames()
	short.Letters, short.Replace, short.Case, short.Longest = mustCharSet("A-Z0-9_"), "_", "upper", 8
	tiny := short
	tiny.Replace, tiny.Longest = "", 4
	for _, c := range []struct {
		rules Rules
		plan  string
		want  string
	}{
		{Rules{}, "mortar-cubes.plan.yaml", "mortar-cubes"},
		{Rules{}, "<stdin>", "plan"},
		{Rules{}, "Prüfkörper.json", "Prüfkörper"},
		{Rules{}, ".plan.yaml", "program"},
		{Rules{}, "../../etc/passwd", "_.._etc_passwd"},
		{Rules{}, `..\up.yaml`, "_up"},
		{Rules{}, "c:evil\x00\u202e.yaml", "c_evil__"},
		{Rules{}, "...", "program"},
		{Rules{FileNames: &short}, "rack.plan.yaml", "RACK"},
		{Rules{FileNames: &short}, "tube-rack.plan.yaml", "TUBE_CB2"},
		{Rules{FileNames: &short}, "../../x", "X"},
		{Rules{}, "con.plan.yaml", "program_con"},
		{Rules{}, "Aux.2.plan.yaml", "program_Aux.2"},
		{Rules{}, "COM\u00b9.yaml", "program_COM\u00b9"},
		{Rules{FileNames: &short}, "nul.plan.yaml", "NUL_1"},
		{Rules{FileNames: &tiny}, "com0.plan.yaml", "CO10"},
	} {
		if got := c.rules.Stem(c.plan); got != c.want {
			t.Errorf("Stem(%q) = %q, want %q", c.plan, got, c.want)
		}
	}
	// Two plans that begin alike stay apart in a folder of 8.3 names.
	r := Rules{FileNames: &short}
	if a, b := r.Stem("mortar-cubes-2025.plan.yaml"), r.Stem("mortar-cubes-2026.plan.yaml"); a == b || len(a) > 8 || len(b) > 8 {
		t.Errorf("%q and %q", a, b)
	}
}

// All parts of all kinds of names differ, and none is the whole.
func TestPartsDiffer(t *testing.T) {
	short := fileNames()
	short.Replace, short.Longest = "", 8
	for _, whole := range []string{"MORTAJB2", "WAGON001", "A", "WAGON111", "ABCDE001"} {
		seen := map[string]bool{whole: true}
		for k := 1; k <= MostParts; k++ {
			name := short.OfPart(whole, k)
			if seen[name] || len(name) > 8 {
				t.Fatalf("part %d of %s is %q once more", k, whole, name)
			}
			seen[name] = true
		}
	}
}

func FuzzStem(f *testing.F) {
	for _, seed := range []string{"a.plan.yaml", "../x", "/", "\\", "..", "", "\x00", "CON", "a\u202eb", "-rf", "<stdin>", "\xff"} {
		f.Add(seed)
	}
	short := fileNames()
	short.Longest = 8
	f.Fuzz(func(t *testing.T, plan string) {
		for _, r := range []Rules{{}, {FileNames: &short}} {
			for _, name := range []string{r.Stem(plan) + ".nc", r.PartStem(plan, 7) + ".nc"} {
				if !filepath.IsLocal(name) || wording.IsDevice(name) || filepath.Base(name) != name || strings.ContainsAny(name, `/\:`) || strings.HasPrefix(name, ".") ||
					strings.IndexFunc(name, func(c rune) bool { return unicode.IsControl(c) || unicode.Is(unicode.Cf, c) }) >= 0 {
					t.Fatalf("%q becomes the file %q", plan, name)
				}
			}
		}
	})
}

// TestShortNamesSayTheRun: under the old 8.3 rules a prove-out and a resumed job have
// names of their own that say so, and so have their parts; none is that of the job.
func TestShortNamesSayTheRun(t *testing.T) {
	r := Default()
	n := fileNames()
	n.Longest, n.Case, n.Replace, n.Letters = 8, "upper", "", mustCharSet("A-Z0-9")
	r.FileNames = &n
	seen := map[string]string{}
	for plan, ends := range map[string]string{
		"mortar-cubes.plan.yaml": "", "mortar-cubes-prove-out": "P", "mortar-cubes-from-3": "R3", "mortar-cubes-from-12": "R12",
		"mortar-cubes-from-3-holding": "R3H", "mortar-cubes-prove-out-from-3": "PR3",
	} {
		for _, name := range []string{r.Stem(plan), r.PartStem(plan, 1), r.PartStem(plan, 2)} {
			if seen[name] != "" || len(name) > 8 || !strings.HasSuffix(strings.TrimRight(name, "0123456789"), strings.TrimRight(ends, "0123456789")) {
				t.Errorf("%s: %q (%s)", plan, name, seen[name])
			}
			seen[name] = plan
		}
		if name := r.Stem(plan); !strings.HasSuffix(name, ends) {
			t.Errorf("%s: %q does not end in %q", plan, name, ends)
		}
	}
}
