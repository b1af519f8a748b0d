package lsp

import "testing"

// TestFileNames: URIs by the rules of Windows and by those of other systems. Those of drives and of other computers are
// in RFC 8089, appendices E.2 and E.3, from memory.
func TestFileNames(t *testing.T) {
	for _, c := range []struct{ uri, windows, others string }{
		{"file:///p/a%20b.yaml", "/p/a b.yaml", "/p/a b.yaml"},
		{"file:///p/./x/../q.yaml", "/p/q.yaml", "/p/q.yaml"},
		{"FILE://LocalHost/p/q.yaml", "/p/q.yaml", "/p/q.yaml"},
		{"file:///c%3A/p/q.yaml", "C:/p/q.yaml", "/c:/p/q.yaml"},
		{"file:///C:/p/q.yaml", "C:/p/q.yaml", "/C:/p/q.yaml"},
		{"file:///c:/p%5Cq.yaml", "C:/p/q.yaml", `/c:/p\q.yaml`},
		{"file://disks/p/q.yaml", "//disks/p/q.yaml", ""},
		{"file:////disks/p/q.yaml", "//disks/p/q.yaml", "/disks/p/q.yaml"},
		{"https://disks/p/q.yaml", "", ""},
		{"file:p/q.yaml", "", ""},
		{"untitled:1", "", ""},
		{"%", "", ""},
	} {
		for windows, want := range map[bool]string{true: c.windows, false: c.others} {
			if got, ok := pathIn(c.uri, windows); ok != (want != "") || ok && got != want {
				t.Errorf("%s, Windows %v: %q, wanted %q", c.uri, windows, got, want)
			}
		}
	}
	for file, want := range map[string]string{"/p/a b.yaml": "file:///p/a%20b.yaml", "C:/p/q.yaml": "file:///C:/p/q.yaml", "//disks/p/q.yaml": "file://disks/p/q.yaml"} {
		if got := uriOf(file); got != want {
			t.Errorf("%s: %s, wanted %s", file, got, want)
		}
		if back, ok := pathIn(want, true); !ok || back != file {
			t.Errorf("%s: back as %q", file, back)
		}
	}
	for file, want := range map[string]string{"/p/q.yaml": "/p", "C:/p/q.yaml": "C:/p", "//disks/p/q.yaml": "//disks/p", "//disks/q.yaml": "//disks/"} {
		if got := folderOf(file); got != want || inFolder(got, "q.yaml") != file {
			t.Errorf("%s lies in %q, wanted %q; back as %q", file, got, want, inFolder(got, "q.yaml"))
		}
	}
}
