package urdf

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/plan/diag"
)

func read(t *testing.T, file string) (*Robot, []diag.Finding) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list diag.List
	return Read(filepath.Base(file), string(data), &list), list.Sorted()
}

func files(t *testing.T, folder string) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join("testdata", folder, "*.urdf"))
	if err != nil || len(all) == 0 {
		t.Fatalf("no files in %s: %v", folder, err)
	}
	return all
}

func TestGoodFiles(t *testing.T) {
	for _, file := range files(t, "good") {
		if robot, found := read(t, file); robot == nil || len(found) > 0 {
			t.Errorf("%s: found %+v", file, found)
		}
	}
}

// What is found in each file that is not good: the first finding's place and rule.
var faults = map[string]string{
	"circle": "1:1 bad-urdf", "crossed": "2:21 bad-urdf", "doctype": "1:1 bad-urdf", "infinite": "4:45 not-a-number", "joint-twice": "6:16 repeated-name",
	"no-effort": "4:75 missing-key", "no-geometry": "2:21 missing-key", "no-limit": "4:3 missing-key", "no-links": "1:1 bad-urdf",
	"no-name": "2:3 missing-key", "no-parent": "4:3 missing-key", "no-robot": "1:1 bad-urdf", "no-velocity": "4:75 missing-key",
	"not-closed": "1:1 bad-urdf", "not-xml": "3:19 bad-urdf", "shape-unknown": "2:42 bad-urdf", "twice": "3:15 repeated-name",
	"two-numbers": "4:45 not-a-number", "two-roots": "1:1 bad-urdf", "unknown-link": "4:66 unknown-name", "unknown-type": "4:25 unknown-word",
	"word": "4:45 not-a-number",

	"macro": "2:3 urdf-macros", "reversed-range": "4:75 out-of-range", "substitution": "2:15 urdf-macros", "two-parents": "7:66 bad-urdf", "zero-axis": "4:88 no-direction",
}

func TestBadFiles(t *testing.T) {
	all := append(files(t, "bad"), files(t, "strict")...)
	if len(all) != len(faults) {
		t.Errorf("there are %d files, and %d faults", len(all), len(faults))
	}
	for _, file := range all {
		robot, found := read(t, file)
		name := strings.TrimSuffix(filepath.Base(file), ".urdf")
		if robot != nil || len(found) == 0 {
			t.Errorf("%s: nothing was found", name)
			continue
		}
		f := found[0]
		if got := fmt.Sprintf("%d:%d %s", f.Place.Line, f.Place.Col, f.Rule); got != faults[name] || f.Hint == "" || len(found) > 1 {
			t.Errorf("%s: %s: %s (%s), %d findings, wanted %s", name, got, f.Message, f.Hint, len(found), faults[name])
		}
	}
}

// TestAgreesWithOthers asks Debian's parser of the format what it makes of each file: it takes the good
// ones and finds fault with the bad ones, but not with those in "strict", which are well-formed and no
// arm that could be moved.
func TestAgreesWithOthers(t *testing.T) {
	for folder, good := range map[string]bool{"good": true, "bad": false, "strict": true} {
		for _, file := range files(t, folder) {
			if got := outside.Takes(t, "liburdfdom-tools", "check_urdf", file); got != good {
				t.Errorf("%s: check_urdf takes it: %v, wanted %v", file, got, good)
			}
		}
	}
}

// What the format says is turned into our units: metres and radians into mm and degrees.
func TestFigures(t *testing.T) {
	robot, _ := read(t, "testdata/good/bench-arm.urdf")
	c, ok := robot.Chain(Text{}, Text{}, diag.Place{}, new(diag.List))
	if !ok || len(c.Links) != 8 || len(c.Moving()) != 6 {
		t.Fatalf("the chain is %+v", c)
	}
	j := c.Moving()
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s is %v, wanted %v", what, got, want)
		}
	}
	near("lower of J1", j[0].Lo, -170)
	near("upper of J2", j[1].Hi, 120)
	near("speed of J1", j[0].Speed, 200)
	near("pitch of the flange", c.Joints[6].Origin.RPY[1], 90)
	if j[1].Origin.XYZ != [3]float64{40, 0, 300} || j[3].Axis != [3]float64{1, 0, 0} || j[3].Lo != -360 || j[3].Hi != 360 || j[3].Speed != 0 {
		t.Errorf("J2 %+v, J4 %+v", j[1], j[3])
	}
	foot, column, fore := c.Links[0].Shapes[0], c.Links[1].Shapes[0], c.Links[3].Shapes[0]
	if foot.Size != [3]float64{200, 240, 200} || foot.Origin.XYZ[2] != 100 || !column.Round || column.Length != 300 || column.Radius != 80 || fore.Radius != 70 || fore.Length != 0 {
		t.Errorf("shapes %+v %+v %+v", foot, column, fore)
	}
	if len(c.Links[3].Meshes) != 0 {
		t.Errorf("what is only looked at counts: %+v", c.Links[3].Meshes)
	}
}

