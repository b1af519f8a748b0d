package lsp

import (
	"net/url"
	"path"
	"runtime"
	"strings"

	"gridferry/plan/diag"
)

// Files have the names here that findings show, with "/" between folders on every system: /folder/file, of
// Windows also C:/folder/file and, of another computer's disk, //computer/disk/file.

// pathOf is the file that a URI names (RFC 8089); false for one that is no file of this system.
func pathOf(uri string) (string, bool) { return pathIn(uri, runtime.GOOS == "windows") }

// pathIn is pathOf by the rules of Windows (RFC 8089, appendix E), or by those of all others, where no name leads
// to another computer.
func pathIn(uri string, windows bool) (string, bool) {
	u, err := url.Parse(uri)
	if err != nil || !strings.EqualFold(u.Scheme, "file") || u.Path == "" {
		return "", false
	}
	computer, file := u.Host, path.Clean(u.Path)
	if strings.EqualFold(computer, "localhost") {
		computer = ""
	}
	if !windows {
		return file, computer == ""
	}
	file = path.Clean(strings.ReplaceAll(u.Path, `\`, "/"))
	switch {
	case computer != "":
		return "//" + computer + file, true
	case strings.HasPrefix(u.Path, "//"): // file:////computer/disk/file
		return "/" + file, true
	case len(file) > 2 && file[2] == ':': // /c:/folder
		return strings.ToUpper(file[1:2]) + file[2:], true
	}
	return file, true
}

// uriOf is the URI of a file.
func uriOf(file string) string {
	uri, _ := diag.FileURI(file) // all names here are absolute
	return uri
}

// folderOf is the folder of a file.
func folderOf(file string) string {
	if computer, below, is := onComputer(file); is {
		return computer + path.Dir(below)
	}
	return path.Dir(file)
}

// inFolder is the name of a file in a folder.
func inFolder(folder, file string) string {
	if computer, below, is := onComputer(folder); is {
		return computer + path.Join(below, file)
	}
	return path.Join(folder, file)
}

// onComputer takes the computer off a name, which leads to another one's disk.
func onComputer(file string) (computer, below string, is bool) {
	rest, is := strings.CutPrefix(file, "//")
	computer, below, _ = strings.Cut(rest, "/")
	return "//" + computer, "/" + below, is
}
