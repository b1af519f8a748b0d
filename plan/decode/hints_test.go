package decode

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// What was probably meant stands in the hint of the one finding.
func TestHintsForWhatWasMeant(t *testing.T) {
	for text, want := range map[string]string{
		"at: [30,5, 0, 1]":            "a decimal point, not a comma: 30.5?",
		"at: [1, -30,5 mm, 0]":        "a decimal point, not a comma: -30.5 mm?",
		"at: [1,5, 2,5, 0]":           "a decimal point, not a comma: 1.5, 2.5?",
		"at: [1,5,2,5]":               "leave out 1 of them, or write decimals with a point, not a comma: 30.5",
		"at: [0,0,0,1]":               "leave out 1 of them, or",
		"at: [300,0,420,180,0,0]":     "\"rpy: [roll, pitch, yaw]\", or write decimals with a point",
		"count: “5”":                  "write 5; word",
		"at: [1, 5, 2, 5]":            "leave out 1 of them",
		"at: [\"1\",5, 2, 5]":         "leave out 1 of them",
		"at: [1.5,5, 2, 5]":           "leave out 1 of them",
		"at: [1, 2, 3, 180, 0, 0]":    "write the orientation under a key of its own",
		"at: [1; 2; 3]":               "write commas between the figures",
		"at: [1, 2]":                  "write every figure, 0 as well",
		"at: 1, 2, 3":                 "put it in brackets: [1, 2, 3]",
		"at: (1; 2; 3)":               "put it in brackets: [1, 2, 3]",
		"at: {x: 1, y: 2, z: 3}":      "write the figures alone, in brackets: [x, y, z]",
		"{mass: 60,5}":                "a decimal point, not a comma: 60.5?",
		"{mass: 60, 5}":               "it has: at, mass, count, word, who, box",
		"mass: “60”":                  "write 60;",
		"mass: “60 g”":                `write "60 g";`,
		"word: „on“":                  `write "on";`,
		"who: «a»":                    `write "a";`,
		"count: \"5\"":                "write it without quotes: 5",
		"count: \"five\"":             "write a whole number in decimal digits, without quotes",
		"box: [1, 2]":                 "write \"key: value\" without \"-\"",
		"who: 'a”'":                   "use letters, digits",
		"at: [1,\n5, 2, 5]":           "leave out 1 of them",
		"{mass: 60,5, count: 1}":      "a decimal point, not a comma: 60.5?",
		"{count: 1, mass: 60,05 kg }": "a decimal point, not a comma: 60.05 kg?",
	} {
		list := readEverything(t, text)
		if len(list) != 1 || !strings.Contains(list[0].Hint, want) {
			t.Errorf("%s: got %+v, want one finding with the hint %q", text, list, want)
		}
	}
}

// readEverything reads a mapping with a key of every sort.
func readEverything(t *testing.T, text string) []diag.Finding {
	t.Helper()
	var list diag.List
	n, ok := File("f", text+"\n", &list)
	if !ok {
		t.Fatalf("%s: %+v", text, list.Sorted())
	}
	r := Reader{List: &list}
	var at Value[[3]float64]
	var mass Value[float64]
	var count Value[int]
	var word, who Value[string]
	Object{What: "it", Keys: []Key{
		May("at", "", Vector(&at)), May("mass", "", Quantity(&mass, unit.Mass, Any)), May("count", "", Whole(&count, 0, 9)),
		May("word", "", OneOf(&word, "on")), May("who", "", Name(&who)), May("box", "", Object{What: "box"}),
	}}.Read(&r, n)
	return list.Sorted()
}
