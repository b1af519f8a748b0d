package family

import (
	"io/fs"
	"path"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Family is a family that passed the lint: what writes and what reads, by the same rules.
type Family struct {
	*blocks.Blocks
	Reads  reads.Reads // how the family's own lines read
	Digest string      // of its files: the first half of a SHA-256, in hexadecimal

	entered entered
}

// Load reads a family from a folder. Its files are named in findings as
// label/file, and kept in src so that findings can show their lines. It is false
// when something is wrong, and then list says what: all of it, not only the
// first. Nothing of the family runs here.
func Load(fsys fs.FS, label string, list *diag.List, src *diag.Sources) (*Family, bool) {
	before := list.Len()
	f := new(Family)
	files := reader{fsys: fsys, label: label, list: list, src: src}
	source := blocks.Source{Label: label, Rules: rules.Default()}
	var sum fileDigest
	if data, ok := files.read(rules.File); ok {
		sum.add(rules.File, string(data))
		source.RulesKnown = f.readRules(&source.Rules, path.Join(label, rules.File), data, list)
	}
	source.Files = files.templates()
	source.Unread = files.unread
	for _, t := range source.Files {
		sum.add(t.Name, t.Text)
	}
	f.Digest, f.Blocks = sum.String(), source.Compile(list)
	if f.Blocks != nil {
		f.Reads.Label, f.Reads.Rules, f.Reads.Origin = label, &f.Rules, f.origin
	}
	return f, list.Len() == before
}

// readRules decodes family.yaml.
func (f *Family) readRules(r *rules.Rules, file string, data []byte, list *diag.List) bool {
	before := list.Len()
	root, ok := decode.File(file, string(data), list)
	if !ok {
		return false
	}
	r.FileForm(f.Reads.Key()).Read(&decode.Reader{List: list}, root)
	if r.Form.Comma {
		f.Reads.WithComma()
	}
	if list.Len() == before { // a rotation with a slip in it says nothing about the fields
		f.Reads.CheckFields(list, r.Rotation, r.RotationAt)
	}
	return list.Len() == before
}

// FileForm is family.yaml by its tables of keys. What it reads is kept nowhere.
func FileForm() decode.Form {
	r := rules.Default()
	return r.FileForm(new(reads.Reads).Key())
}
