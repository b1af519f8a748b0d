package live_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// renamed writes a file as editors do that put a new one in the old one's place.
func renamed(t *testing.T, name, text string) {
	t.Helper()
	write(t, name+"~new", text)
	if err := os.Rename(name+"~new", name); err != nil {
		t.Fatal(err)
	}
}

// anew writes a file as editors do that take the old one away first.
func anew(t *testing.T, name, text string) {
	t.Helper()
	if err := os.Rename(name, name+"~"); err != nil {
		t.Fatal(err)
	}
	time.Sleep(50 * time.Millisecond)
	write(t, name, text)
}

// TestFollows: however a file is changed, every page hears of each change once, and of nothing else.
func TestFollows(t *testing.T) {
	s := serve(t)
	one, two := s.open(), s.open()
	plan, cell := s.plan(), filepath.Join(s.folder, "bench.cell.yaml")
	for i, save := range []func(t *testing.T, name, text string){func(t *testing.T, name, text string) { write(t, name, text) }, renamed, anew} {
		for _, name := range []string{plan, cell} {
			before := s.state()
			save(t, name, fmt.Sprintf("# %d\n", i)+read(t, name))
			a, b := one.next(), two.next()
			after := s.state()
			if a != "change "+after.Version || a != b || after.Version == before.Version || after.Gone || after.Good != after.Version {
				t.Errorf("%s, %d: %q and %q, then %s, gone %v", name, i, a, b, after.Version, after.Gone)
			}
		}
	}
	// What changes nothing is none: the same text, another file, another time.
	same := read(t, plan)
	renamed(t, plan, same)
	write(t, filepath.Join(s.folder, "notes.txt"), "x")
	if err := os.Chtimes(cell, time.Now(), time.Now().Add(-time.Hour)); err != nil {
		t.Fatal(err)
	}
	time.Sleep(300 * time.Millisecond)
	select {
	case e := <-one.events:
		t.Errorf("heard %q", e)
	default:
	}
}

// TestFollowsWhatTheyName: files that a plan begins to name are followed, also before they are there.
func TestFollowsWhatTheyName(t *testing.T) {
	s := serve(t)
	page := s.open()
	write(t, s.plan(), strings.Replace(read(t, s.plan()), "bench.cell.yaml", "cells/mine.yaml", 1))
	page.until("change")
	if st := s.state(); st.rules() != "cell-unreadable" || st.Good == st.Version || st.Good == "" {
		t.Fatalf("%s: good is %q of %s", st.rules(), st.Good, st.Version)
	}
	text := read(t, filepath.Join(s.folder, "bench.cell.yaml"))
	if err := os.Mkdir(filepath.Join(s.folder, "cells"), 0o777); err != nil {
		t.Fatal(err)
	}
	time.Sleep(50 * time.Millisecond)
	name := filepath.Join(s.folder, "cells", "mine.yaml")
	write(t, name, text)
	if version := page.until("change"); s.state().rules() != "" || s.state().Good != version {
		t.Fatal(s.state().rules())
	}
	write(t, name, "# x\n"+text)
	page.until("change")
	// The old one is none of the plan's any more.
	write(t, filepath.Join(s.folder, "bench.cell.yaml"), "x")
	time.Sleep(200 * time.Millisecond)
	if rules := s.state().rules(); rules != "" {
		t.Error(rules)
	}
}

// TestGone: of a plan that is deleted the pages hear, and they keep the last good picture; once it is back, all is as before.
func TestGone(t *testing.T) {
	s := serve(t)
	page, text, before := s.open(), read(t, s.plan()), s.state()
	if err := os.Remove(s.plan()); err != nil {
		t.Fatal(err)
	}
	page.until("gone")
	st := s.state()
	if !st.Gone || st.rules() != "plan-gone" || st.Good != before.Version {
		t.Fatalf("%+v", st)
	}
	if status, _ := s.get("scene?version=" + st.Good); status != http.StatusOK {
		t.Error(status)
	}
	write(t, s.plan(), text)
	page.until("back")
	if st := s.state(); st.Gone || st.Version != before.Version || st.rules() != "" {
		t.Errorf("%+v", st)
	}
	// The folder goes, and comes again.
	away := s.folder + "-away"
	if err := os.Rename(s.folder, away); err != nil {
		t.Fatal(err)
	}
	page.until("gone")
	if err := os.Rename(away, s.folder); err != nil {
		t.Fatal(err)
	}
	page.until("back")
	write(t, s.plan(), "# again\n"+text)
	page.until("change")
	// A page saves it anew.
	if err := os.Remove(s.plan()); err != nil {
		t.Fatal(err)
	}
	page.until("gone")
	if status, said := s.post("save", toSave{filepath.ToSlash(s.plan()), text, ""}); status != http.StatusOK {
		t.Fatal(status, said)
	}
	page.until("back")
}

