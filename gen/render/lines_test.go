package render

import (
	"bytes"
	"testing"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
)

// TestPrintableLooksAtEveryByte puts every byte at every place of lines of many
// lengths.
func TestPrintableLooksAtEveryByte(t *testing.T) {
	for length := range 26 {
		line := bytes.Repeat([]byte{'~'}, length)
		if !printable(line) {
			t.Fatalf("%d times ~ is not printable", length)
		}
		for at := range line {
			for c := range 256 {
				line[at] = byte(c)
				if got, want := printable(line), ' ' <= c && c <= '~'; got != want {
					t.Fatalf("byte %#x at %d of %d: %v", c, at, length, got)
				}
			}
			line[at] = ' ' // the lowest beside what comes next
		}
	}
}

// TestPlainLinesNeedNoCloserLook: what passes at a glance is what check passes.
func TestPlainLinesNeedNoCloserLook(t *testing.T) {
	families := map[string]*blocks.Blocks{"any": {}, "short": {}, "letters": {}}
	families["short"].LongestLine = 8
	families["letters"].Letters = new(rules.CharSet)
	for name, f := range families {
		l := newLines(new(bytes.Buffer), f, &budget{most: 1000})
		for _, line := range []string{"", "G1 X1", "12345678", "123456789", "12345é", "12345678é", "a\tb", "a\x00", "\x7f", "é", "\u2028", "~~~~~~~~"} {
			if _, bad := l.check([]byte(line)); bad && l.plain([]byte(line)) {
				t.Errorf("%s: %q passes at a glance and not at a closer look", name, line)
			}
		}
	}
	if l := newLines(nil, families["any"], nil); !l.plain([]byte("G1 X12.5 Y-3 (tray A1)")) {
		t.Error("an ordinary line does not pass at a glance")
	}
}

// failsAfter fails from a byte on.
type failsAfter struct{ left, writes int }

func (f *failsAfter) Write(p []byte) (int, error) {
	f.writes++
	if f.left -= len(p); f.left < 0 {
		return 0, bytes.ErrTooLarge
	}
	return len(p), nil
}

// TestLinesKeepTheFirstError: a disk that is full is reported at the end, and written to
// no more.
func TestLinesKeepTheFirstError(t *testing.T) {
	w := &failsAfter{left: held}
	l := newLines(w, &blocks.Blocks{}, &budget{most: 1 << 30})
	for range 10 {
		l.add(bytes.Repeat([]byte("travel x=1\n"), held/11))
	}
	if err := l.flush(); err != bytes.ErrTooLarge || w.writes > 3 {
		t.Errorf("after %d writes: %v", w.writes, err)
	}
}

// TestFaultsOfABlock: of the lines of a block that are wrong in one way the first is
// reported, and no more than a hundred are looked at closely.
func TestFaultsOfABlock(t *testing.T) {
	l := newFinisher(&blocks.Blocks{Rules: rules.Rules{LongestLine: 40, LineEnd: "\n", Encoding: rules.ASCII}})
	long := append(bytes.Repeat([]byte{'x'}, 41), '\n')
	for n, want := range map[int]int{1: 2, mostWrong - 1: 2, mostWrong: 1, 10 * mostWrong: 1} {
		_, lines, faults := l.finish(nil, append(bytes.Repeat(long, n), "é\n"...))
		if lines != n+1 || len(faults) != want || faults[0].rule != ruleLong {
			t.Errorf("%d lines that are too long and one in another encoding: %d lines, %+v", n, lines, faults)
		}
	}
}
