package live_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkChange is from the writing of a file to the moment at which a page has heard of it and got its state and its
// picture: of a small job, and of one with 1,536 slots. "work" is the same without disk and events.
func BenchmarkChange(b *testing.B) {
	for _, name := range []string{"mortar-cubes", "dense-plate"} {
		folder := b.TempDir()
		if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "..", "testdata", "demo"))); err != nil {
			b.Fatal(err)
		}
		s := serveAt(b, folder, name+".plan.yaml")
		file := filepath.Join(folder, name+".plan.yaml")
		text := read(b, file)
		b.Run(name, func(b *testing.B) {
			page := s.open()
			defer page.close()
			for i := 0; b.Loop(); i++ {
				write(b, file, fmt.Sprintf("%s# %d\n", text, i))
				s.shown(b, page.until("change"))
			}
		})
		b.Run(name+"/work", func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				var st state
				_, said := s.post("draft", map[string]any{"texts": map[string]string{filepath.ToSlash(file): fmt.Sprintf("%s# draft %d\n", text, i)}})
				s.into(said, &st)
				s.shown(b, st.Version)
			}
		})
	}
}

// shown gets what a page shows of a version.
func (s *served) shown(b *testing.B, version string) {
	for _, what := range []string{"state", "scene"} {
		if status, said := s.get(what + "?version=" + version); status != http.StatusOK {
			b.Fatal(what, status, said)
		}
	}
}
