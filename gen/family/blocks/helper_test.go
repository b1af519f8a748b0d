package blocks

import (
	"fmt"
	"io/fs"
	"path"
	"testing/fstest"

	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

const smallRules = `format: gridferry family 1
title: small
extension: .txt
decimals: {length: 3, angle: 3, time: 2, speed: 1, mass: 2}
speed_unit: mm/s
comment: {open: "(", close: ")"}
coordinates: base
rotation: fixed-xyz
cannot: {select: no, straight: no, grip: no, release: no, set: no, await: no, dwell: no, note: no}
`

const smallBlocks = `{{define "begin"}}
{{comment .Title}}
{{end}}
{{define "end"}}
end
{{end}}
`

// small is a family that loads, with one block of the test's own.
func small(travel string) fstest.MapFS {
	return fstest.MapFS{
		"family.yaml": {Data: []byte(smallRules)},
		"a.tmpl":      {Data: []byte(smallBlocks)},
		"b.tmpl":      {Data: []byte(travel)},
	}
}

// load compiles the blocks of a family's folder; nil where something is wrong with it.
func load(fsys fs.FS, label string, list *diag.List) *Blocks {
	s := Source{Label: label, Rules: rules.Default()}
	data, err := fs.ReadFile(fsys, rules.File)
	root, ok := decode.File(path.Join(label, rules.File), string(data), list)
	if err != nil || !ok {
		return nil
	}
	s.Rules.FileForm(new(reads.Reads).Key()).Read(&decode.Reader{List: list}, root)
	s.RulesKnown = list.Len() == 0
	names, _ := fs.Glob(fsys, "*.tmpl")
	for _, name := range names {
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil
		}
		s.Files = append(s.Files, File{name, string(text)})
	}
	if b := s.Compile(list); list.Len() == 0 {
		return b
	}
	return nil
}

// loadFound compiles blocks and gives what was found, a line each.
func loadFound(fsys fs.FS) (*Blocks, []string) {
	var list diag.List
	b := load(fsys, "fam", &list)
	var found []string
	for _, finding := range list.Sorted() {
		found = append(found, fmt.Sprintf("%s %s", finding.Place, finding.Rule))
	}
	return b, found
}
