package live

import (
	"encoding/json"
	"net/http"
	"path/filepath"
)

// other is what a page gets to know of the plan that this one is compared with.
type other struct {
	Name        string          `json:"name"`
	Version     string          `json:"version"`
	Scene       json.RawMessage `json:"scene"` // null with errors
	Differences                 // none where one of the two has errors
}

// serveOther compares a version of the plan with the other plan, as the disk has it now.
func (s *Server) serveOther(w http.ResponseWriter, r *http.Request) error {
	if s.other.name == "" {
		return refuse(http.StatusNotFound, "this plan is not compared with another one")
	}
	one, err := s.version(r)
	if err != nil {
		return err
	}
	g, err := s.other.of(nil)
	if err != nil {
		return refuse(http.StatusConflict, "the other plan cannot be read: "+err.Error())
	}
	two, err := s.follower.results.of(r.Context(), g)
	if err != nil {
		return err
	}
	a := other{Name: filepath.ToSlash(s.other.name), Version: two.version, Scene: two.work.Scene}
	switch {
	case two.work.Scene == nil:
		a.Summary = "not compared: the other plan has errors: " + firstError(two.work.Findings)
	case one.work.Scene == nil:
		a.Summary = "not compared: the plan has errors"
	default:
		if a.Differences, err = one.job.Differences(r.Context(), two.job); err != nil {
			return err
		}
	}
	a.Moves, a.Slots = orNone(a.Moves), orNone(a.Slots)
	return sendJSON(w, http.StatusOK, a)
}
