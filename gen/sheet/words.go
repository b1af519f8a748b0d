package sheet

import (
	"fmt"
	"math"
	"path"
	"strconv"
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// summary is what the job does, in a few plain sentences.
func (j *Job) summary(s *survey) []string {
	l := j.Layout
	carried := map[*layout.Part]int{}
	total, mixed := 0, false
	for _, e := range l.Entries {
		carried[e.Part] += e.Parts
		total += e.Parts
		mixed = mixed || len(e.Kinds()) > 1
	}
	var kinds []string
	for _, p := range l.Parts {
		if n := carried[p]; n > 0 && !mixed {
			kinds = append(kinds, fmt.Sprintf("%d × %s", n, p.Name))
		}
	}
	what := wording.Count(total, "part")
	if len(kinds) > 0 {
		what += " (" + wording.List(kinds, 8) + ")"
	}
	whose, made := j.about()
	said := []string{fmt.Sprintf("%s carries %s, %s at a time, with the tool %s%s. %s %s, made of %s, and takes about %s while nothing stops it.",
		whose, what, atATime(l), toolNames(l), j.direction(), made, wording.Count(s.counts.Transfers, "transfer"), wording.Count(s.counts.Moves, "move"), j.Time.Clock())}
	said = append(said, j.carriage())
	if left := j.leftOut(); left != "" {
		said = append(said, left)
	}
	if j.Stand != "" {
		said = append(said, "What has to stand where before it begins is written and drawn in section 8.")
	}
	if h := l.Held; h != nil {
		said = append(said, fmt.Sprintf("It begins with a part in the gripper, taken from %s %s.", h.Grid.Name, h.Grid.Label(h.Slot)))
	}
	return said
}

// atATime is how many parts the tool carries at once.
func atATime(l *layout.Layout) string {
	least, most := math.MaxInt, 1
	for _, e := range l.Entries {
		if e.Parts > 0 {
			n := min(e.Parts, e.AtOnce)
			least, most = min(least, n), max(most, n)
		}
	}
	switch {
	case most == 1:
		return "one"
	case least == most:
		return strconv.Itoa(most)
	}
	return "up to " + strconv.Itoa(most)
}

func toolNames(l *layout.Layout) string {
	var names []string
	for _, t := range l.UsedTools() {
		names = append(names, t.Name)
	}
	return wording.List(names, 8)
}

// about begins the sentences that say what the job does, and what of it the sheet
// is about.
func (j *Job) about() (whose, made string) {
	switch {
	case j.FirstRun != nil && j.Next > 0:
		return "In the whole job the arm", fmt.Sprintf("The prove-out of the resumed job, which this sheet is about, begins with transfer %d and goes the same ways; it is", j.Next)
	case j.FirstRun != nil:
		return "In the job itself the arm", "Its prove-out, which this sheet is about, goes the same ways; it is"
	case j.Next > 0:
		return "In the whole job the arm", fmt.Sprintf("The resumed job begins with transfer %d; it is", j.Next)
	}
	return "The arm", "That is"
}

// direction is where everything goes, where that can be said in one breath.
func (j *Job) direction() string {
	ways := map[string]bool{}
	text := ""
	for _, e := range j.Layout.Entries {
		if e.Parts == 0 {
			continue
		}
		if e.Listed != nil {
			return ", as the table says"
		}
		stops := []string{", from " + e.Legs[0].From.Grid.Name}
		for i := range e.Legs[:len(e.Legs)-1] {
			stops = append(stops, "by way of "+e.Legs[i].To.Grid.Name)
		}
		text = strings.Join(append(stops, "to "+e.Legs[len(e.Legs)-1].To.Grid.Name), " ")
		ways[text] = true
	}
	if len(ways) != 1 {
		return ", as the table says"
	}
	return text
}

// doings is in which order the legs are made, and what is done on the way.
func (j *Job) doings(e *layout.Entry) []string {
	var said []string
	if e.AtOnce > 1 {
		said = append(said, fmt.Sprintf("%d parts at a time", e.AtOnce))
	}
	switch {
	case e.PerPart() == 1:
	case e.ByPart:
		said = append(said, "each part goes all the way before the next one starts")
	default:
		said = append(said, "each leg is made with all parts before the next leg begins")
	}
	add := func(when string, g *layout.Grid, steps []layout.Step) {
		if words := stepWords(j.done(steps)); len(words) > 0 {
			said = append(said, when+" "+g.Name+": "+strings.Join(words, ", "))
		}
	}
	if e.Listed != nil {
		if words := stepWords(j.done(e.Legs[0].Put)); len(words) > 0 {
			said = append(said, "after putting down: "+strings.Join(words, ", "))
		}
		return said
	}
	add("above", e.Legs[0].From.Grid, e.Legs[0].OverFrom)
	add("after picking up at", e.Legs[0].From.Grid, e.Legs[0].Taken)
	for i := range e.Legs {
		add("above", e.Legs[i].To.Grid, e.Legs[i].OverTo)
		add("after putting down at", e.Legs[i].To.Grid, e.Legs[i].Put)
	}
	return said
}

// stepWords is steps in words.
func stepWords(steps []layout.Step) []string {
	var words []string
	for i := range steps {
		words = append(words, stepWord(&steps[i]))
	}
	if len(words) > 12 {
		return append(words[:12:12], wording.Count(len(words)-12, "step")+" more")
	}
	return words
}

func stepWord(s *layout.Step) string {
	switch s.Kind {
	case move.Set:
		return fmt.Sprintf("switch output %d %s", s.Signal, wording.Level(s.Level))
	case move.Await:
		return fmt.Sprintf("wait until input %d is %s%s", s.Signal, wording.Level(s.Level), timeOut(s))
	case move.Dwell:
		return "wait " + short(s.Seconds, 3) + " s"
	case move.Travel:
		return "go to " + s.Pose.Name
	case move.Straight:
		return "go straight to " + s.Pose.Name
	case move.Note, move.Select, move.Grip, move.Release: // a plan's steps are no others
	}
	return "note “" + strings.Join(strings.Fields(s.Text), " ") + "”"
}

func timeOut(s *layout.Step) string {
	switch {
	case s.Seconds == 0:
		return ", however long that takes"
	case s.GoOn:
		return fmt.Sprintf(", go on after %s s in any case", short(s.Seconds, 3))
	default:
		return fmt.Sprintf(", stop after %s s", short(s.Seconds, 3))
	}
}

// cautions are the usual ones as sentences.
func cautions() []string {
	text := strings.Join(rules.Cautions, " ")
	text = strings.TrimPrefix(text, "CAUTION: ")
	var out []string
	const brief = 30 // a sentence shorter than this stands with the next one
	for from := 0; ; {
		end := strings.Index(text[from:], ". ")
		if end < 0 {
			return append(out, upper(text))
		}
		if from += end + 1; from < brief {
			continue
		}
		out, text, from = append(out, upper(text[:from])), text[from+1:], 0
	}
}

// upper begins a sentence.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// findings are the check's warnings.
func (j *Job) findings() []finding {
	var out []finding
	for i, f := range j.Findings {
		if i == mostFindings {
			return append(out, finding{Message: fmt.Sprintf("And %s more: see \"gridferry check\".", wording.Count(len(j.Findings)-i, "warning"))})
		}
		out = append(out, finding{upper(f.Message) + ".", also(f.Notes), f.Hint, local(f.Place), f.Rule})
	}
	return out
}

// also is what a finding says beside its message: others that were folded into it, and
// what it points at.
func also(notes []diag.Note) string {
	var said []string
	for _, n := range notes {
		text := n.Message
		if !n.Place.IsZero() {
			text += " (" + local(n.Place) + ")"
		}
		said = append(said, text)
	}
	if len(said) == 0 {
		return ""
	}
	return upper(strings.Join(said, "; ")) + "."
}

// local is a place without its folder: where the file lies is nobody's business on the
// shop floor.
func local(at diag.Place) string {
	at.File = path.Base(at.File)
	return at.String()
}
