package diag

import (
	"net/url"
	"path"
	"strings"
)

// FileURI is the URI of a file with an absolute name, also of one on a drive or another computer's disk (RFC 8089,
// appendix E); false for any other name.
func FileURI(name string) (string, bool) {
	u := url.URL{Scheme: "file", Path: name}
	if computer, there := strings.CutPrefix(name, "//"); there {
		u.Host, u.Path, _ = strings.Cut(computer, "/")
		u.Path = "/" + u.Path
	} else if len(name) > 2 && name[1] == ':' && name[2] == '/' {
		u.Path = "/" + name
	}
	absolute := strings.HasPrefix(u.Path, "/")
	u.Path = path.Clean(u.Path)
	return u.String(), absolute
}
