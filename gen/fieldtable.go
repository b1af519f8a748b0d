package gen

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"gridferry/gen/family/blocks"
	"gridferry/plan/diag"
)

// FieldTable is the fields of blocks, for the authors of templates.
type FieldTable []blocks.ViewField

// FieldsOf are the fields of a block; of all blocks for "".
func FieldsOf(block string) (FieldTable, error) {
	all := blocks.ViewFields()
	if block == "" {
		return all, nil
	}
	var fields FieldTable
	var known []string
	for _, f := range all {
		if f.Block == block {
			fields = append(fields, f)
		}
		if !slices.Contains(known, f.Block) {
			known = append(known, f.Block)
		}
	}
	if fields == nil {
		return nil, fmt.Errorf("there is no block %q: %s", block, diag.Meant(block, known))
	}
	return fields, nil
}

// Print writes the fields as a table.
func (t FieldTable) Print(to io.Writer) error {
	w := tabwriter.NewWriter(to, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "BLOCK\tFIELD\tIS\tWITH\tWHAT")
	for _, f := range t {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", f.Block, f.Name, f.Type, f.When, f.Doc)
	}
	return w.Flush()
}

// JSON writes the fields as data.
func (t FieldTable) JSON(w io.Writer) error { return writeJSON(w, t) }
