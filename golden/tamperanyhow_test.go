package golden

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/seal"
	"gridferry/templates"
)

// sealed is a program as it was written, and those who judge what became of it.
type sealed struct {
	job    *gen.Job
	family *family.Family
	name   string
	text   string
	moves  []listed
	words  []string // that are put in
}

// sealedPrograms is one of every shipped family.
func sealedPrograms(t testing.TB) []*sealed {
	t.Helper()
	job := tamperedJob(t)
	plan := filepath.Join(t.TempDir(), "pegs.plan.yaml")
	if err := os.WriteFile(plan, []byte(twoPegs), 0o666); err != nil {
		t.Fatal(err)
	}
	moves := listMoves(t, plan)
	var all []*sealed
	for _, name := range templates.All() {
		f := shippedFamily(t, name)
		var out bytes.Buffer
		if err := job.Write(&out, f); err != nil || job.Findings.HasErrors() {
			t.Fatalf("%s: %v, %+v", name, err, job.Findings.Sorted())
		}
		s := &sealed{job, f, name, out.String(), moves, nil}
		marks := commentMarks[name]
		for _, move := range aMove[name] {
			s.words = append(s.words, move, marks[1]+move+marks[0], marks[0]+move+marks[1], "\n"+move, "\r"+move, "\u2028"+move, marks[0], marks[1], strings.ToLower(move), strings.ToUpper(move))
		}
		if v := s.verdict(t, s.text); !v.Same() || v.Files[0].State != seal.Whole || s.unlike(s.text) != "" {
			t.Fatalf("%s: as it was written it is %+v, %s", name, v.Files, s.unlike(s.text))
		}
		all = append(all, s)
	}
	return all
}

// judgement is what verify says of a program.
type judgement uint8

const (
	refused judgement = iota // it is not read
	different
	same      // its moves are, and it is not as it was written
	untouched // and it is
)

// verdict is what verify says of a program; nil where it refuses to read it.
func (s *sealed) verdict(t testing.TB, text string) *gen.Verdict {
	t.Helper()
	v, err := s.job.Verify(s.family, []gen.ProgramFile{{Name: "p", Text: strings.NewReader(text)}})
	if err != nil {
		return nil
	}
	if v == nil {
		t.Fatalf("no verdict: %+v", s.job.Findings.Sorted())
	}
	return v
}

// judge asks verify of a program, and others where verify sees nothing.
func (s *sealed) judge(t testing.TB, what, text string) judgement {
	v := s.verdict(t, text)
	if v == nil {
		return refused
	}
	now := v.Files[0]
	whole := now.State == seal.Whole && now.PlanSame && now.FamilySame
	if !v.Same() && !whole {
		return different
	}
	if unlike := s.unlike(text); unlike != "" {
		t.Errorf("%s, %s: it is the same (%v) or untouched (%v), but %s\n%s", s.name, what, v.Same(), whole, unlike, lineDiff(s.text, text))
	}
	if whole {
		return untouched
	}
	return same
}

// unlike says what one of the controllers of twoEnds does otherwise than the list of moves,
// or than the program that was written.
func (s *sealed) unlike(text string) string {
	for _, text := range twoEnds(text) {
		var err error
		switch s.name {
		case "iso6983":
			err = compareWordAddress(s.moves, asTaken(text))
		case "st":
			err = compareStructuredText(s.moves, text)
			if err != nil && strings.HasPrefix(err.Error(), "does not parse") {
				err = nil // no controller takes anything of what is no program
			}
		default:
			if !slices.EqualFunc(pieces(s.name, s.text), pieces(s.name, text), piece.like) {
				err = fmt.Errorf("the lines are others")
			}
		}
		if err != nil {
			return err.Error()
		}
	}
	return ""
}

// asTaken is a word-address program without what a controller may refuse it for, as NISTIR
// 6556 does, but that makes it do nothing else: letters beyond ASCII in comments, comments and
// blank lines above the first "%", block numbers.
func asTaken(text string) string {
	text = blockNumber.ReplaceAllString(aboveProgram.ReplaceAllString(text, "%"), "")
	return wordComment.ReplaceAllStringFunc(text, func(comment string) string {
		return strings.Map(func(c rune) rune {
			if c > unicode.MaxASCII && evenEnds.Replace(string(c)) != "\n" {
				return '?'
			}
			return c
		}, comment)
	})
}

var (
	aboveProgram = regexp.MustCompile(`^(?:[ \t]*(?:\([^()\n]*\))?[ \t]*\n)*%`)
	blockNumber  = regexp.MustCompile(`(?m)^N[0-9]+`)
	wordComment  = regexp.MustCompile(`\([^()\n]*\)`)
)

// piece is a figure of what is obeyed, and the words before it.
type piece struct {
	words, digits string
	turn          bool // the figure is one
}