func TestChain(t *testing.T) {
	robot, _ := read(t, "testdata/good/fork.urdf")
	name := func(v string) Text { return Text{v, diag.Place{File: "cell", Line: 1}} }
	for _, c := range []struct {
		from, to Text
		rule     string
	}{
		{Text{}, Text{}, "urdf-tips"}, {Text{}, name("left"), ""}, {name("base"), name("left"), ""}, {Text{}, name("right"), "urdf-joint"},
		{name("right"), name("left"), "urdf-apart"}, {name("bass"), name("left"), "unknown-name"},
	} {
		var list diag.List
		_, ok := robot.Chain(c.from, c.to, diag.Place{File: "cell", Line: 2}, &list)
		found := list.Sorted()
		if ok != (c.rule == "") || !ok && (len(found) != 1 || found[0].Rule != c.rule || found[0].Hint == "") {
			t.Errorf("from %q to %q: %v, %+v, wanted %q", c.from.V, c.to.V, ok, found, c.rule)
		}
	}
}

// TestHostileURDF: what a file may hold is bounded, and nothing in it is followed.
func TestHostileURDF(t *testing.T) {
	deep := strings.Repeat("<a>", 1000) + strings.Repeat("</a>", 1000)
	for rule, text := range map[string]string{
		"nested-too-deep": "<robot name=\"a\">" + deep + "</robot>",
		"too-many-values": "<robot name=\"a\">" + strings.Repeat("<material/>", mostElements+1) + "</robot>",
		"bad-urdf":        "<?xml version=\"1.0\"?><!DOCTYPE robot SYSTEM \"/etc/passwd\"><robot name=\"a\"><link name=\"b\"/></robot>",
		"not-utf8":        "<robot name=\"\xff\"/>",
		"bad-name":        "<robot name=\"a\"><link name=\"" + strings.Repeat("x", 100) + "\"/></robot>",
		"out-of-range":    "<robot name=\"a\"><link name=\"b\"><collision><geometry><sphere radius=\"-1\"/></geometry></collision></link></robot>",
		"not-a-number":    "<robot name=\"a\"><link name=\"b\"><collision><geometry><sphere radius=\"0x1p4\"/></geometry></collision></link></robot>",
	} {
		var list diag.List
		if robot := Read("f", text, &list); robot != nil || list.Len() != 1 || list.Sorted()[0].Rule != rule {
			t.Errorf("%s: found %+v", rule, list.Sorted())
		}
	}
	var list diag.List
	many := "<robot name=\"a\">"
	for i := range mostLinks + 500 {
		many += fmt.Sprintf("<link name=\"l%d\"/>", i)
	}
	if Read("f", many+"</robot>", &list); list.Len() == 0 || list.Sorted()[0].Rule != "too-many-values" {
		t.Errorf("found %+v", list.Sorted())
	}
	// A mark of the byte order, line ends of all kinds, and an entity of XML itself.
	list = diag.List{}
	if robot := Read("f", "\ufeff<robot name=\"a\">\r<link\r\nname=\"b&amp;c\"/></robot>", &list); robot == nil || robot.Links[0].Name.V != "b&c" || robot.Links[0].Name.Place.Line != 3 || robot.Links[0].Name.Place.Col != 7 {
		t.Errorf("found %+v, %+v", robot, list.Sorted())
	}
}

//fuzz:2s
func FuzzURDF(f *testing.F) {
	for _, folder := range []string{"good", "bad", "strict"} {
		all, _ := filepath.Glob(filepath.Join("testdata", folder, "*.urdf"))
		for _, file := range all {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(data))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		robot := Read("f", text, &list)
		if robot == nil {
			if !list.HasErrors() {
				t.Error("refused without a word")
			}
			return
		}
		for _, l := range robot.Links {
			if c, ok := robot.Chain(Text{}, Text{l.Name.V, diag.Place{File: "f", Line: 1}}, diag.Place{}, new(diag.List)); ok && len(c.Links) != len(c.Joints)+1 {
				t.Errorf("%d links, %d joints", len(c.Links), len(c.Joints))
			}
		}
		var again diag.List
		if back := Read("f", string(Write(robot)), &again); back == nil {
			t.Errorf("what was written is not read: %+v\n%s", again.Sorted(), Write(robot))
		}
	})
}
