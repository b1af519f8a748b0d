package explain

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"gridferry/gen/page"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// The page is one file: its own policy lets in the style and the script that
// stand in it, by their digests, and nothing else, from nowhere.
var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	pageStyle string
	//go:embed page.js
	pageScript string

	pageTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("page").Parse(pageText)) })
)

// HTML prints the report as one page that needs nothing else.
func (r *Report) HTML(w io.Writer) error {
	style := page.Style(pageStyle) + page.Edges{Kind: "Why every line is there", Title: r.Title, Foot: "family " + r.Family}.Style()
	v := pageView{
		Policy: page.Policy(pageScript, style), Style: template.CSS(style), Script: template.JS(pageScript),
		Title: r.Title, Family: r.Family, Summary: r.summary(),
	}
	b := &pageBuilder{r: r, ids: map[string]bool{}}
	for _, f := range r.Files {
		v.Files = append(v.Files, b.file(f))
	}
	for _, s := range r.Sections {
		if s.Count > 0 || s.Text.First > 0 {
			v.Sections = append(v.Sections, b.section(s))
			v.NoMoves = v.NoMoves || s.Text.First > 0
		}
	}
	if r.Focus == nil && r.Subject == nil {
		v.Head, v.Tail = excerptView(r.Head), excerptView(r.Tail)
	}
	return pageTemplate().Execute(w, v)
}

type pageView struct {
	Policy     string
	Style      template.CSS
	Script     template.JS
	Title      string
	Family     string
	Summary    []string
	Files      []fileView
	Sections   []sectionView
	Head, Tail *excerptLines
	NoMoves    bool // the family writes loops
}

// summary is what the text form says first.
func (r *Report) summary() []string {
	return append(slices.Clone(r.Notices), r.answer()...)
}

// askedAbout begins the sentence that says which line was asked about.
const askedAbout = "Asked about: "

func (r *Report) answer() []string {
	switch {
	case r.Focus != nil:
		var lines []string
		if line := r.Focus.Line; line.N > 0 {
			lines = append(lines, fmt.Sprintf("Line %d of the program: %s", line.N, strings.TrimSpace(line.Text)))
		}
		if f := r.Focus; f.Listed != "" {
			lines = append(lines, fmt.Sprintf("It is there because of %s (%s), a line of the worklist of %s.",
				location(f.Place.File, f.Place.Line), strings.TrimSpace(f.Listed), location(f.Entry.Place.File, f.Entry.Place.Line)))
		}
		return append(lines, r.focusStory()...)
	case r.Subject != nil:
		asked := askedAbout + location(r.Asked.File, r.Asked.Line) + "."
		return []string{asked, r.subjectSentence(r.file(r.Asked.File).Outline.Remark(r.Asked.Line)), r.restSentence()}
	}
	return []string{fmt.Sprintf("%s, %s of the program. What repeats is folded.",
		wording.Count(r.Counts.Moves, "move"), wording.Count(r.Lines, "line"))}
}

// excerptLines are program lines that no move made.
type excerptLines struct {
	Lines []Line
	More  int
}

func excerptView(e Excerpt) *excerptLines {
	if e.First == 0 {
		return nil
	}
	return &excerptLines{e.Lines, e.Last - e.First + 1 - len(e.Lines)}
}

type fileView struct {
	Word, Name string
	Lines      []planLine
	More       int
}

// planLine is a line of the plan or cell. Goes is the first move that it leads
// to; "" for none.
type planLine struct {
	ID, Goes, Text string
	N              int
	Asked          bool
}

type sectionView struct {
	Title string
	Units []unitView
	Text  *excerptLines
	Place string // the id of the plan's line
}

type unitView struct {
	Name, Fold string
	Rows       []rowView
	Before     int
	More       int
}

// rowView is a move; the ids are those of the lines that go with it.
type rowView struct {
	ID, Made, Rests, Leads string
	N                      int
	Does, Why              string
	FirstWhy, InFocus      bool
	Headings, Lines        []Line
}