// pieces are the lines that are obeyed, in capital letters, as some controllers write them
// again, whatever blanks part their words. Behind each line is one without a figure.
func pieces(name, text string) []piece {
	var all []piece
	for _, line := range obeyed(name, strings.Split(text, "\n")) {
		line = strings.ToUpper(line)
		turning, last, before := turns.FindAllStringIndex(line, -1), 0, len(all)
		for _, at := range figure.FindAllStringIndex(line, -1) {
			turn := slices.ContainsFunc(turning, func(span []int) bool { return span[0] < at[0] && at[1] <= span[1] })
			all = append(all, piece{between(name, line[last:at[0]]), line[at[0]:at[1]], turn})
			last = at[1]
		}
		if rest := between(name, line[last:]); rest != "" || len(all) > before {
			all = append(all, piece{words: rest})
		}
	}
	return all
}

var (
	figure = regexp.MustCompile(`(?:\B-)?(?:[0-9]+\.?[0-9]*|\.[0-9]+)`)
	turns  = regexp.MustCompile(`TURNED [^D]+|(?:ROLL|PITCH|YAW)=[^ ]+`)
)

// like reports whether a piece of another program says the same: a turn may be any number of
// times 360 degrees more, and decimals have the rounding that they were written with.
func (p piece) like(other piece) bool {
	if p.words != other.words || p.turn != other.turn || (p.digits == "") != (other.digits == "") {
		return false
	}
	a, _ := strconv.ParseFloat(p.digits, 64)
	b, _ := strconv.ParseFloat(other.digits, 64)
	const least = 3 // decimals of speeds, which are written without noughts at the end
	apart, room := math.Abs(a-b), 0.5001*math.Pow10(-least)
	if p.turn {
		apart = math.Abs(math.Remainder(a-b, 360))
	}
	if _, decimals, ok := strings.Cut(p.digits, "."); ok {
		room = 0.5001 * math.Pow10(-len(decimals))
	}
	return apart <= room
}

// between is a text without blanks, and in the family for people without any sign.
func between(name, text string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsSpace(c) || name == "listing" && !unicode.IsLetter(c) {
			return -1
		}
		return c
	}, text)
}

// lineDiff is the lines that only one of two texts has.
func lineDiff(a, b string) string {
	var out strings.Builder
	in := strings.Split(a, "\n")
	for i, line := range strings.Split(b, "\n") {
		if !slices.Contains(in, line) {
			fmt.Fprintf(&out, "line %d is %q\n", i+1, line)
		}
	}
	after := strings.Split(b, "\n")
	for i, line := range in {
		if !slices.Contains(after, line) {
			fmt.Fprintf(&out, "line %d was %q\n", i+1, line)
		}
	}
	return out.String()
}

// TestTamperedAnyhow changes programs of all shipped families at random. Whatever verify
// calls the same or untouched, readers that share no code with it read as it was written.
func TestTamperedAnyhow(t *testing.T) {
	t.Parallel()
	count, from := anyhow(t, 300)
	for _, s := range sealedPrograms(t) {
		if testing.Short() && s.name == "st" {
			continue // whose controller is simulated
		}
		var judged [4]int
		for seed := from; seed < from+uint64(count); seed++ {
			text := newEditor(seed, s.words...).edited(s.text)
			judged[s.judge(t, fmt.Sprintf("seed %d", seed), text)]++
		}
		t.Logf("%s: of %d programs %d are refused, %d different, %d the same, %d untouched", s.name, count, judged[refused], judged[different], judged[same], judged[untouched])
	}
}

// TestTamperedIsSeen plants single faults: who judges beside verify sees each.
func TestTamperedIsSeen(t *testing.T) {
	for _, s := range sealedPrograms(t) {
		for _, fault := range [][2]string{{"300", "301"}, {"200", "210"}, {"0.4", "0.6"}, {"1.2", "1.3"}} {
			if s.name == "iso6983" && fault[0] == "200" || fault[0] == "1.2" && (s.name == "iso6983" || s.name == "loops") {
				continue // they do not write the speed of travels, and not the load
			}
			lines := strings.Split(s.text, "\n")
			planted := slices.ContainsFunc(lines[len(lines)/4:], func(line string) bool {
				other := strings.Replace(line, fault[0], fault[1], 1)
				return len(obeyed(s.name, []string{line})) > 0 && other != line && s.unlike(strings.Replace(s.text, line, other, 1)) != ""
			})
			if !planted {
				t.Errorf("%s: %q in place of %q goes unseen", s.name, fault[1], fault[0])
			}
		}
		if move := aMove[s.name][0]; s.name != "st" && s.unlike(strings.Replace(s.text, "\n", "\n"+move+"\n", 1)) == "" {
			t.Errorf("%s: a move more goes unseen", s.name)
		}
	}
}

// FuzzTampered lets the fuzzer tamper.
//
//fuzz:8s
func FuzzTampered(f *testing.F) {
	programs := sealedPrograms(f)
	for i, s := range programs {
		f.Add(uint8(i), uint64(0), s.text)
		f.Add(uint8(i), uint64(1), s.text)
	}
	f.Fuzz(func(t *testing.T, family uint8, seed uint64, text string) {
		s := programs[int(family)%len(programs)]
		if seed > 0 {
			text = newEditor(seed, s.words...).edited(text)
		}
		s.judge(t, fmt.Sprintf("seed %d", seed), text)
	})
}
