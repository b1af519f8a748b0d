package goldens

import "gridferry/plan/schema"

// Schema is the form of a case's file, in the words of templates/AUTHORING.md.
func Schema() schema.Schema {
	return schema.Object(
		schema.Must("format", "The first line of every case.", schema.Format(caseFormat)),
		schema.Must("plan", "The plan's file, beside this one.", schema.Text()),
		schema.Must("family", "A family's folder, or a shipped family's name.", schema.Text()),
		schema.May("set", "Values by path, such as grids.tray.rows=5.", schema.Each(schema.Text())),
	)
}
