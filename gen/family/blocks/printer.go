package blocks

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"text/template"
	"unicode/utf8"

	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// largestBlock is how many bytes one block may write for one move. All of them together may
// write as much, and beside it a usual amount for each move, until they are renewed.
const largestBlock = 1 << 20

// Printer runs blocks. It reuses one buffer and belongs to one goroutine.
type Printer struct {
	family  *Blocks
	blocks  map[string]*runner
	remarks *remarks

	Named func(name, text string) // given every identifier that the function "name" makes; may be nil
	Items int                     // how many poses and slots the lists have that the blocks may go through

	text    []byte
	scratch []byte // of one value on its way to text
	steps   int    // of the block that runs
	longest int    // bytes that it may write
	left    Left
	line    int   // where its last line that was looked for begins
	ends    []int // where comments ended that run to the end of their line
}

// NewPrinter returns a printer for the family.
func (f *Blocks) NewPrinter() *Printer {
	p := &Printer{family: f, blocks: map[string]*runner{}, remarks: newRemarks(f)}
	p.Renew()
	set := template.Must(f.set.Clone()).Funcs(template.FuncMap{emitName: p.emit, tickName: p.tick, nameName: p.name, quoteName: quote(&f.Rules, p.spells)})
	for _, b := range everyBlock() {
		if t := set.Lookup(b.Name); t != nil {
			p.blocks[b.Name] = &runner{family: f, template: t, cost: f.costs[b.Name], view: b.viewType()}
		}
	}
	return p
}

// Renew forgets what the blocks did so far, of which all of them together may do no
// more than so much. A program is written in stretches of some hundred moves, each of
// which begins with it: so it does not matter which printer writes which.
func (p *Printer) Renew() { p.left = Left{reserve, largestBlock} }

// Left is what the blocks of a stretch may still do and write, all of them together.
type Left struct{ steps, bytes int }

// Left is for a stretch that another printer goes on with.
func (p *Printer) Left() Left { return p.left }

// GoOn goes on with a stretch.
func (p *Printer) GoOn(with Left) { p.left = with }

// BlockError says where a block failed and why, in the words of a finding.
type BlockError struct {
	Place   diag.Place
	Message string
	Bounds  bool // the block did too much or wrote too much: trying once more would only cost time
}

func (e *BlockError) Error() string { return e.Place.String() + ": " + e.Message }

// Print runs one block on its view, which is given as it is or by a pointer. The
// text holds until the next call; its lines end in "\n". An error is a *BlockError.
// It is quickest on a view that is given by a pointer, the same one every time.
func (p *Printer) Print(block string, view any) ([]byte, error) {
	r, ok := p.blocks[block]
	if !ok {
		return nil, &BlockError{Place: diag.Place{File: p.family.Label}, Message: fmt.Sprintf("the family has no block %q", block)}
	}
	if r.takes(view) && p.directly(r.cost, r.steps) {
		return p.text, nil
	}
	if err := p.run(r, view); err != nil {
		return nil, p.failed(block, err)
	}
	return p.text, nil
}

// begin is what every run of a block begins with.
func (p *Printer) begin(cost int) error {
	p.text, p.ends, p.steps, p.line = p.text[:0], p.ends[:0], 0, 0
	p.left.steps = min(p.left.steps+usual, reserve) + usual*p.Items
	p.left.bytes = min(p.left.bytes+usualText, largestBlock)
	p.longest = p.left.bytes + widest*p.Items
	_, err := p.tick(cost)
	return err
}

// directly runs the steps of a block, or those that were settled; false when text/template has to run it, and
// then nothing has happened.
func (p *Printer) directly(cost int, steps []step) bool {
	left := p.left
	if err := p.begin(cost); err == nil {
		var ok bool
		if p.text, ok = p.follow(p.text, steps); ok && p.end() == nil {
			return true
		}
	}
	p.left = left
	return false
}

// run has text/template run a block.
func (p *Printer) run(r *runner, view any) error {
	if err := p.begin(r.cost); err != nil {
		return err
	}
	if err := r.template.Execute(p, dotOf(view)); err != nil {
		return err
	}
	return p.end()
}

// end is what every run of a block ends with.
func (p *Printer) end() error {
	p.left.bytes -= len(p.text)
	return p.checkEnds()
}

// callError is what text/template puts before a function's own message.
var callError = lazy.Regexp(`^error calling (\w+): `)

// failed turns an error of a run into one with a place: that of the failing
// action, or the block's where there is none.
func (p *Printer) failed(block string, err error) error {
	var exec template.ExecError
	if !errors.As(err, &exec) {
		return &BlockError{p.family.defs[block].place, err.Error(), isBound(err)}
	}
	at, message := splitRunError(p.family.Label, err)
	message = inOurWords.Replace(unlike().ReplaceAllString(message,
		"it compares words with words, and a figure is a word, or whole numbers with whole numbers; a condition stands alone"))
	if m := callError().FindStringSubmatch(message); m != nil {
		message = message[len(m[0]):]
		if m[1] != emitName && m[1] != tickName {
			message = fmt.Sprintf("function %q: %s", m[1], message)
		}
	}
	return &BlockError{at, message, isBound(err)}
}

// inOurWords puts what the template engine says of types as AUTHORING.md calls them.
var inOurWords = strings.NewReplacer("wrong type for value; ", "", "blocks.Text", "a text", "blocks.Quoted", "a quoted text",
	"expected int; got string", "wanted a whole number, found a word", "expected string; got int", "wanted a word, found a whole number",
	"expected integer; found", "wanted a whole number, found", "expected string; got", "wanted a word, found")

