package rules

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestNames(t *testing.T) {
	upper := defaultNames()
	upper.Case, upper.Longest = "upper", 12
	words := defaultNames()
	words.reserve("STEP")
	words.reserve("n")
	digits := defaultNames()
	digits.First, digits.Letters, digits.Replace = mustCharSet("O"), mustCharSet("O0-9"), ""
	for _, c := range []struct {
		rules Names
		text  string
		want  string
	}{
		{defaultNames(), "Mortar cubes, 28 days", "Mortar_cubes_28_days"},
		{defaultNames(), "tray A1", "tray_A1"},
		{defaultNames(), "a__b--c  d", "a_b_c_d"}, // IEC 61131-3 table 2: no two underscores in a row
		{defaultNames(), "_end_", "end"},          // and none at the end
		{defaultNames(), "Prüfkörper Größe 3", "Prufkorper_Grosse_3"},
		{defaultNames(), "28 days", "n28_days"},
		{defaultNames(), "水槽", "n"},
		{defaultNames(), "", "n"},
		{defaultNames(), "a\n; STOP (*", "a_STOP"},
		{defaultNames(), strings.Repeat("long name ", 9), "long_name_long_name_long_nam_S37"},
		{upper, "jaw", "JAW"},
		{upper, "straße 1234567", "STRASSE_72R"},
		{words, "step", "step_1"},
		{words, "Step", "Step_1"},
		{words, "!", "n_1"},
		{digits, "slot A12", "O12"},
	} {
		if got := c.rules.Make(c.text); got != c.want {
			t.Errorf("Make(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestNamesInATableDiffer(t *testing.T) {
	n := defaultNames()
	n.Longest = 8
	texts := []string{"jaw-1", "jaw_1", "JAW 1", "lid", "incubator left", "incubator right", "Incubator left"}
	names := n.Table(texts)
	seen := map[string]bool{}
	for i, name := range names {
		if seen[strings.ToUpper(name)] || len(name) > n.Longest {
			t.Errorf("%q gives %q, in %q", texts[i], name, names)
		}
		seen[strings.ToUpper(name)] = true
	}
	if names[3] != "lid" {
		t.Errorf("a name that nothing is like was changed: %q", names[3])
	}
	// What a frame is called must not depend on its neighbours' order, nor on
	// what else the cell holds: the controller has the name stored.
	backwards := slices.Clone(texts)
	slices.Reverse(backwards)
	for i, name := range n.Table(append(backwards, "waste")) {
		if i < len(names) && name != names[len(names)-1-i] {
			t.Errorf("%q is %q or %q, as its neighbours stand", backwards[i], name, names[len(names)-1-i])
		}
	}
	if alone := n.Table([]string{"incubator left"}); alone[0] != names[4] {
		t.Errorf("a long name is %q alone and %q beside another", alone[0], names[4])
	}
}

// Checks can be alike too, one in thousands; then the order decides.
func TestNamesDifferEvenWhereChecksAreAlike(t *testing.T) {
	n := defaultNames()
	n.First, n.Letters, n.Replace, n.Longest = mustCharSet("O"), mustCharSet("O0-9"), "", 4
	var texts []string
	for i := range 300 {
		texts = append(texts, fmt.Sprintf("OOOOO%03d", i))
	}
	seen := map[string]bool{}
	for _, name := range n.Table(texts) {
		if seen[name] || len(name) > 4 {
			t.Fatalf("%q comes twice or is too long", name)
		}
		seen[name] = true
	}
}

func FuzzNames(f *testing.F) {
	for _, seed := range []string{"tray A1", "STEP", "é\u0301", "_", "9", "\x00\n"} {
		f.Add(seed)
	}
	// IEC 61131-3 table 2: a letter first, no double and no closing underscore.
	identifier := regexp.MustCompile(`^[A-Za-z](_?[A-Za-z0-9])*$`)
	n := defaultNames()
	n.reserve("step")
	f.Fuzz(func(t *testing.T, text string) {
		name := n.Make(text)
		if !identifier.MatchString(name) || len(name) > n.Longest || strings.EqualFold(name, "step") {
			t.Fatalf("Make(%q) = %q, which is no identifier", text, name)
		}
	})
}

func TestCharSet(t *testing.T) {
	set := mustCharSet("A-C_0-")
	for c, want := range map[rune]bool{'A': true, 'B': true, 'C': true, 'D': false, '_': true, '0': true, '-': true, 'é': false, -1: false} {
		if set.Has(c) != want {
			t.Errorf("Has(%q) = %v", c, !want)
		}
	}
	for _, bad := range []string{"Z-A", "é", "a b", "\x7f"} {
		if _, err := parseCharSet(bad); err == nil {
			t.Errorf("%q is no set of characters", bad)
		}
	}
}
