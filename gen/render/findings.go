package render

import (
	"errors"
	"strconv"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// The rules that only writing can find broken.
const (
	ruleKind     = "kind-not-possible"     // the family has no words for this kind of move
	ruleTilted   = "tool-tilted"           // the family writes a turn about the vertical only
	ruleBack     = "axis-turns-back"       // a warning: the axis has no room for the short way round
	ruleNowhere  = "turn-out-of-range"     // the axis does not turn so far
	ruleNumber   = "number-not-finite"     // a figure is NaN, infinite or absurdly large
	ruleLong     = "line-too-long"         // longer than the family's longest line
	ruleLetter   = "not-in-encoding"       // a character that the family's encoding lacks
	ruleControl  = "control-character"     // a character that would change what the lines mean
	ruleAllowed  = "letter-not-allowed"    // a character that the family's "letters" lack
	ruleWide     = "figure-too-wide"       // a figure has more characters than the family's field
	ruleNothing  = "rounds-to-nothing"     // a speed, an acceleration or a wait that the family's decimals make 0 of
	ruleCoarse   = "rounds-too-coarsely"   // a pose that the family's decimals take further off than its tolerance
	ruleCut      = "speed-cut-short"       // a warning: decimals take a good deal of a speed away
	rulePercent  = "machine-speed-unknown" // percent of a speed that the cell does not give
	ruleOutput   = "output-too-large"      // more bytes than --max-output
	ruleTransfer = "transfer-too-long"     // a transfer alone has more lines than a file may have
	ruleParts    = "too-many-parts"        // the calls alone have more lines than a file may have
	ruleNames    = "name-not-unique"       // two texts give one identifier
	ruleTables   = "too-many-tables"       // the moves have no room in the tables that the family may have
	ruleTemplate = "template-failed"       // a template stopped while running
)

// findings reports the same about the same place once, however many moves it is
// true of.
type findings struct {
	list *diag.List
	seen map[finding]bool
}

type finding struct {
	rule  string
	place diag.Place
	about string
}

func (f *findings) errorf(rule string, at diag.Place, about, format string, args ...any) *diag.Finding {
	return f.alike(rule, at, at, about, format, args...)
}

// alike is errorf where several places count as one.
func (f *findings) alike(rule string, one, at diag.Place, about, format string, args ...any) *diag.Finding {
	if !f.isNew(finding{rule, one, about}) {
		return new(diag.Finding)
	}
	return f.list.Errorf(rule, at, format, args...)
}

// isNew reports whether this was not found before, and remembers it.
func (f *findings) isNew(key finding) bool {
	before := f.seen[key]
	f.seen[key] = true
	return !before
}

// cannot reports a block that the family does not write.
func (p *program) cannot(m *move.Move, block, reason string) {
	p.found.alike(ruleKind, m.Alike(), m.Place, block, "the family %q does not write %q: %s", p.family.Label, block, reason)
}

func (p *program) figureFailed(m *move.Move, err error) {
	one, at := m.Alike(), m.Place
	switch {
	case errors.Is(err, rules.ErrTooWide):
		p.found.alike(ruleWide, one, at, "", "%v", err).WithHint("widen the field in family.yaml, or write fewer decimals")
	case errors.Is(err, errNothing):
		p.found.alike(ruleNothing, one, at, "", "a figure %v", err).WithHint("give that quantity more decimals in family.yaml")
	default:
		p.found.alike(ruleNumber, one, at, "", "%v", err)
	}
}

// speedCut warns of a speed that the family's decimals make much less of, once.
func (p *program) speedCut(l *loss) {
	at := p.family.DecimalsAt[rules.Speed]
	if !p.found.isNew(finding{ruleCut, at, ""}) {
		return
	}
	p.found.list.Warnf(ruleCut, at, "a speed of %s mm/s is written %s, which is %.0f %% less: speeds are rounded down",
		strconv.FormatFloat(l.speed, 'f', -1, 64), l.text, 100*l.part).
		WithHint("write \"speed: %d\" under \"decimals\", or choose speeds that need no more digits", l.decimals)
}

func (p *program) templateFailed(err error) {
	var e *blocks.BlockError
	if errors.As(err, &e) {
		p.stopped = p.stopped || e.Bounds
		p.found.errorf(ruleTemplate, e.Place, "", "%s", e.Message)
		return
	}
	p.found.errorf(ruleTemplate, diag.Place{File: p.family.Label}, "", "%v", err)
}

// runsAway reports whether a block did or wrote too much: going on would only cost time.
func runsAway(err error) bool {
	var e *blocks.BlockError
	return errors.As(err, &e) && e.Bounds
}