// unlike is what the template engine says of a comparison of two types.
var unlike = lazy.Regexp(`incompatible types for comparison(: \w+ and \w+)?`)

func isBound(err error) bool {
	return errors.Is(err, errTooMuchWork) || errors.Is(err, errTooMuchInAll) || errors.Is(err, errTooMuchText) || errors.Is(err, errTooMuchTextInAll)
}

// Write takes what the template prints.
func (p *Printer) Write(b []byte) (int, error) {
	if len(p.text)+len(b) > p.longest {
		return 0, p.tooMuchText()
	}
	p.text = append(p.text, b...)
	return len(b), nil
}

// tick counts work: what a block costs when it begins, and every turn of a loop.
func (p *Printer) tick(cost int) (string, error) {
	p.steps += cost + 1
	p.left.steps -= cost + 1
	switch {
	case p.steps > mostSteps+usual*p.Items:
		return "", errTooMuchWork
	case p.left.steps < 0:
		return "", errTooMuchInAll
	}
	return "", nil
}

// tooMuchText is that a block writes more than any may, or all of them more than they may together.
func (p *Printer) tooMuchText() error {
	if p.longest < largestBlock+widest*p.Items {
		return errTooMuchTextInAll
	}
	return errTooMuchText
}

// spells counts what it costs to spell a text for a program: it is taken apart into
// letters and accents, and each of the family's replacements goes through it.
func (p *Printer) spells(text string) error {
	_, err := p.tick(p.spelling(len(text)))
	return err
}

// spelling is in how many steps a text is spelled.
func (p *Printer) spelling(bytes int) int { return bytes * (8 + len(p.family.Comment.Replace)) / 64 }

// The work of a program is bounded by counting and not by a clock, so that the
// same program is refused on every machine: each block may do a usual amount for
// each move, and all of them together a reserve more, until they are renewed.
const (
	usual     = 5_000
	reserve   = 500_000
	usualText = 2_000 // bytes
)

var (
	errTooMuchWork      = fmt.Errorf("the block loops or calls helpers too often, more than %d steps", mostSteps)
	errTooMuchText      = fmt.Errorf("the block writes more than %d bytes at once", largestBlock)
	errTooMuchTextInAll = fmt.Errorf("the blocks write more than %d bytes for each move", usualText)
	errTooMuchInAll     = fmt.Errorf("the blocks loop or call helpers too often, more than %d steps for each move", usual)
)

// emit is the one way into a program: words and whole numbers as they are, free
// text as a comment, nothing else.
func (p *Printer) emit(v any) (string, error) {
	switch t := v.(type) {
	case Text:
		return p.emitText(t)
	case Quoted:
		return p.emitQuoted(t)
	}
	word, err := wordOf(v)
	if err != nil {
		return "", fmt.Errorf("%s cannot be printed, wanted a word, a whole number or a text", describe(v))
	}
	return word, nil
}

// emitQuoted refuses a quoted text inside other quotes or a comment.
func (p *Printer) emitQuoted(t Quoted) (string, error) {
	line := p.text[bytes.LastIndexByte(p.text, '\n')+1:]
	if _, err := p.tick(len(line) / 64); err != nil {
		return "", err
	}
	if inside := p.family.Comment.Inside(string(line)); inside != "" {
		return "", fmt.Errorf("a quoted text is printed inside %s, wanted it alone: \"quote\" writes the marks itself", inside)
	}
	return t.s, nil
}

// emitText makes the comment. It may not begin inside quotes or another comment,
// where its marks would mean nothing.
func (p *Printer) emitText(t Text) (string, error) {
	comment := &p.family.Comment
	line := p.text[bytes.LastIndexByte(p.text, '\n')+1:]
	if _, err := p.tick(len(line)/64 + p.spelling(len(t.s))); err != nil { // the line is looked through
		return "", err
	}
	if comment.Form == rules.Marked {
		if inside := comment.Inside(string(line)); inside != "" {
			return "", fmt.Errorf("a text is printed inside %s, where its comment marks mean nothing, wanted %s", inside, p.instead(inside))
		}
	}
	text := comment.Format(t.s, p.room(line))
	if comment.Form == rules.Marked && comment.Close == "" && text != "" {
		p.ends = append(p.ends, len(p.text)+len(text))
	}
	return text, nil
}

// instead is what to write in the place of a text inside quotes or a comment.
func (p *Printer) instead(inside string) string {
	switch {
	case inside == rules.InComment:
		return "the text alone"
	case p.family.Quotes.Has():
		return "{{quote TEXT}} without marks around it"
	}
	return "{{quote TEXT}} without marks around it, and \"quotes\" in " + rules.File
}

// room is how many characters the line still takes; 0 means any number.
func (p *Printer) room(line []byte) int {
	if p.family.LongestLine == 0 {
		return 0
	}
	return max(p.family.LongestLine-p.family.BlockNumbers.Width()-utf8.RuneCount(line), 1)
}

// checkEnds refuses words behind a comment that runs to the end of its line:
// the controller would not read them.
func (p *Printer) checkEnds() error {
	for _, end := range p.ends {
		if end < len(p.text) && p.text[end] == '\n' {
			continue
		}
		rest, _, _ := bytes.Cut(p.text[end:], []byte("\n"))
		if rest = bytes.TrimSpace(rest); len(rest) > 0 {
			return fmt.Errorf("%q stands behind a comment on the same line, where the controller does not read it", rest)
		}
	}
	return nil
}
