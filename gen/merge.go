package gen

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"gridferry/gen/summary"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// merging makes one table of those of shards.
type merging struct {
	folder string
	shards int
	table  *summary.Table
	rows   map[string]*summary.Row // by the folder of a variant's programs, below folder
	list   *diag.List
}

// MergeTables is the table of all variants, made of the tables that the shards left in a folder: a row for each
// variant as it is now, in their order. What is missing is an error in list. Programs are not looked at.
func MergeTables(folder, file string, variants []plan.Variant, list *diag.List) (*summary.Table, error) {
	m := merging{folder: folder, rows: map[string]*summary.Row{}, list: list}
	if err := m.count(); err != nil || m.shards == 0 {
		return nil, err
	}
	m.table = &summary.Table{Plan: filepath.Base(file), Shards: m.shards}
	lacking := map[Shard]bool{}
	for n := range m.shards {
		if s := (Shard{n + 1, m.shards}); !m.read(s) {
			lacking[s] = true
		}
	}
	for i := range variants {
		if s := shardOf(variants[i].Name, m.shards); !lacking[s] && !m.add(s, &variants[i]) {
			lacking[s] = true // of which one finding is enough
		}
	}
	return m.table, nil
}

// count finds how many shards there are.
func (m *merging) count() error {
	names, err := os.ReadDir(m.folder)
	if err != nil {
		return err
	}
	var counts []int
	for _, name := range names {
		if s, ok := shardIn(name.Name()); ok && !slices.Contains(counts, s.Of) {
			counts = append(counts, s.Of)
		}
	}
	switch len(counts) {
	case 0:
		m.list.Errorf("shard-missing", fileAt(m.folder), "no shard has written to this folder").
			WithHint("name the folder that \"vary --shard 1/16\" and those of its kind wrote to")
	case 1:
		m.shards = counts[0]
	default:
		slices.Sort(counts)
		m.list.Errorf("shard-missing", fileAt(m.folder), "there are shards of %d and of %d in this folder", counts[0], counts[1]).
			WithHint("remove the folders of those that are old")
	}
	return nil
}

// read takes in the table of a shard.
func (m *merging) read(s Shard) bool {
	name := filepath.Join(m.folder, s.Folder(), "summary.csv")
	again := fmt.Sprintf("run \"vary --shard %s\" again", s)
	file, err := os.Open(name)
	if err != nil {
		m.list.Errorf("shard-missing", fileAt(name), "the shard %s has no table that can be read: %s", s, plain(err)).WithHint("%s", again)
		return false
	}
	defer file.Close()
	t, err := summary.ReadCSV(file)
	switch {
	case err != nil:
		m.list.Errorf("shard-missing", fileAt(name), "the table of the shard %s cannot be read: %s", s, err).WithHint("%s", again)
		return false
	case m.table.Families == nil:
		m.table.Families = t.Families
	case !slices.Equal(m.table.Families, t.Families):
		m.list.Errorf("shard-outdated", fileAt(name), "the shard %s wrote for %s, others for %s", s, wording.List(t.Families, 8), wording.List(m.table.Families, 8)).
			WithHint("run all shards with the same families")
		return false
	}
	for i := range t.Rows {
		t.Rows[i].Folder = s.Folder() + "/" + t.Rows[i].Name
		m.rows[t.Rows[i].Folder] = &t.Rows[i]
	}
	return true
}

// plain is the error of a file whose name is said already.
func plain(err error) string {
	var at *fs.PathError
	if errors.Is(err, fs.ErrNotExist) {
		return "it has not come to its end"
	}
	if errors.As(err, &at) {
		err = at.Err
	}
	return err.Error()
}

// add takes over the row of a variant; false where it is not there as it should be now.
func (m *merging) add(s Shard, v *plan.Variant) bool {
	row := m.rows[s.Folder()+"/"+wording.Inert(v.Name)]
	if row == nil || row.Values != wording.Inert(valuesOf(v)) {
		m.list.Errorf("shard-outdated", v.Place, "the variant %q is not in the table of the shard %s, or with other values", v.Name, s).
			WithHint("run \"vary --shard %s\" again", s)
		return false
	}
	row.Name, row.Values, row.Folder = v.Name, valuesOf(v), s.Folder()+"/"+v.Name
	m.table.Rows = append(m.table.Rows, *row)
	return true
}
