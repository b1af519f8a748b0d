package move

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// one is a list with a move of every kind, and texts that ask for quotes.
func one() Seq {
	at := Point{geom.Vec{X: 1.0 / 3, Y: -0.0000000001, Z: 1e6}, geom.RPY{Roll: 180, Yaw: -90.5}}
	target := Target{Grid: "tray", Slot: slot.Slot{Row: 26, Col: 1, Layer: 2}, Layered: true}
	return slices.Values([]Move{
		{N: 1, Kind: Select, Frame: "bath", Tool: "jaw", Load: 0.85, Place: diag.Place{Line: 7}},
		{N: 2, Transfer: 1, Leg: 1, Kind: Travel, Target: Target{Pose: "clear"}, Frame: "bath", At: at, Base: at, Speed: 500, FlyBy: 15, Tool: "jaw"},
		{N: 3, Transfer: 1, Leg: 1, Kind: Straight, Target: target, Frame: "bath", At: at, Base: at, Speed: 80, Tool: "jaw"},
		{N: 4, Kind: Grip, Target: target, Signal: 1, Level: true, Tool: "jaw", ID: new("-S 4, \"old\"")},
		{N: 5, Kind: Release, Target: target, Signal: 1, Tool: "jaw"},
		{N: 6, Kind: Set, Signal: 0, Level: true},
		{N: 7, Kind: Await, Signal: 4, Seconds: 2.5},
		{N: 8, Kind: Dwell, Seconds: 0.1},
		{N: 9, Kind: Note, Text: "a \"b\", c\nd\te \u2028 \x01"},
	})
}

// TestCSVAgainstTheStandardReader reads the list back with encoding/csv (RFC 4180).
func TestCSVAgainstTheStandardReader(t *testing.T) {
	var b bytes.Buffer
	if err := WriteCSV(&b, 0, Batched(one())); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(records) != 10 {
		t.Fatalf("%d records, %v", len(records), err)
	}
	field := func(n int, name string) string { return records[n][slices.Index(records[0], name)] }
	for _, c := range []struct {
		n          int
		name, want string
	}{
		{1, "action", "select"}, {1, "load", "0.85"}, {1, "line", "7"}, {1, "x", ""}, {1, "leg", ""}, {1, "transfer", "0"},
		{2, "x", "0.333333333"}, {2, "y", "0"}, {2, "z", "1000000"}, {2, "yaw", "-90.5"}, {2, "fly_by", "15"}, {2, "line", ""},
		{3, "target", "tray AA2.3"}, {3, "fly_by", "0"}, {4, "level", "on"}, {4, "id", "'-S 4, \"old\""}, {5, "id", ""}, {5, "level", "off"}, {6, "signal", "0"},
		{7, "seconds", "2.5"}, {8, "seconds", "0.1"}, {9, "text", "a \"b\", c\nd\te \u2028 \x01"},
	} {
		if got := field(c.n, c.name); got != c.want {
			t.Errorf("move %d has %s %q, wanted %q", c.n, c.name, got, c.want)
		}
	}
}

// The joints stand at the end: a column each in CSV, a list in JSON lines, and nothing where a move
// has none.
func TestJointsInLists(t *testing.T) {
	moves := []Move{
		{N: 1, Kind: Travel, Joints: &arm.Readings{-12.5, 90, 1.0 / 3}},
		{N: 2, Kind: Grip},
	}
	var table, lines bytes.Buffer
	if err := WriteCSV(&table, 3, Batched(slices.Values(moves))); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(&table).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][]string{{"j1", "j2", "j3", "configuration"}, {"-12.5", "90", "0.333333333", ""}, {"", "", "", ""}} {
		if got := records[i][len(records[i])-4:]; !slices.Equal(got, want) {
			t.Errorf("line %d ends with %q, wanted %q", i+1, got, want)
		}
	}
	if err := WriteJSONL(&lines, 3, Batched(slices.Values(moves))); err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{`,"joints":[-12.5,90,0.333333333]}`, `"level":"off"}`} {
		if line := strings.Split(lines.String(), "\n")[i]; !strings.HasSuffix(line, want) || !json.Valid([]byte(line)) {
			t.Errorf("line %d is %s, wanted it to end with %s", i+1, line, want)
		}
	}
}

