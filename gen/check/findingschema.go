package check

import (
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// FindingsSchema is the form of what diag.PrintJSON writes.
func FindingsSchema() schema.Schema {
	return schema.Each(schema.Shared("finding", findingSchema()))
}

func findingSchema() schema.Schema {
	return schema.Object(append(placeSchema(), schema.Schema{
		{Name: "severity", Value: about("An error keeps everything from being written, a warning nothing.").With("enum", []string{diag.Error.String(), diag.Warning.String()})},
		{Name: "rule", Value: about("The finding's name.").With("pattern", `^[a-z0-9]+(-[a-z0-9]+)+$`)},
		{Name: "message", Value: about("What was found, and what was wanted: one line.").With("minLength", 1)},
		{Name: "hint", Value: about("What to do about it.").With("minLength", 1)},
		{Name: "notes", Value: schema.Each(noteSchema()).With("description", "Other places that have to do with it.").With("minItems", 1)},
		{Name: "help", Value: about("The command that prints the page of the rule.").With("pattern", `^gridferry help rule `)},
	}...), []string{"severity", "rule", "message", "help"}).With("dependentRequired", dependent)
}

func noteSchema() schema.Schema {
	return schema.Object(append(placeSchema(), schema.Keyword{Name: "message", Value: about("What is there.")}), []string{"message"}).
		With("dependentRequired", dependent)
}

// dependent says that there is no line without a file, and no column without a line.
var dependent = schema.Schema{{Name: "line", Value: []string{"file"}}, {Name: "column", Value: []string{"line"}}}

func placeSchema() schema.Schema {
	return schema.Schema{
		{Name: "file", Value: about("The file as it was named, with forward slashes; \"<stdin>\", or a flag such as \"--set[1]\".").With("minLength", 1)},
		{Name: "line", Value: from(1, "From 1; left out for a file as a whole.")},
		{Name: "column", Value: from(1, "From 1, in characters (Unicode code points); left out for a line as a whole.")},
	}
}

func about(text string) schema.Schema { return schema.Of("string").With("description", text) }
