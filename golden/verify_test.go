package golden

import (
	"os"
	"strings"
	"testing"
)

// TestVerifyFindsByHand changes programs by hand as people do, one slip each, and holds
// what verify says of it.
func TestVerifyFindsByHand(t *testing.T) {
	demoCopy(t)
	const plan = "mortar-cubes.plan.yaml"
	checked := run("check", plan)
	said := checked.stdout + checked.stderr
	total := said[strings.Index(said, "in ")+3 : strings.Index(said, " moves")]
	for _, c := range []struct {
		family, gone, come string
		want               []string
	}{
		{"starter", "", "", []string{"the same: all " + total + " moves are as planned; not compared: 2 note\n"}},
		{"iso6983", "", "", []string{"the same: all " + total + " moves are as planned; not compared: 277 select, "}},
		{"starter", "select frame=bath tool=jaw load=0.850\n", "", []string{
			"(select frame bath, tool jaw, plan line 38) is missing",
			"2 points are taken behind it, up to move 8, with frame base instead of bath: the arm goes elsewhere",
			"different: of " + total + " moves 1 missing\n",
		}},
		{"starter", "select frame=stand tool", "select frame=pan tool", []string{"frame is pan instead of stand", "with frame pan instead of stand: the arm goes elsewhere"}},
		{"listing", "down to tray A2 at", "down to tray B2 at", []string{`it goes to "tray B2" instead of "tray A2"`, "of " + total + " moves 1 changed"}},
		{"listing", "\n     7  ", "\n     8  ", []string{"number is 8 instead of 7", "of " + total + " moves 1 changed"}},
		{"iso6983", "M10\n", "M10 (holds (the) cube)\n", []string{"the comment on this line is not closed, or another one begins in it"}},
	} {
		text := mustRun(t, "write", plan, "--family", c.family, "-o", "-")
		if !strings.Contains(text, c.gone) {
			t.Fatalf("%s: no %q in the program", c.family, c.gone)
		}
		if err := os.WriteFile("program", []byte(strings.Replace(text, c.gone, c.come, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		r := run("verify", "program", "--plan", plan, "--family", c.family)
		for _, want := range c.want {
			if !strings.Contains(r.stdout, want) || (r.status == 0) != (c.gone == "") {
				t.Errorf("%s, %q for %q: status %d without %q:\n%s%s", c.family, c.come, c.gone, r.status, want, r.stdout, r.stderr)
			}
		}
	}
}
