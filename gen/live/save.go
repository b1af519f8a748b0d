package live

import (
	"errors"
	"net/http"
	"path/filepath"
	"unicode/utf8"

	"gridferry/gen/out"
	"gridferry/gen/version"
	"gridferry/plan"
	"gridferry/plan/digest"
)

// saved is what a page wants to save: the text of a file, and the digest of what it began with.
type saved struct {
	File string `json:"file"`
	Text string `json:"text"`
	Base string `json:"base"` // "" for a file that was not there
}

// conflict is what stands on the disk instead.
type conflict struct {
	Text   string `json:"text"`
	Digest string `json:"digest"` // "" for nothing
}

func (s *Server) serveSave(w http.ResponseWriter, r *http.Request) error {
	var to saved
	if err := received(w, r, &to); err != nil {
		return err
	}
	s.saving.Lock()
	defer s.saving.Unlock()
	f, err := s.savable(&to)
	if err != nil {
		return err
	}
	other, err := s.save(f, &to)
	if err != nil {
		return refuse(http.StatusInternalServerError, "it could not be saved: "+err.Error())
	}
	if other != nil {
		return sendJSON(w, http.StatusConflict, other)
	}
	select {
	case s.follower.poke <- struct{}{}:
	default: // it looks already
	}
	return sendJSON(w, http.StatusOK, map[string]string{"digest": digest.Of(to.Text)})
}

// savable is the file that is meant. It is one of those that were read, by the name that they were read under; a name never
// becomes a path here.
func (s *Server) savable(to *saved) (*version.File, error) {
	f := s.known(to.File)
	switch {
	case f == nil:
		return nil, refuse(http.StatusForbidden, "this is none of the plan's files")
	case !writable(f):
		return nil, refuse(http.StatusForbidden, "this file is not to be written from here: it is read-only, a link, too long, or no text in UTF-8")
	case len(to.Text) > plan.LargestFile:
		return nil, refuse(http.StatusRequestEntityTooLarge, "this is larger than a file may be")
	case !utf8.ValidString(to.Text):
		return nil, refuse(http.StatusBadRequest, "this is no text in UTF-8")
	}
	return f, nil
}

// known is a file of the plan as the disk has it or, where that names none so, of a draft that is kept; nil for none.
func (s *Server) known(name string) *version.File {
	for _, r := range append([]*result{s.follower.present().result}, s.follower.results.all()...) {
		if f := r.Find(name); f != nil {
			return f
		}
	}
	return nil
}

// errChanged says that the disk has another text than the page began with.
var errChanged = errors.New("changed meanwhile")

// save replaces a file, unless the disk has another text than the one that the page began with, which is given then.
func (s *Server) save(f *version.File, to *saved) (*conflict, error) {
	name := filepath.FromSlash(f.Name)
	b := out.NewBatch()
	defer b.Discard()
	if err := b.AddText(name, to.Text); err != nil {
		return nil, err
	}
	var now conflict
	b.Guard(name, func() (keep bool, err error) {
		if now = onDisk(f); now.Digest != to.Base {
			return false, errChanged
		}
		return false, nil
	})
	err := b.Commit()
	if errors.Is(err, errChanged) {
		return &now, nil
	}
	return nil, err
}

// onDisk is what the disk has of a file.
func onDisk(f *version.File) conflict {
	data, err := f.Disk()
	if err != nil {
		return conflict{}
	}
	return conflict{string(data), digest.Of(string(data))}
}