// TestErrorsKeepTheGoodPicture: an error has its place, and the last version without one stays the good one.
func TestErrorsKeepTheGoodPicture(t *testing.T) {
	s := serve(t)
	page, text, before := s.open(), read(t, s.plan()), s.state()
	_, scene := s.get("scene")
	write(t, s.plan(), strings.Replace(text, "from: tray ", "from: tray A1:B4 ", 1))
	page.until("change")
	st := s.state()
	if st.rules() != "slot-outside-grid" || st.Good != before.Version {
		t.Fatalf("%s, good %s", st.rules(), st.Good)
	}
	f := st.Findings[0]
	line := strings.Split(read(t, s.plan()), "\n")[f.Line-1]
	if under := line[f.Column-1 : f.End-1]; under != "A1:B4" {
		t.Errorf("%q is underlined", under)
	}
	if status, kept := s.get("scene?version=" + st.Good); status != http.StatusOK || kept != scene {
		t.Error(status)
	}
	if status, said := s.get("program?family=st"); status != http.StatusConflict {
		t.Error(status, said)
	}
	// What the rules of moves find has the slots that it speaks of; this version has a picture, too, if somebody asks.
	write(t, s.plan(), strings.NewReplacer("filled: all", "filled: [A1, B2]", "from: tray ", "from: tray A1:B3 ").Replace(text))
	page.until("change")
	st = s.state()
	if st.rules() != "pick-from-empty" || fmt.Sprint(st.Findings[0].Slots) != "[[tray A2] [tray A3] [tray B1] [tray B3]]" || st.Good != before.Version || !st.Scene {
		t.Fatalf("%s, good %s, slots %v", st.rules(), st.Good, st.Findings)
	}
	if status, own := s.get("scene?version=" + st.Version); status != http.StatusOK || own == scene {
		t.Error(status)
	}
	write(t, s.plan(), text)
	page.until("change")
	if st := s.state(); st.Version != before.Version || st.Good != before.Version {
		t.Errorf("%+v", st)
	}
}

// TestDrafts: a text that is not saved gets a state, a scene and a program, and leaves disk and pages alone.
func TestDrafts(t *testing.T) {
	s := serve(t)
	page, before := s.open(), s.state()
	draft := strings.Replace(read(t, s.plan()), "rows: 2", "rows: 1", 2)
	var st state
	_, said := s.post("draft", map[string]any{"texts": map[string]string{filepath.ToSlash(s.plan()): draft, "/etc/passwd": "x"}})
	if s.into(said, &st); st.Good != st.Version || st.Version == before.Version || st.Files[0].Text != draft {
		t.Fatalf("%s", said)
	}
	for _, path := range []string{"state?version=", "scene?version=", "program?family=iso6983&version="} {
		if status, said := s.get(path + st.Version); status != http.StatusOK {
			t.Error(path, status, said)
		}
	}
	if now := s.state(); now.Version != before.Version || read(t, s.plan()) == draft {
		t.Error("a draft was saved")
	}
	select {
	case e := <-page.events:
		t.Errorf("heard %q", e)
	default:
	}
	// The page shows the draft: that is its good picture, until it has a better one.
	good := st.Version
	_, said = s.post("draft", map[string]any{"good": good, "texts": map[string]string{filepath.ToSlash(s.plan()): "format: x"}})
	if s.into(said, &st); st.Good != good {
		t.Errorf("good is %s", st.Good)
	}
}

// TestManyChanges: after 200 changes in 10 seconds every page has heard of the last one.
func TestManyChanges(t *testing.T) {
	s := serve(t)
	pages := []*page{s.open(), s.open()}
	n := 200
	if testing.Short() {
		n = 20
	}
	s.write(t, n, pages)
}

// write changes the plan so often, every 50 ms, and waits until pages have heard of the last change. That leaves a text which was
// not there before: a server that had no time for those between would have nothing to say of the old one.
func (s *served) write(t *testing.T, n int, pages []*page) {
	t.Helper()
	text := read(t, s.plan())
	for i := range n {
		write(t, s.plan(), fmt.Sprintf("%s# %d\n", text, i))
		time.Sleep(50 * time.Millisecond)
	}
	text += "# the last\n"
	write(t, s.plan(), text)
	for _, p := range pages {
		for p.until("change") != "" && s.state().Files[0].Text != text {
		}
	}
}

// TestNothingIsLeft: of 1,000 changes, on the page and on the disk, no more is left in memory than of a few, and nothing runs on
// for them.
func TestNothingIsLeft(t *testing.T) {
	s := serve(t)
	pages := []*page{s.open(), s.open()}
	text := read(t, s.plan())
	change := func(drafts, writes int) {
		for i := range drafts {
			s.post("draft", map[string]any{"texts": map[string]string{filepath.ToSlash(s.plan()): fmt.Sprintf("%s# draft %d\n", text, i)}})
		}
		s.write(t, writes, pages)
	}
	change(20, 5) // more than are kept
	goroutines, bytes := held()
	if testing.Short() {
		change(90, 5)
	} else {
		change(950, 50)
	}
	if g, b := held(); g > goroutines+2 || b > bytes+bytes/4+1<<20 {
		t.Errorf("after 25 changes %d goroutines and %d bytes, after many more %d and %d", goroutines, bytes, g, b)
	}
}

// held is the goroutines that there are, and the bytes that are in use.
func held() (goroutines int, bytes uint64) {
	time.Sleep(200 * time.Millisecond)
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return runtime.NumGoroutine(), m.HeapAlloc
}

// TestStops: a server that is stopped ends its pages' connections and leaves nothing running; another one can be started,
// under another address.
func TestStops(t *testing.T) {
	before := runtime.NumGoroutine()
	s := serve(t)
	page := s.open()
	s.stop()
	if e := page.next(); e != "end" {
		t.Errorf("heard %q", e)
	}
	if _, err := http.Get(s.server.Address()); err == nil {
		t.Error("it answers still")
	}
	http.DefaultTransport.(*http.Transport).CloseIdleConnections()
	for range 100 {
		if runtime.NumGoroutine() <= before {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if n := runtime.NumGoroutine(); n > before {
		t.Errorf("%d goroutines, before there were %d", n, before)
	}
	again := serveAt(t, s.folder, filepath.Base(s.plan()))
	if again.server.Address() == s.server.Address() || again.state().rules() != "" {
		t.Error(again.server.Address())
	}
}
