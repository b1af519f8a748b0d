package sheet

import (
	"bytes"
	"embed"
	"encoding/json"
	"html/template"
	"io"
	"path"
	"strings"
	"sync"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/layout"
	"gridferry/gen/margin"
	"gridferry/gen/move"
	"gridferry/gen/page"
	"gridferry/gen/proveout"
	"gridferry/gen/scene"
	"gridferry/gen/timing"
	"gridferry/plan/diag"
)

// Job is what a sheet is made of. It was checked without an error.
type Job struct {
	Layout   *layout.Layout
	Moves    move.Seq
	Counts   move.Counts    // of them
	Slots    *check.Slots   // after all moves have gone by
	Time     *timing.Report // of the same moves
	Findings []diag.Finding // warnings, sorted
	Sources  *diag.Sources
	Title    string
	Notices  []string          // what kind of run it is; none for a whole job
	FirstRun *proveout.Options // of the prove-out whose moves these are; nil for none
	Next     int               // of a resumed job, the transfer that comes next; otherwise 0
	Removed  int               // parts that people took away before that, as somebody said,
	Added    int               // and parts that they put in
	Stand    string            // of a resumed job with parts, the file of slots that says what has to stand where
	Begin    []layout.Step     // what is done before the first transfer
	Digest   string            // of the plan and all that was read for it
	Version  string            // of Gridferry
	Family   string            // whose program lines are shown
	ToEnter  []string          // at the controller, for programs of that family
	Parts    bool              // that family cuts a long program into several files
	Scene    *scene.Scene
	Arm      []draw.Stand  // how the arm stands where the job begins
	Margins  *margin.Slots // with which the moves work at slots; nil without an arm
	Files    []File        // that it is written into; the one that is started comes last
}

// Bounds are what the viewer carries at most. A page that a tablet opens from a stick has to stay
// small, and nobody steps through more.
var Bounds = scene.Options{Moves: 2000, Slots: 4000, Lines: 8000, Joints: true, Texts: true}

// File is one file of the program, with the digest of its body as its seal has it; "" for
// a family whose programs carry none.
type File struct{ Name, Body string }

var (
	//go:embed sheet.html
	pageText string
	//go:embed sheet.css
	pageStyle string
	//go:embed *.js
	scripts embed.FS

	pageTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("sheet").Parse(pageText)) })
)

// pageScript is the page's script: each part knows those before it.
var pageScript = sync.OnceValue(func() string {
	return "\n" + page.Slim(scene.Script()+joined("paper", "leaving", "ticks", "fit", "handing", "points", "play", "stop"))
})

func joined(names ...string) string {
	text := ""
	for _, name := range names {
		part, err := scripts.ReadFile(name + ".js")
		if err != nil {
			panic(err)
		}
		text += string(part)
	}
	return text
}

// Head is what every job sheet begins with, and no other page: "generator" is the name
// that HTML itself (WHATWG, standard metadata names) has for the program that made a page.
const Head = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"generator\" content=\"Gridferry job sheet\">\n"

// HTML writes the page. The error is one of w or of the program's tracer.
func (j *Job) HTML(w io.Writer) error {
	style := page.Style(pageStyle+scene.Style) + page.Edges{Kind: j.kind(), Title: j.Title, Foot: j.foot()}.Style()
	v := &view{
		Style: template.CSS(style), Script: template.JS(pageScript()), Bound: &j.Scene.Moves,
		Title: j.Title, Notices: j.Notices, Plan: path.Base(j.Layout.File), Cell: j.Layout.Cell.Name.V,
		Kind: j.kind(), Files: j.files(), Digest: grouped(j.Digest), Version: j.Version, Family: j.Family, ToEnter: j.ToEnter, Parts: j.Parts,
	}
	if strings.TrimSpace(v.Title) == "" {
		v.Title = v.Plan
	}
	if err := j.picture(v, style); err != nil {
		return err
	}
	j.fill(v)
	data, err := json.Marshal(j.data(v))
	if err != nil {
		return err
	}
	v.Data = template.JS(data)
	return pageTemplate().Execute(w, v)
}

// pageData is what the page's script reads. In JSON it is safe inside a script element: encoding/json escapes "<", ">",
// "&" and the line ends of Unicode.
type pageData struct {
	Scene  *scene.Scene `json:"scene"`
	Points []*pointSet  `json:"points"` // in the order of their tables
	Stop   *stop        `json:"stop"`
}

func (j *Job) data(v *view) *pageData {
	d := &pageData{Scene: j.Scene, Stop: j.stop(), Points: []*pointSet{}}
	for i := range v.Touched {
		d.Points = append(d.Points, v.Touched[i].typed)
	}
	for i := range v.Spots {
		d.Points = append(d.Points, v.Spots[i].typed)
	}
	return d
}

var picture = draw.Options{Inline: true, ID: "picture"}

func (j *Job) picture(v *view, style string) error {
	var drawn bytes.Buffer
	o := picture
	o.Title, o.From, o.Empty, o.Stands = j.Title, j.Next, j.empty(), j.Arm
	if j.FirstRun != nil {
		o.Run = j.FirstRun.Brief()
	}
	if err := draw.SVG(&drawn, j.Layout, j.Moves, o); err != nil {
		return err
	}
	v.Picture = template.HTML(drawn.String()) // it escapes what it writes of the plan
	v.Policy = page.Policy(pageScript(), style, "\n"+picture.Style())
	return nil
}

// grouped breaks a digest into groups of four, which people compare more easily.
func grouped(text string) string {
	var groups []string
	for len(text) > 4 {
		groups, text = append(groups, text[:4]), text[4:]
	}
	return strings.Join(append(groups, text), " ")
}
