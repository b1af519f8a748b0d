package live_test

import (
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

type toSave struct {
	File string `json:"file"`
	Text string `json:"text"`
	Base string `json:"base"`
}

// digestOf is the digest of a file of the state.
func (st state) digestOf(t *testing.T, name string) string {
	t.Helper()
	for _, f := range st.Files {
		if f.Name == filepath.ToSlash(name) {
			return f.Digest
		}
	}
	t.Fatalf("there is no %s", name)
	return ""
}

// TestSave: a text is on the disk as it was sent, the file has the mode that it had, and the pages hear of it.
func TestSave(t *testing.T) {
	s := serve(t)
	name := s.plan()
	if err := os.Chmod(name, 0o640); err != nil {
		t.Fatal(err)
	}
	page, before := s.open(), s.state()
	text := "# é\r\n" + read(t, name)
	status, said := s.post("save", toSave{filepath.ToSlash(name), text, before.digestOf(t, name)})
	if status != http.StatusOK || read(t, name) != text {
		t.Fatal(status, said)
	}
	version := page.until("change")
	if now := s.state(); now.Version != version || !strings.Contains(said, now.digestOf(t, name)) {
		t.Errorf("%s; the state is %s, the event %s", said, now.Version, version)
	}
	if info, err := os.Stat(name); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
		t.Error(info.Mode(), err)
	}
	left, err := os.ReadDir(s.folder)
	if err != nil || len(left) != 2 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// TestSaveConflict: a file that changed since the page got it stays, whatever the page sends, and the page gets its text.
func TestSaveConflict(t *testing.T) {
	s := serve(t)
	name := s.plan()
	base := s.state().digestOf(t, name)
	other := "# by another editor\n" + read(t, name)
	write(t, name, other)
	for _, base := range []string{base, "", "0"} {
		status, said := s.post("save", toSave{filepath.ToSlash(name), "format: x\n", base})
		var now struct{ Text, Digest string }
		if status != http.StatusConflict || read(t, name) != other {
			t.Fatal(status, said)
		}
		if s.into(said, &now); now.Text != other {
			t.Errorf("%.200s", said)
		}
		if base == "0" { // now the page knows
			if status, said := s.post("save", toSave{filepath.ToSlash(name), "# mine\n" + other, now.Digest}); status != http.StatusOK {
				t.Error(status, said)
			}
		}
	}
}

// TestSaveOnlyWhatWasRead: a name that is sent is looked up among the files that were read, and nothing else is made of it.
func TestSaveOnlyWhatWasRead(t *testing.T) {
	s := serve(t)
	outside := filepath.Join(filepath.Dir(s.folder), "other.yaml")
	beside := filepath.Join(s.folder, "other.yaml")
	write(t, outside, "mine\n")
	write(t, beside, "mine\n")
	for _, name := range []string{
		"", ".", "/", "first.plan.yaml", outside, beside, s.folder + "/../other.yaml", s.folder + "/./first.plan.yaml", s.folder + "//first.plan.yaml",
		s.plan() + "\x00", s.plan() + "/", "%2e%2e/other.yaml", "C:\\other.yaml", s.folder + "/new.yaml", "--set[1]",
	} {
		if status, said := s.post("save", toSave{name, "x", ""}); status != http.StatusForbidden {
			t.Errorf("%q: %d %s", name, status, said)
		}
	}
	// A draft that names a file reads it, as the plan itself may, but only from the plan's folder.
	for name, reads := range map[string]bool{"other.yaml": true, "../other.yaml": false, outside: false} {
		text := strings.Replace(read(t, s.plan()), "bench.cell.yaml", name, 1)
		status, said := s.post("draft", map[string]any{"texts": map[string]string{filepath.ToSlash(s.plan()): text}})
		var st state
		if s.into(said, &st); status != http.StatusOK || (len(st.Files) == 2) != reads {
			t.Errorf("%s: %d %.200s", name, status, said)
		}
	}
	if read(t, outside) != "mine\n" || read(t, beside) != "mine\n" {
		t.Error("it was written")
	}
}

// TestSaveNot: links and read-only files stay, as do files whose text the page cannot have, and no page says that it may
// write them.
func TestSaveNot(t *testing.T) {
	t.Parallel()
	for name, make := range map[string]func(cell string) error{
		"link": func(cell string) error {
			if err := os.Rename(cell, cell+".real"); err != nil {
				return err
			}
			return os.Symlink(filepath.Base(cell)+".real", cell)
		},
		"read-only": func(cell string) error { return os.Chmod(cell, 0o444) },
		"not UTF-8": func(cell string) error { return os.WriteFile(cell, []byte("# \xff\n"), 0o666) },
		"long":      func(cell string) error { return os.WriteFile(cell, []byte(strings.Repeat("# a\n", 1<<20)), 0o666) },
	} {
		t.Run(name, func(t *testing.T) {
			s := serve(t)
			cell := filepath.Join(s.folder, "bench.cell.yaml")
			page := s.open()
			if err := make(cell); err != nil {
				t.Fatal(err)
			}
			write(t, s.plan(), "# seen\n"+read(t, s.plan()))
			page.until("change")
			st, before := s.state(), read(t, cell)
			status, said := s.post("save", toSave{filepath.ToSlash(cell), "x", st.digestOf(t, cell)})
			if status != http.StatusForbidden || read(t, cell) != before {
				t.Error(status, said)
			}
			for _, f := range st.Files {
				if f.Writable != (f.Role == "plan") {
					t.Errorf("%s is writable: %v", f.Name, f.Writable)
				}
			}
		})
	}
	s := serve(t)
	name := s.plan()
	if status, said := s.post("save", toSave{filepath.ToSlash(name), strings.Repeat("a", 17<<20), s.state().digestOf(t, name)}); status != http.StatusRequestEntityTooLarge {
		t.Error(status, said)
	}
}
