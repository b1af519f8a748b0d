package golden

import (
	"os"
	"strings"
	"testing"
)

// TestCompareFindsBesideTheMoves: what no reading takes, and what is no move, is compared
// all the same between programs of one family, and tool centres between plans.
func TestCompareFindsBesideTheMoves(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: many programs are compared")
	}
	demoCopy(t)
	const plan = "mortar-cubes.plan.yaml"
	mustRun(t, "families", "copy", "starter", "arms")
	change(t, "arms/family.yaml", []edit{{"'travel x", "'travel (?:front|back) id [A-Z0-9]+ x"}})
	change(t, "arms/program.tmpl", []edit{{"travel {{template", "travel front id S7 {{template"}})
	programs := map[string]string{} // by family
	for _, c := range []struct{ family, gone, come, want string }{
		{"st", "WIDTH : DINT := 16;", "WIDTH : DINT := 17;", `"WIDTH : DINT := 16;" becomes "WIDTH : DINT := 17;"`},
		{"st", "ACCELERATION : LREAL := 2500.000;", "ACCELERATION : LREAL := 2501.000;", "ACCELERATION"},
		{"st", " 132.000,", " 182.000,", "182.000"},
		{"st", " 1.0, 1.0,      0.0, 0.0,", " 1.5, 1.0,      0.0, 0.0,", "a line that the family does not know: only in the second"},
		{"st", "78.593,", "48.593,", "centre of gravity, 78.59"},
		{"listing", "Z 132.0; 0.850 kg", "Z 182.0; 0.850 kg", "182.0"},
		{"listing", "in to tray A2 at", "in to tray B2 at", `"tray A2" becomes "tray B2"`},
		{"./arms", "travel front", "travel back", `"travel front id S7`},
		{"./arms", "id S7", "id S8", "id S8"},
	} {
		text, again := programs[c.family]
		if !again {
			text = mustRun(t, "write", plan, "--family", c.family, "-o", "-")
			programs[c.family] = text
		}
		if !strings.Contains(text, c.gone) {
			t.Fatalf("%s: no %q in the program", c.family, c.gone)
		}
		for name, text := range map[string]string{"a": text, "b": strings.Replace(text, c.gone, c.come, 1)} {
			if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		for _, other := range []string{"a", plan} {
			args := []string{"compare", other, "b", "--family", c.family}
			if c.family == "./arms" && other == "a" {
				args = append(args, "--plan", plan) // its frames are at the controller
			}
			if r := run(args...); r.status != 1 || !strings.Contains(r.stdout, c.want) {
				t.Errorf("%s, %q for %q, beside %s: status %d\n%s%s", c.family, c.come, c.gone, other, r.status, r.stdout, r.stderr)
			}
			if again {
				continue
			}
			args[2] = "a"
			if r := run(args...); r.status != 0 {
				t.Errorf("%s, beside %s: status %d\n%s%s", c.family, other, r.status, r.stdout, r.stderr)
			}
		}
	}
	text := mustRun(t, "write", plan, "--family", "iso6983", "-o", "-")
	if err := os.WriteFile("b", []byte(strings.Replace(text, ")\n", "\r)\n", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if r := run("compare", plan, "b", "--family", "iso6983"); r.status != 1 || !strings.Contains(r.stdout, `ends in CR and not in LF" is only in the second`) {
		t.Errorf("a carriage return in a remark: status %d\n%s%s", r.status, r.stdout, r.stderr)
	}
	longer := strings.NewReplacer("132]", "182]", "[0, 0, 61]", "[30, 0, 61]").Replace
	for from, to := range map[string]string{"bench.cell.yaml": "longer.cell.yaml", plan: "longer.plan.yaml"} {
		data, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, []byte(strings.Replace(longer(string(data)), "bench.cell", "longer.cell", 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if r := run("compare", plan, "longer.plan.yaml"); r.status != 1 || !strings.Contains(r.stdout, "tool jaw: centre point") || !strings.Contains(r.stdout, "tool jaw: centre of gravity X 0.000") {
		t.Errorf("a tool 50 mm longer, its mass 30 mm aside: status %d\n%s%s", r.status, r.stdout, r.stderr)
	}
}

// TestVerifyFindsByHand changes programs by hand as people do, one slip each, and holds
// what verify says of it.
func TestVerifyFindsByHand(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: many programs are read")
	}
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
		{"iso6983", "", "", []string{"the same: all " + total + " moves are as planned; not compared: 231 select, 2 note\n"}}, // and all travels, though the first is written as a line
		{"starter", "select frame=bath tool=jaw load=0.850\n", "", []string{
			"(select frame bath, tool jaw, plan line 38) is missing",
			"so 2 points behind it, up to move 8, are taken with frame base instead of bath: the arm goes elsewhere",
			"different: of " + total + " moves 1 missing\n",
		}},
		{"starter", "select frame=stand tool", "select frame=pan tool", []string{"frame is pan instead of stand", "with frame pan instead of stand: the arm goes elsewhere"}},
		{"starter", "select frame=stand tool", "select frame=nowhere tool", []string{"frame is unknown instead of stand"}},
		{"listing", "Select frame base and tool jaw", "Select tool jaw", []string{"frame is not given instead of base"}},
		{"listing", "in to tray A2 at", "in to tray B2 at", []string{`it goes to "tray B2" instead of "tray A2"`, "of " + total + " moves 1 changed"}},
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
