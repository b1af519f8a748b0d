package fitfile_test

import (
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/fitfile"
)

// A slip in one of three points makes another frame without a residual: the angle
// between the touched directions shows. Each of these was made from the first.
func TestSlipsInThreePoints(t *testing.T) {
	for _, c := range []struct{ points, want, hint string }{
		{"origin: [200, -300, 30], along_x: [600, -302, 30.4], toward_y: [202, 100, 29.8]", "", ""},
		{"origin: [200, -300, 30], along_x: [600, 302, 30.4], toward_y: [202, 100, 29.8]", "lie 33.3 degrees apart", "a sign, two axes or a unit?"},
		{"origin: [-300, 200, 30], along_x: [600, -302, 30.4], toward_y: [202, 100, 29.8]", "lie 17.9 degrees apart", `explained by X and Y exchanged in "origin"`},
		{"origin: [200, -300, 130], along_x: [600, 130.4, -302], toward_y: [202, 100, 129.8]", "lie 53.6 degrees apart", "a sign, two axes or a unit?"},
		{"origin: [200, -300, 30], along_x: [60, -30.2, 3.04], toward_y: [202, 100, 29.8]", "and its Z axis points down", `figures in centimetres in "along_x"`},
		{"origin: [200, -300, 30], along_x: [23.622, -11.89, 1.197], toward_y: [202, 100, 29.8]", "and its Z axis points down", `figures in inches in "along_x"`},
		// The same frame: toward_y only says on which side Y lies.
		{"origin: [200, -300, 30], along_x: [600, -302, 30.4], toward_y: [100, 202, 29.8]", "", ""},
	} {
		a, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.yaml", "three_points: {"+c.points+"}\n")
		if a == nil {
			t.Fatalf("%s: no answer", c.points)
		}
		if c.want == "" {
			if len(findings) != 0 {
				t.Errorf("%s: got %s", c.points, findings[0].Message)
			}
			continue
		}
		if len(findings) != 1 {
			t.Errorf("%s: got %d findings, want one", c.points, len(findings))
			continue
		}
		f := findings[0]
		if f.Rule != "points-oblique" || !strings.Contains(f.Message, c.want) || !strings.Contains(f.Hint, c.hint) || f.Place.Line != 1 || f.Place.Col != 15 {
			t.Errorf("%s: got %s: %s, hint %q", c.points, f.Place, f.Message, f.Hint)
		}
	}
}

// Just within 55 to 125 degrees there is no warning, just beyond there is; an
// equilateral triangle, as three pins make, may be off by a touch.
func TestObliqueLimits(t *testing.T) {
	for y, want := range map[string]int{
		"[57.6, 81.9, 0]": 1, "[57.1, 81.9, 0]": 0, "[-57.1, 81.9, 0]": 0, "[-57.6, 81.9, 0]": 1,
		"[50.5, 86.6, 0]": 0, "[-50.5, 86.6, 0]": 0,
	} {
		_, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.yaml", "three_points: {origin: [0, 0, 0], along_x: [100, 0, 0], toward_y: "+y+"}\n")
		if len(findings) != want {
			t.Errorf("toward_y %s: got %d findings, want %d", y, len(findings), want)
		}
	}
}

