package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every variant is written by one shard alone, with the bytes that it gets without shards; the merged table has the
// rows of the table without shards, in their order.
func TestShardsShareTheVariants(t *testing.T) {
	const of = 5
	dir := varyFolder(t, `
  - {name: wrong, set: {motion.speed.travl: 250}}
  - {each: {grids.tray.columns: [4, 5, 6], motion.approach: [60, 65, 70]}}
`)
	_, whole, _ := vary(t, dir)
	shared := filepath.Join(dir, "shared")
	for n := of; n > 0; n-- {
		vary(t, dir, "-o", shared, "--shard", fmt.Sprintf("%d/%d", n, of))
	}
	status, merged, said := mergeShards(dir, shared)
	if status != 1 || said != "" {
		t.Errorf("a variant with errors is status 1 here too: %d %s", status, said)
	}
	rows, wanted := strings.Split(merged, "\n"), strings.Split(whole, "\n")
	if len(rows) != len(wanted) || len(rows) != 12 {
		t.Fatalf("%d rows, wanted %d\n%s", len(rows), len(wanted), merged)
	}
	folders := map[string]bool{}
	for i, row := range rows[1 : len(rows)-1] {
		cells := strings.Split(row, ",")
		folder := cells[len(cells)-2]
		if got := strings.TrimSuffix(strings.Join(append(cells[:len(cells)-2], cells[len(cells)-1]), ","), ","); got != strings.TrimSuffix(wanted[i+1], ",") {
			t.Errorf("got %s\nwanted %s", got, wanted[i+1])
		}
		if cells[len(cells)-1] == "" && !strings.Contains(row, ",refused,") {
			sameFiles(t, filepath.Join(dir, "out", filepath.Base(folder)), filepath.Join(shared, folder))
		}
		folders[filepath.Dir(folder)] = true
	}
	if len(folders) < 3 {
		t.Errorf("%d variants are in %d shards of %d", 10, len(folders), of)
	}
	if _, err := os.Stat(filepath.Join(shared, "summary.html")); err != nil {
		t.Error(err)
	}
}

// A shard that was killed, ran with other values or families, or not at all, is named, and no table is written.
func TestMergeNamesWhatIsMissing(t *testing.T) {
	variants := "  - {each: {motion.approach: [60, 61, 62, 63, 64, 65]}}\n"
	dir := varyFolder(t, variants)
	shared := filepath.Join(dir, "shared")
	shard := func(n int, more ...string) {
		if status, _, said := vary(t, dir, append([]string{"-o", shared, "--shard", fmt.Sprintf("%d/2", n)}, more...)...); status != 0 {
			t.Fatal(said)
		}
	}
	wants := func(want string) {
		t.Helper()
		status, _, said := mergeShards(dir, shared)
		if _, err := os.Stat(filepath.Join(shared, "summary.csv")); status != 1 || !strings.Contains(said, want) || err == nil {
			t.Errorf("status %d, %q is not in\n%s", status, want, said)
		}
	}
	status, _, said := mergeShards(dir, shared)
	if _, err := os.Stat(shared); status != 1 || err == nil {
		t.Errorf("a folder that is not there: status %d, %v\n%s", status, err, said)
	}
	if err := os.Mkdir(shared, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, none := range []string{"shard-0-of-0", "shard-3-of-2", "shard-1-of-02", "shard-000000001-of-100000000", "shard-1-of-2x"} {
		if err := os.Mkdir(filepath.Join(shared, none), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	wants("no shard has written to this folder")
	shard(1)
	wants("the shard 2/2 has no table that can be read: it has not come to its end")
	shard(2, "--family", "st")
	wants("the shard 2/2 wrote for listing, iso6983 and st, others for listing and iso6983")
	shard(2)
	put(t, filepath.Join(dir, "v.yaml"), []byte("format: gridferry variants 1\nvariants:\n  - {each: {motion.approach: [60, 61, 62, 63, 64, 65, 66, 67, 68, 69]}}\n"))
	wants("is not in the table of the shard")
	put(t, filepath.Join(dir, "v.yaml"), []byte("format: gridferry variants 1\nvariants:\n"+variants))
	table := filepath.Join(shared, "shard-2-of-2", "summary.csv")
	whole := readAll(t, table)
	put(t, table, bytes.Replace(whole, []byte(",written,"), []byte(",perhaps,"), 1))
	wants(`line 2: "perhaps" is no state of a variant`)
	put(t, table, whole)
	if err := os.Mkdir(filepath.Join(shared, "shard-1-of-3"), 0o777); err != nil {
		t.Fatal(err)
	}
	wants("there are shards of 2 and of 3 in this folder")
}

func TestShardsAreNumbers(t *testing.T) {
	dir := varyFolder(t, "  - {name: one}\n")
	for _, wrong := range []string{"0/2", "3/2", "2", "a/b", "1/0", "-1/4", "1/10001", ""} {
		if status, _, said := vary(t, dir, "--shard", wrong); status != 2 || !strings.Contains(said, "wanted one of so many, such as 3/16") {
			t.Errorf("%q: %d %s", wrong, status, said)
		}
	}
	if status, _, said := vary(t, dir, "--shard", "1/2", "--merge"); status != 2 || !strings.Contains(said, "cannot be used together") {
		t.Errorf("%d %s", status, said)
	}
}

func mergeShards(dir, folder string) (status int, table, said string) {
	var out, errs bytes.Buffer
	status = Main([]string{"vary", filepath.Join(dir, "mortar-cubes.plan.yaml"), "--variants", filepath.Join(dir, "v.yaml"), "--merge", "-o", folder, "--format", "csv"},
		strings.NewReader(""), &out, &errs)
	return status, out.String(), errs.String()
}

// sameFiles holds the files of two folders to each other.
func sameFiles(t *testing.T, folder, other string) {
	t.Helper()
	names, err := os.ReadDir(folder)
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		if !bytes.Equal(readAll(t, filepath.Join(folder, name.Name())), readAll(t, filepath.Join(other, name.Name()))) {
			t.Errorf("%s differs in %s and %s", name.Name(), folder, other)
		}
	}
}
