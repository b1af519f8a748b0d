package live

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"mime"
	"net/http"
	"path/filepath"
	"time"

	"gridferry/gen/version"
	"gridferry/plan"
)

// mostSent is the most bytes of a request: a text of the largest size, with room for what JSON adds to it.
const mostSent = 2 * plan.LargestFile

// patient is how long a page may take to send what it asks, and to read an answer.
const patient = 30 * time.Second

// answer is one thing that can be asked for.
type answer struct {
	method string
	give   func(*Server, http.ResponseWriter, *http.Request) error
}

// answers are all there is, by the path behind the secret.
var answers = map[string]answer{
	"":        {http.MethodGet, (*Server).servePage},
	"state":   {http.MethodGet, (*Server).serveState},
	"scene":   {http.MethodGet, (*Server).serveScene},
	"program": {http.MethodGet, (*Server).serveProgram},
	"lines":   {http.MethodGet, (*Server).serveLines},
	"other":   {http.MethodGet, (*Server).serveOther},
	"events":  {http.MethodGet, (*Server).serveEvents},
	"draft":   {http.MethodPost, (*Server).serveDraft},
	"save":    {http.MethodPost, (*Server).serveSave},
	"suggest": {http.MethodPost, (*Server).serveSuggest},
	"means":   {http.MethodPost, (*Server).serveMeans},
	"why":     {http.MethodPost, (*Server).serveWhy},
}

// serve answers a request, or says in a sentence why not.
func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", Policy()+"; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-store")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	var no *refusal
	switch err := s.answer(w, r); {
	case err == nil || r.Context().Err() != nil:
		return
	case errors.As(err, &no):
	default:
		no = refuse(http.StatusInternalServerError, err.Error())
	}
	_ = sendText(w, no.status, "text/plain; charset=utf-8", []byte(no.why+"\n"))
}

func (s *Server) answer(w http.ResponseWriter, r *http.Request) error {
	if s.gate.named(r) && s.gate.takes(r) {
		http.Redirect(w, r, "/"+s.gate.secret+"/", http.StatusSeeOther)
		return nil
	}
	path, no := s.gate.passes(r)
	if no != nil {
		return no
	}
	a, known := answers[path]
	switch {
	case !known:
		return refuse(http.StatusNotFound, "there is nothing under this address")
	case r.Method != a.method:
		w.Header().Set("Allow", a.method)
		return refuse(http.StatusMethodNotAllowed, "this is asked for with "+a.method)
	}
	return a.give(s, w, r)
}

// received reads the JSON of a request into a value.
func received(w http.ResponseWriter, r *http.Request, v any) error {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return refuse(http.StatusUnsupportedMediaType, "what is sent here is JSON, as application/json")
	}
	// The time is for reading alone: what is worked on then may take longer.
	c := http.NewResponseController(w)
	_ = c.SetReadDeadline(time.Now().Add(patient))
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostSent))
	err := d.Decode(v)
	_ = c.SetReadDeadline(time.Time{})
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return refuse(http.StatusRequestEntityTooLarge, "this is more than can be sent at once")
	case err != nil:
		return refuse(http.StatusBadRequest, "what was sent cannot be read: "+err.Error())
	}
	return nil
}

// sendJSON answers with a value.
func sendJSON(w http.ResponseWriter, status int, v any) error {
	text, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return sendText(w, status, "application/json", text)
}

func sendText(w http.ResponseWriter, status int, kind string, text []byte) error {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patient))
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	_, _ = w.Write(text) // whoever asked may have gone
	return nil
}

func (s *Server) servePage(w http.ResponseWriter, _ *http.Request) error {
	var text bytes.Buffer
	if err := Page(&text, cmp.Or(s.follower.present().result.work.Title, filepath.Base(s.follower.reads.name))); err != nil {
		return err
	}
	return sendText(w, http.StatusOK, "text/html; charset=utf-8", text.Bytes())
}

func (s *Server) serveEvents(w http.ResponseWriter, r *http.Request) error {
	s.events(w, r)
	return nil
}

// version is the result that a request is about; without a version, the present one.
func (s *Server) version(r *http.Request) (*result, error) {
	return s.find(r.URL.Query().Get("version"))
}

func (s *Server) find(version string) (*result, error) {
	now := s.follower.present()
	for _, one := range []*result{now.result, now.good} {
		if one != nil && (version == "" || one.version == version) {
			return one, nil
		}
	}
	if one := s.follower.results.find(version); one != nil {
		return one, nil
	}
	return nil, refuse(http.StatusNotFound, "this version is not kept any more: ask for the state anew")
}

func (s *Server) serveState(w http.ResponseWriter, r *http.Request) error {
	one, err := s.version(r)
	if err != nil {
		return err
	}
	return sendJSON(w, http.StatusOK, s.stateOf(one, nil))
}