// One finding each, at its place, that says what the mistake may be.
func TestSlipsInSets(t *testing.T) {
	const good = "best_fit:\n  points:\n" +
		"  - {name: P1, nominal: [0, 0, 0], measured: [200.1, -300, 30]}\n" +
		"  - {name: P2, nominal: [400, 0, 0], measured: [600, -302.1, 30.3]}\n" +
		"  - {name: P3, nominal: [0, 400, 0], measured: [202, 100, 29.9]}\n" +
		"  - {name: P4, nominal: [400, 400, 0], measured: [602.1, 97.9, 30.2]}\n" +
		"  - {name: P5, nominal: [200, 200, 80], measured: [401, -101, 110.1]}\n"
	if _, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.yaml", good); len(findings) != 0 {
		t.Fatalf("got %+v, want nothing", findings)
	}
	const corners = "slot,x,y,z\nA1,40,40.1,25\nA6,365.1,40,25.3\nD1,39.9,235.1,25\nD6,365.1,235,25.4\n"
	const poses = "x,y,z,roll,pitch,yaw\n470,220,150,0,0,0\n470,350,320,1.5708,0,0\n350,220,330,0,1.5708,0\n480,170,150,0,0,1.5708\n470,50,280,-1.5708,0,0\n"
	for _, c := range []struct{ kind, name, text, place, rule, words string }{
		{"frame", "f.yaml", inUnit(good, 10), "f.yaml:2:3", "units-mixed", `the measured figures look like centimetres: write "cm" behind them, or multiply them by 10`},
		{"frame", "f.yaml", inUnit(good, 25.4), "f.yaml:2:3", "units-mixed", "the measured figures look like inches"},
		{"frame", "f.yaml", inUnit(good, 100), "f.yaml:2:3", "units-mixed", "the measured figures look like decimetres: multiply them by 100"},
		// So near to each other that a fit is refused.
		{"frame", "f.yaml", inUnit(good, 1000), "f.yaml:2:3", "units-mixed", "the measured figures look like metres"},
		{"frame", "f.yaml", inUnit(good, 0.1), "f.yaml:2:3", "units-mixed", "the nominal figures look like centimetres"},
		// Not every set that is ten times as large is in another unit.
		{"frame", "f.yaml", strings.Replace(good, "[401, -101, 110.1]", "[401, 5101, 110.1]", 1), "f.yaml:7:5", "residual-too-large", `touch "P5" again`},
		{"frame", "f.yaml", strings.Replace(good, "[602.1, 97.9, 30.2]", "[97.9, 602.1, 30.2]", 1), "f.yaml:6:5", "residual-too-large", "; suspect X and Y exchanged"},
		{"frame", "f.yaml", strings.Replace(good, "[602.1, 97.9, 30.2]", "[602.1, 9.79, 30.2]", 1), "f.yaml:6:5", "residual-too-large", "; suspect a slipped decimal point in Y"},
		{"frame", "f.yaml", strings.NewReplacer("200.1, -300", "-300, 200.1", "600, -302.1", "-302.1, 600", "202, 100", "100, 202", "602.1, 97.9", "97.9, 602.1", "401, -101", "-101, 401").Replace(good),
			"f.yaml:2:3", "bad-best-fit", "look for two axes that are exchanged"},
		{"grid", "f.csv", strings.Replace(corners, "A6,365.1", "A6,36.51", 1), "f.csv:3:1", "bad-corners", `suspect a slipped decimal point in X at "A6", or`},
		{"grid", "f.csv", strings.Replace(corners, "39.9,235.1", "235.1,39.9", 1), "f.csv:4:1", "bad-corners", `suspect X and Y exchanged at "D1"`},
		{"grid", "f.csv", strings.Replace(corners, "39.9,235.1", "-39.9,235.1", 1), "f.csv:2:1", "residual-too-large", `suspect the wrong sign of X at "A1", or the wrong sign of X at "D1"`},
		// A swap explains more than a sign does.
		{"grid", "f.csv", "slot,x,y,z\nA1,200,0,20\nA3,300,50,20\nB1,200,50,20\nB3,300,0,20\n", "f.csv:1:1", "bad-corners", "look for two neighbouring corners that are swapped"},
		{"grid", "f.csv", strings.Replace(corners, "D6", "D7", 1), "f.csv:5:1", "bad-corners", `corner "A6" and corner "D7" do not stand in one row or column`},
		{"grid", "f.csv", strings.Replace(corners, "D6", "E7", 1), "f.csv:5:1", "bad-corners", `corner "E7" shares neither its row nor its column`},
		{"tool", "f.csv", poses, "f.csv:2:1", "bad-pivot", `radians? Angles are in degrees: write "1.571 rad"`},
		{"tool", "f.csv", "x,y,z,roll,pitch,yaw\n1,2,3,0,0,0\n4,5,6,0,0,90\n7,8,9,0,0,180\n", "f.csv:1:1", "bad-pivot", "turn about one axis only"},
		{"tool", "f.csv", "name;x;y;z;rol;pitch;yaw\na;1;2;3;4;5;6\n", "f.csv:1:12", "bad-columns", `did you mean "roll"?`},
		{"tool", "f.csv", "name;x;y;z;a;b;c\na;1;2;3;4;5;6\n", "f.csv:1:1", "bad-columns", "wanted x, y, z, roll"},
	} {
		_, findings := solve(t, fitfile.Request{Kind: c.kind}, c.name, c.text)
		if len(findings) != 1 {
			t.Errorf("%s: got %d findings, want one", c.words, len(findings))
			continue
		}
		f := findings[0]
		if f.Place.String() != c.place || f.Rule != c.rule || !strings.Contains(f.Message+"\n"+f.Hint, c.words) {
			t.Errorf("got %s: %s [%s], hint %q\nwant %s [%s] %s", f.Place, f.Message, f.Rule, f.Hint, c.place, c.rule, c.words)
		}
		for _, note := range f.Notes {
			if strings.Contains(note.Message, "the others fit") {
				t.Errorf("%s: got the note %q", c.words, note.Message)
			}
		}
	}
}

