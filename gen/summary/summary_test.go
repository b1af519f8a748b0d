package summary

import (
	"encoding/csv"
	"encoding/xml"
	"html"
	"io"
	"strings"
	"testing"

	"gridferry/gen/page"
)

var table = Table{Plan: "a <b>.yaml", Families: []string{"listing"}, Rows: []Row{
	{Name: "one", Values: "grids.a.pitch=[60, \"x\"]", Slots: 6, Transfers: 3, Moves: 30, Lines: []int{40}, Seconds: 3725.4, Warnings: 1, State: Unchanged},
	{Name: "two", Values: "title=<script>\u202e\t=1", Errors: 2, State: Refused},
}}

func TestCSV(t *testing.T) {
	var b strings.Builder
	if err := table.Lasting().WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatal(rows, err)
	}
	want := "one|grids.a.pitch=[60, \"x\"]|written|6|3|30|40|3725.400|0|1|"
	if got := strings.Join(rows[1], "|"); got != want {
		t.Errorf("got %s, wanted %s", got, want)
	}
	if got := strings.Join(rows[2], "|"); got != "two|title=<script>\u202e\t=1|refused||||||2|0|" {
		t.Errorf("got %s", got)
	}
	formulas := Table{Rows: []Row{{Name: "-a", Values: "=1", State: Refused}}}
	b.Reset()
	if err := formulas.WriteCSV(&b); err != nil || !strings.Contains(b.String(), "\n'-a,'=1,refused,") {
		t.Errorf("a spreadsheet takes a text for a formula: %q, %v", b.String(), err)
	}
}

// A table that was written is read as it was, but for its name.
func TestReadCSV(t *testing.T) {
	var first, second strings.Builder
	if err := table.WriteCSV(&first); err != nil {
		t.Fatal(err)
	}
	read, err := ReadCSV(strings.NewReader(first.String()))
	if err != nil {
		t.Fatal(err)
	}
	if err := read.WriteCSV(&second); err != nil || second.String() != first.String() {
		t.Errorf("got %s, %v\nwanted %s", second.String(), err, first.String())
	}
	for _, wrong := range []string{"", "a,b\n", strings.Replace(first.String(), "3725.400", "an hour", 1), strings.Replace(first.String(), ",30,", ",x,", 1), first.String() + "a,b\n"} {
		if _, err := ReadCSV(strings.NewReader(wrong)); err == nil {
			t.Errorf("%q is taken for a table", wrong)
		}
	}
}

func TestText(t *testing.T) {
	var b strings.Builder
	if err := table.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"1 h 02 min", "unchanged", "2 variants: 1 unchanged, 1 refused\n"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	if strings.ContainsAny(b.String(), "\u202e\t") || !strings.Contains(b.String(), `<script>\u202e\x09=1`) {
		t.Errorf("%q", b.String())
	}
}

// TestHTML reads the page with a strict parser, and no text of a plan may become an
// element.
func TestHTML(t *testing.T) {
	var b strings.Builder
	if err := table.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	dec := xml.NewDecoder(strings.NewReader(strings.ReplaceAll(b.String(), "<!DOCTYPE html>\n", "")))
	dec.Strict, dec.AutoClose, dec.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	count := map[string]int{}
	for {
		token, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			count[e.Name.Local]++
		}
	}
	if count["tr"] != 3 || count["td"] != 18 || count["script"] != 0 || count["b"] != 0 {
		t.Errorf("elements: %v", count)
	}
}

// TestNotWritten: trouble with files is counted apart from errors, and stays in what
// lasts.
func TestNotWritten(t *testing.T) {
	full := Table{Plan: "p.yaml", Rows: []Row{{Name: "one", State: NotWritten}, {Name: "two", State: NotWritten}, {Name: "three", State: Unchanged}, {Name: "four", State: Refused}}}
	if got := full.Lasting().String(); got != "4 variants: 1 written, 1 refused, 2 not written" {
		t.Error(got)
	}
	var b strings.Builder
	if err := full.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	if strings.Count(b.String(), `<tr class="not written">`) != 2 {
		t.Error(b.String())
	}
}

// The page's policy names its style as it stands in the page.
func TestPolicyNamesTheStyle(t *testing.T) {
	var b strings.Builder
	if err := table.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	_, style, _ := strings.Cut(b.String(), "<style>")
	style, _, _ = strings.Cut(style, "</style>")
	_, policy, _ := strings.Cut(b.String(), `Content-Security-Policy" content="`)
	policy, _, _ = strings.Cut(policy, `"`)
	if want := page.Policy("", style); html.UnescapeString(policy) != want || style == "" {
		t.Errorf("the policy is %s, wanted %s", policy, want)
	}
}
