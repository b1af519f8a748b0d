package ynode

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// TestBoundsOfAliases: what aliases stand for is bounded in values and in bytes of text, and what is just within is read.
func TestBoundsOfAliases(t *testing.T) {
	const each = 1000 // values: the list and what is in it
	list := "&a [" + strings.Repeat("b,", each-1) + "]"
	text := "&a " + strings.Repeat("b", maxExpandedText/64)
	for name, tt := range map[string]struct {
		anchored string
		aliases  int
	}{"values": {list, maxExpanded / each}, "bytes": {text, 64}} {
		for more, wanted := range []string{"", "alias-bomb"} {
			var l diag.List
			_, ok := Parse("p.yaml", "["+tt.anchored+strings.Repeat(", *a", tt.aliases+more)+"]", &l)
			if _, rule, _ := strings.Cut(findings(&l), " "); rule != wanted || ok != (wanted == "") {
				t.Errorf("%s, %d more than are allowed: %s", name, more, findings(&l))
			}
		}
	}
}

// TestBoundsOfKeys: a key is as long as YAML's own bound on keys of one line, however it is written.
func TestBoundsOfKeys(t *testing.T) {
	for length, wanted := range map[int]string{longestKey: "", longestKey + 1: "bad-key"} {
		key := strings.Repeat("k", length)
		for _, text := range []string{"? " + key + "\n: 1\nb: 2\n", "a: &k " + key + "\nb: {*k : 1}\n"} {
			var l diag.List
			Parse("p.yaml", text, &l)
			if _, rule, _ := strings.Cut(findings(&l), " "); rule != wanted {
				t.Errorf("%d bytes: %s", length, findings(&l))
			}
		}
	}
}

// TestLinesAreSmall: what is kept of a line is a few bytes, since a file may be nothing but line breaks.
func TestLinesAreSmall(t *testing.T) {
	const n = 1 << 20
	text := strings.Repeat("\n", n)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	s := newSource("p.yaml", text, 0)
	runtime.GC()
	runtime.ReadMemStats(&after)
	if kept := int64(after.HeapAlloc) - int64(before.HeapAlloc); len(s.lines) != n+1 || kept > 16*n {
		t.Errorf("%d lines take %d bytes", len(s.lines), kept)
	}
}

// TestRepeatedKeysAreShort: the name of a key that stands twice is not printed as a page.
func TestRepeatedKeysAreShort(t *testing.T) {
	var l diag.List
	Parse("p.yaml", fmt.Sprintf("a: &k %s\nb: {*k : 1, *k : 2}\n", strings.Repeat("k", longestKey)), &l)
	if all := l.Sorted(); len(all) != 1 || all[0].Rule != "duplicate-key" || len(all[0].Message) > 100 {
		t.Errorf("%+v", all)
	}
}
