package plan

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"gridferry/plan/diag"
)

// readAll is the header and the records of a table as texts, fields with "|" between them, and what was found.
func readAll(text string) (lines []string, found diag.List) {
	t, ok := newTable("t.csv", text, &found)
	if !ok {
		return nil, found
	}
	join := func(fields []Text) string {
		var texts []string
		for _, f := range fields {
			texts = append(texts, f.V)
		}
		return strings.Join(texts, "|")
	}
	lines = append(lines, join(t.header))
	for fields, more := t.next(); more; fields, more = t.next() {
		lines = append(lines, join(fields))
	}
	return lines, found
}

// TestTablesAsSpreadsheetsWriteThem: RFC 4180 (section 2, numbers 1 to 7), and the departures from it that are
// common practice, no source.
func TestTablesAsSpreadsheetsWriteThem(t *testing.T) {
	const want = "slot|id / A1|x / B2|y, z"
	for what, text := range map[string]string{
		"RFC 4180":                "slot,id\r\nA1,x\r\nB2,\"y, z\"\r\n",
		"no break at the end":     "slot,id\r\nA1,x\r\nB2,\"y, z\"",
		"LF":                      "slot,id\nA1,x\nB2,\"y, z\"\n",
		"byte order mark":         "\ufeffslot,id\nA1,x\nB2,\"y, z\"\n",
		"mark before quotes":      "\ufeff\"slot\",\"id\"\nA1,x\nB2,\"y, z\"\n",
		"semicolons":              "slot;id\nA1;x\nB2;y, z\n",
		"tabs":                    "slot\tid\nA1\tx\nB2\ty, z\n",
		"named separator":         "sep=;\nslot;id\nA1;x\nB2;y, z\n",
		"named, CR LF":            "sep=,\r\nslot,id\r\nA1,x\r\nB2,\"y, z\"\r\n",
		"capitals and blanks":     " Slot , ID \nA1, x \nB2,\"y, z\"\n",
		"blank lines":             "\n\nslot,id\n\nA1,x\n,\n  \nB2,\"y, z\"\n\n",
		"empty columns":           "slot,id,,\nA1,x,,\nB2,\"y, z\",,,,\n",
		"comments":                "# what stands there\nslot,id\n# the first row\nA1,x\nB2,\"y, z\"\n",
		"everything in quotes":    "\"slot\";\"id\"\n\"A1\";\"x\"\n\"B2\";\"y, z\"\n",
		"a separator in a column": "\"slot\",\"id\"\n\"A1\",\"x\"\n\"B2\",\"y, z\"\n",
	} {
		lines, found := readAll(text)
		if got := strings.Join(lines, " / "); got != want || found.Len() > 0 {
			t.Errorf("%s: got %s, wanted %s; %v", what, got, want, found.Sorted())
		}
	}
	for text, want := range map[string]string{
		"a\tb\tc\n\t\tx\n":                   "a|b|c / ||x", // empty fields between tabs are fields
		"a,b\n\"say \"\"so\"\"\",\"1\n2\"\n": "a|b / say \"so\"|1\n2",
		"a,b\n'=1+1,'x\n":                    "a|b / =1+1|'x", // what was made inert, and what was not
		"Nominal X,to-do\n1,2\n":             "nominal_x|to_do / 1|2",
		"a\n":                                "a",
		"":                                   "",
	} {
		if lines, found := readAll(text); strings.Join(lines, " / ") != want || found.Len() > 0 {
			t.Errorf("%q: got %q, wanted %q; %v", text, lines, want, found.Sorted())
		}
	}
}

func TestTablesThatAreNoText(t *testing.T) {
	for text, want := range map[string]string{
		"\xff\xfes\x00l\x00":          "t.csv:1:1 not-utf8",
		"\xfe\xff\x00s\x00l":          "t.csv:1:1 not-utf8",
		"s\x00l\x00":                  "t.csv:1:2 not-utf8",
		"slot,id\nA1,Gr\xfc\xdfe\n":   "t.csv:2:6 not-utf8", // Latin-1
		"slot,id\n\"ü\",\xfc\n":       "t.csv:2:5 not-utf8",
		"slot,id\n\"A1,x\nA2,y\n":     "t.csv:2 bad-table",
		"slot,id\nA1,\"x\" y\nA2,y\n": "t.csv:2 bad-table",
		"slot,id\nA1,x\"y\n":          "t.csv:2 bad-table",
	} {
		_, found := readAll(text)
		all := found.Sorted()
		if len(all) != 1 || fmt.Sprintf("%s %s", all[0].Place, all[0].Rule) != want || all[0].Hint == "" {
			t.Errorf("%q: got %+v, wanted %s with a hint", text, all, want)
		}
	}
}