// TestJSONLinesAgainstTheStandardReader reads the list back with encoding/json.
func TestJSONLinesAgainstTheStandardReader(t *testing.T) {
	var b bytes.Buffer
	if err := WriteJSONL(&b, 0, Batched(one())); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if len(lines) != 9 {
		t.Fatalf("%d lines", len(lines))
	}
	var m map[string]any
	for n, want := range map[int]map[string]any{
		4: {"n": 4.0, "transfer": 0.0, "action": "grip", "target": "tray AA2.3", "tool": "jaw", "signal": 1.0, "level": "on", "id": "-S 4, \"old\""},
		6: {"n": 6.0, "transfer": 0.0, "action": "set", "signal": 0.0, "level": "on"},
		8: {"n": 8.0, "transfer": 0.0, "action": "dwell", "seconds": 0.1},
		9: {"n": 9.0, "transfer": 0.0, "action": "note", "text": "a \"b\", c\nd\te \u2028 \x01"},
	} {
		m = nil
		if err := json.Unmarshal([]byte(lines[n-1]), &m); err != nil {
			t.Fatalf("line %d: %v", n, err)
		}
		if len(m) != len(want) {
			t.Errorf("line %d has the keys of %v, wanted those of %v", n, m, want)
		}
		for key, value := range want {
			if m[key] != value {
				t.Errorf("line %d has %s %v, wanted %v", n, key, m[key], value)
			}
		}
	}
}

// TestNumbersKeepTheirTruth: the list carries at least six decimals of a millimetre,
// no exponent and no negative zero.
func TestNumbersKeepTheirTruth(t *testing.T) {
	for value, want := range map[float64]string{
		0: "0", math.Copysign(0, -1): "0", -1e-12: "0", 0.1: "0.1", 1e9: "1000000000", -0.000001: "-0.000001",
		123456.123456: "123456.123456", 2.0 / 3: "0.666666667", 100: "100",
	} {
		if got := string(appendNumber(nil, value)); got != want {
			t.Errorf("%v is written %s, wanted %s", value, got, want)
		}
	}
}

func TestTableFitsItsWidth(t *testing.T) {
	for _, width := range []int{0, 20, 60, 200} {
		var b bytes.Buffer
		if err := WriteTable(&b, Batched(one()), width); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(b.String(), "\n")
		for _, line := range lines[:len(lines)-2] { // the counts at the end are for reading, and wrap
			if n := utf8.RuneCountInString(line); width > 0 && n > width {
				t.Errorf("%d wide where %d fit: %s", n, width, line)
			}
		}
		if strings.Contains(b.String(), "…") != (width == 20 || width == 60) {
			t.Errorf("at a width of %d:\n%s", width, b.String())
		}
	}
}

// full fails after a number of bytes.
type full struct{ left int }

func (f *full) Write(p []byte) (int, error) {
	if len(p) > f.left {
		return 0, errors.New("no space left")
	}
	f.left -= len(p)
	return len(p), nil
}

func TestFormatsReportADiskThatIsFull(t *testing.T) {
	many := Batched(func(yield func(Move) bool) {
		for range 5000 {
			for m := range one() {
				if !yield(m) {
					return
				}
			}
		}
	})
	for _, space := range []int{0, 1 << 16, 1 << 18} {
		if WriteCSV(&full{space}, 0, many) == nil || WriteJSONL(&full{space}, 0, many) == nil || WriteTable(&full{space}, many, 80) == nil {
			t.Errorf("a disk that is full after %d bytes goes unseen", space)
		}
	}
}

func TestCount(t *testing.T) {
	c := Count(Batched(one()))
	for _, k := range Kinds {
		if c.Kind[k] != 1 {
			t.Errorf("%d of %s, wanted 1", c.Kind[k], k)
		}
	}
	if c.Moves != 9 || c.Transfers != 1 || c.Output != 1 || c.Input != 4 {
		t.Errorf("counted %+v", c)
	}
	if len(Kinds) != len(kinds)-1 {
		t.Errorf("%d kinds are listed and %d have names", len(Kinds), len(kinds)-1)
	}
}