// pageBuilder makes the views; ids are those of the lines that are on the page.
type pageBuilder struct {
	r    *Report
	ids  map[string]bool
	goes map[string]string // plan line to move
}

// mostPlanLines bounds a file on the page.
const mostPlanLines = 1200

func (b *pageBuilder) file(f *File) fileView {
	b.index()
	v := fileView{Word: f.Word, Name: f.Name, More: max(f.Outline.Lines()-mostPlanLines, 0)}
	for n := 1; n <= f.Outline.Lines()-v.More; n++ {
		id := b.id(diag.Place{File: f.Name, Line: n})
		b.ids[id] = true
		asked := b.r.Asked.File == f.Name && b.r.Asked.Line == n
		v.Lines = append(v.Lines, planLine{id, b.goes[id], f.Outline.Line(n), n, asked})
	}
	return v
}

// index finds the first move on the page that each plan line leads to.
func (b *pageBuilder) index() {
	if b.goes != nil {
		return
	}
	b.goes = map[string]string{}
	first := func(at diag.Place, move int) {
		if id := b.id(at); id != "" && b.goes[id] == "" {
			b.goes[id] = "m" + number(move)
		}
	}
	for _, s := range b.r.Sections {
		if id := b.id(s.Place); s.Text.First > 0 && b.goes[id] == "" {
			b.goes[id] = "r" + number(s.Text.First)
		}
	}
	b.rows(func(s *Section, row *Row) {
		first(row.Move.Place, row.Move.N)
		for _, shaper := range row.Shapers {
			first(shaper.Place, row.Move.N)
		}
	})
}

func (b *pageBuilder) rows(do func(s *Section, row *Row)) {
	for _, s := range b.r.Sections {
		for _, p := range s.Pieces {
			for i := range p.Rows {
				do(s, &p.Rows[i])
			}
		}
	}
}

// id is what a line of the plan or cell is called on the page; "" for a line of
// another file.
func (b *pageBuilder) id(at diag.Place) string {
	f := b.r.file(at.File)
	if f == nil {
		return ""
	}
	return f.Word[:1] + number(at.Line)
}

func (b *pageBuilder) section(s *Section) sectionView {
	v := sectionView{Title: s.heading(), Place: b.shown(s.Place)}
	for _, p := range s.Pieces {
		v.Units = append(v.Units, b.unit(p))
	}
	v.Text = excerptView(s.Text)
	return v
}

// shown is a line's id where the line is on the page.
func (b *pageBuilder) shown(at diag.Place) string {
	if id := b.id(at); b.ids[id] {
		return id
	}
	return ""
}

func (b *pageBuilder) unit(p *Piece) unitView {
	if p.Folded > 0 {
		fold := p.foldSentence()
		if p.Lines.First > 0 {
			fold += ", program " + spans("line", p.Lines.First, p.Lines.Last)
		}
		return unitView{Fold: fold}
	}
	v := unitView{Name: p.Name, Before: p.Before, More: p.More}
	for i := range p.Rows {
		v.Rows = append(v.Rows, b.row(&p.Rows[i]))
	}
	return v
}

func (b *pageBuilder) row(row *Row) rowView {
	m := &row.Move
	v := rowView{
		ID: "m" + number(m.N), Made: b.shown(m.Place), N: m.N, Does: say(m), Why: row.Why, FirstWhy: row.FirstWhy, InFocus: row.InFocus,
		Headings: row.Heading, Lines: row.Lines,
	}
	var rests []string
	for _, s := range row.Shapers {
		if id := b.shown(s.Place); id != "" {
			rests = append(rests, id)
		}
	}
	v.Rests = strings.Join(rests, " ")
	if len(row.Lines) > 0 {
		v.Leads = "r" + number(row.Lines[0].N)
	}
	return v
}