// A table of separators alone costs nothing; fields in quotes do not count.
func TestTablesAreNarrow(t *testing.T) {
	for text, good := range map[string]bool{
		"a\n" + strings.Repeat(",", mostFields-1) + "\n":                               true,
		"a\n" + strings.Repeat(",", mostFields) + "\n":                                 false,
		"a\n\"" + strings.Repeat(",", 5*mostFields) + "\"\n":                           true,
		"a\n" + strings.Repeat(strings.Repeat(",", mostFields/2)+"\"\n\"", 4):          false,
		"a\n" + strings.Repeat(";", 16<<20):                                            false,
		"a\nb" + strings.Repeat("\n", 1<<20) + strings.Repeat("\tx\n", 100) + "\"\"\n": true,
	} {
		_, found := readAll(text)
		if all := found.Sorted(); found.HasErrors() == good || !good && all[0].Rule != "too-many-values" {
			t.Errorf("%.20q: %v", text, all)
		}
	}
}

// Whatever is in a table, it is read or refused, every field stands where its place says, and what a writer by the
// same standard makes of the records reads as the same records.
//
//fuzz:2s
func FuzzTable(f *testing.F) {
	for _, seed := range []string{
		"slot,id\nA1,x\n", "\ufeffslot;id;\r\nA1;\"x;\"\"y\";\r\n;;\r\n", "sep=\t\na\tb\n\t\t\n\tü\n", "#\n\"a\nb\",c\n é ,'=1\n", "a\n\"\n", "\xff\xfe", "a,b\r\n\r\n\"1\r\n2\",3,,,\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			return // the test itself looks at a line once a field
		}
		var found diag.List
		table, ok := newTable("t", text, &found)
		if ok == found.HasErrors() {
			t.Fatalf("read: %t, with %v", ok, found.Sorted())
		}
		if !ok {
			return
		}
		lines := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
		var records [][]string
		for fields, more := table.next(); more; fields, more = table.next() {
			var record []string
			for _, field := range fields {
				at := field.Place
				if at.Line < 1 || at.Line > len(lines) || at.Col < 1 || at.Col > utf8.RuneCountInString(lines[at.Line-1])+1 {
					t.Fatalf("%q stands at %v, where there is nothing", field.V, at)
				}
				rest := strings.TrimLeftFunc(string([]rune(lines[at.Line-1])[at.Col-1:]), unicode.IsSpace)
				if plain := !strings.HasPrefix(rest, "\"") && !strings.HasPrefix(rest, "'"); plain && !strings.HasPrefix(rest, field.V) {
					t.Fatalf("%q stands at %v, where %q is", field.V, at, rest)
				}
				record = append(record, field.V)
			}
			records = append(records, record)
		}
		if found.HasErrors() || len(records) == 0 {
			return
		}
		var b strings.Builder
		w := csv.NewWriter(&b)
		if w.WriteAll(append([][]string{{"a", "b"}}, records...)) != nil || strings.Contains(b.String(), "\n#") {
			return
		}
		again, ok := newTable("t", b.String(), &found)
		for i := 0; ok; i++ {
			fields, more := again.next()
			if !more {
				if i != len(records) {
					t.Fatalf("%d records of %d: %q", i, len(records), b.String())
				}
				return
			}
			var record []string
			for _, field := range fields {
				record = append(record, field.V)
			}
			want := records[i]
			for n := len(want); n > 2 && want[n-1] == ""; n-- {
				want = want[:n-1]
			}
			if inert := slices.ContainsFunc(want, func(s string) bool { return strings.HasPrefix(s, "'") || strings.Contains(s, "\r") }); !inert && !slices.Equal(record, want) {
				t.Fatalf("%q became %q", want, record)
			}
		}
	})
}

func TestAColumnThatStandsTwice(t *testing.T) {
	var found diag.List
	table, _ := newTable("t.csv", "from,to,id,to\n", &found)
	columns, all := table.columns([]string{"from", "to", "(id)"}), found.Sorted()
	if want := `the column "to" stands twice: take one of the two out of the table`; columns != nil || len(all) != 1 || all[0].Place.Col != 12 || all[0].Hint != want {
		t.Errorf("got %v, %+v, wanted %q at column 12", columns, all, want)
	}
}