func (s *Server) serveScene(w http.ResponseWriter, r *http.Request) error {
	one, err := s.version(r)
	if err != nil {
		return err
	}
	scene := one.work.Scene
	if scene == nil {
		if scene, err = one.job.Scene(r.Context()); err != nil {
			return err
		}
	}
	if scene == nil {
		return refuse(http.StatusNotFound, "this version has no picture: mend what the findings say")
	}
	return sendText(w, http.StatusOK, "application/json", scene)
}

// written is the version and the family that a request is about, where there is a program.
func (s *Server) written(r *http.Request) (*result, string, error) {
	one, err := s.version(r)
	family := r.URL.Query().Get("family")
	switch {
	case err != nil:
		return nil, "", err
	case !s.knows(family):
		return nil, "", refuse(http.StatusNotFound, "there is no such family here")
	case firstError(one.work.Findings) != "":
		return nil, "", refuse(http.StatusConflict, "nothing is written while there are errors")
	}
	return one, family, nil
}

// serveLines says which lines of the program are whose.
func (s *Server) serveLines(w http.ResponseWriter, r *http.Request) error {
	one, family, err := s.written(r)
	if err != nil {
		return err
	}
	lines, err := one.job.Lines(r.Context(), family)
	if err != nil {
		return err
	}
	return sendJSON(w, http.StatusOK, lines)
}

func (s *Server) serveProgram(w http.ResponseWriter, r *http.Request) error {
	one, family, err := s.written(r)
	if err != nil {
		return err
	}
	p, err := one.job.Program(r.Context(), family)
	if err != nil {
		return err
	}
	if wrong := firstError(p.Findings); wrong != "" {
		return refuse(http.StatusConflict, "nothing is written: "+wrong)
	}
	if take := r.URL.Query().Has("take"); take && p.Files > 1 {
		return refuse(http.StatusConflict, fmt.Sprintf("this program has %d files: \"gridferry write\" writes them into a folder", p.Files))
	}
	return sendText(w, http.StatusOK, "text/plain; charset=utf-8", p.Text)
}

func (s *Server) knows(family string) bool {
	for _, f := range s.flow.Families {
		if f.Name == family {
			return true
		}
	}
	return false
}

// drafts is the texts of a page that are not saved, by the names of their files. Those of other files have no effect: the
// plan does not name them.
type drafts struct {
	Texts map[string]string `json:"texts"`
	Good  string            `json:"good"` // the version whose picture the page shows; "" for the present one
}

func (s *Server) serveDraft(w http.ResponseWriter, r *http.Request) error {
	var d drafts
	if err := received(w, r, &d); err != nil {
		return err
	}
	for name, text := range d.Texts {
		if len(text) > plan.LargestFile {
			return refuse(http.StatusRequestEntityTooLarge, "the text of "+name+" is larger than a file may be")
		}
	}
	g, err := s.follower.reads.of(d.Texts)
	if err != nil {
		return refuse(http.StatusConflict, "the plan cannot be read: "+err.Error())
	}
	one, err := s.follower.results.of(r.Context(), g)
	if err != nil {
		return err
	}
	good, _ := s.find(d.Good)
	return sendJSON(w, http.StatusOK, s.stateOf(one, good))
}

// spot is a place in one of a page's texts.
type spot struct {
	drafts
	File         string
	Line, Column int
}

// asked is the place that a request is about, and what its text is read from.
func (s *Server) asked(w http.ResponseWriter, r *http.Request) (at spot, source plan.Source, err error) {
	if err = received(w, r, &at); err != nil {
		return at, source, err
	}
	texts, err := version.Open(s.follower.reads.name, at.Texts)
	if err != nil {
		return at, source, refuse(http.StatusConflict, "the plan cannot be read: "+err.Error())
	}
	return at, texts.Source(), nil
}

func (s *Server) serveSuggest(w http.ResponseWriter, r *http.Request) error {
	at, source, err := s.asked(w, r)
	if err != nil {
		return err
	}
	return sendJSON(w, http.StatusOK, orNone(s.flow.Suggest(source, at.File, at.Line, at.Column)))
}

func (s *Server) serveMeans(w http.ResponseWriter, r *http.Request) error {
	at, source, err := s.asked(w, r)
	if err != nil {
		return err
	}
	return sendJSON(w, http.StatusOK, s.flow.Means(source, at.File, at.Line, at.Column))
}

func (s *Server) serveWhy(w http.ResponseWriter, r *http.Request) error {
	var asked struct {
		Version string
		Question
	}
	if err := received(w, r, &asked); err != nil {
		return err
	}
	one, err := s.find(asked.Version)
	switch {
	case err != nil:
		return err
	case !s.knows(asked.Family):
		return refuse(http.StatusNotFound, "there is no such family here")
	}
	a, err := one.job.Why(r.Context(), asked.Question)
	if err != nil {
		return refuse(http.StatusNotFound, err.Error())
	}
	return sendJSON(w, http.StatusOK, a)
}