// inUnit writes the measured figures in a unit that is so many mm long.
func inUnit(text string, mm float64) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		head, tail, found := strings.Cut(line, "measured: [")
		if !found {
			continue
		}
		figures := strings.Split(strings.TrimRight(tail, "]}"), ", ")
		for k, figure := range figures {
			v, _ := strconv.ParseFloat(figure, 64)
			figures[k] = strconv.FormatFloat(v/mm, 'f', 6, 64)
		}
		lines[i] = head + "measured: [" + strings.Join(figures, ", ") + "]}"
	}
	return strings.Join(lines, "\n")
}

// Three decimals everywhere are decimals where one figure could not be thousands.
func TestThreeDecimalsWithCommas(t *testing.T) {
	for with, without := range map[string]string{
		"-0,125;0,000;0,000\nalong_x;310,500;1,000;0,000": "-0.125,0,0\nalong_x,310.5,1,0",
		"5,125;1,000;1,000\nalong_x;1310,500;1,000;1,000": "5.125,1,1\nalong_x,1310.5,1,1",
	} {
		got := written(t, text, mustSolve(t, "f.csv", "name;x;y;z\norigin;"+with+"\ntoward_y;7;200;5\n"))
		want := written(t, text, mustSolve(t, "f.csv", "name,x,y,z\norigin,"+without+"\ntoward_y,7,200,5\n"))
		if got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", with, got, want)
		}
	}
}

// What separates columns may be wrong, too: the hint says what to write there.
func TestSeparatorsOfTables(t *testing.T) {
	for table, want := range map[string]string{
		"slot,x,y,z\nA1,1,5,2,3\n": `between figures with decimal commas write ";"`,
		"slot,x,y,z\nA1,1,2\n":     "",
		"nominal_x,y,z\n1,2,3\n":   "",
	} {
		_, findings := solve(t, fitfile.Request{Kind: "grid"}, "f.csv", table)
		if len(findings) != 1 || !strings.Contains(findings[0].Hint, want) || want == "" && findings[0].Hint != "" {
			t.Errorf("%q: got %+v", table, findings)
		}
	}
}

// A table with decimal commas is read where no comma can be anything else, and reported
// once where it can.
func TestDecimalCommas(t *testing.T) {
	want := written(t, text, mustSolve(t, "f.csv", "name,x,y,z\norigin,310,-210,42\nalong_x,520,-206,42.4\ntoward_y,307,-40,41.125\n"))
	for _, same := range []string{
		"name;x;y;z\norigin;310,0;-210,0;42,0\nalong_x;520,0;-206,0;42,4\ntoward_y;307;-40,00;41,125\n",
		"name;x;y;z\norigin;31,0 cm;-210,0;42,0\nalong_x;5,2e2;-206,0;42,4\ntoward_y;307;-40;41,125 mm\n",
		"name,x,y,z\norigin,\"310,0\",-210,42\nalong_x,520,-206,\"42,4\"\ntoward_y,307,-40,\"41,125\"\n",
	} {
		if got := written(t, text, mustSolve(t, "f.csv", same)); got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", same, got, want)
		}
	}
	for odd, words := range map[string]string{
		"name;x;y;z\norigin;310,000;-210,000;42,000\nalong_x;520,000;-206;42\ntoward_y;307;-40;41\n": "more than one number",
		"name;x;y;z\norigin;310,5;-210,5;42,5\nalong_x;520.5;-206,5;42\ntoward_y;307;-40;41\n":       "decimal points in the same table",
	} {
		_, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.csv", odd)
		if len(findings) != 1 || findings[0].Rule != "ambiguous-number" || findings[0].Place.String() != "f.csv:2:8" || !strings.Contains(findings[0].Message, words) {
			t.Errorf("%s: got %+v", odd, findings)
		}
	}
}
