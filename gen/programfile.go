package gen

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// ProgramFile is one file of a program that is to be verified.
type ProgramFile struct {
	Name string
	Text io.ReadSeeker
}

// OpenPrograms opens the files of a program; "-" is standard input. The function closes
// them, and must be called even after an error.
func OpenPrograms(names []string, stdin io.Reader) ([]ProgramFile, func(), error) {
	var files []ProgramFile
	var opened []io.Closer
	closeAll := func() {
		for _, c := range opened {
			c.Close()
		}
	}
	for _, name := range names {
		label, open, err := programText(name, stdin)
		if err != nil {
			return nil, closeAll, err
		}
		text, err := open()
		if err != nil {
			return nil, closeAll, err
		}
		opened = append(opened, text)
		files = append(files, ProgramFile{label, text})
	}
	return files, closeAll, nil
}

// OpenCompared opens a program as one side of a comparison. Errors inside its family are
// among the findings of its job.
func OpenCompared(name, family string, stdin io.Reader) (*Compared, error) {
	side := &Compared{Job: new(Job)}
	var err error
	if side.Family, err = side.Job.OpenFamily(family); err != nil {
		return nil, err
	}
	label, open, err := programText(name, stdin)
	side.Name, side.Open = label, func() (io.ReadCloser, error) { return open() }
	return side, err
}

// programText is a program's name in messages, and a function that opens its text.
func programText(name string, stdin io.Reader) (string, func() (io.ReadSeekCloser, error), error) {
	if name == "-" {
		data, err := readPiped(stdin, mostPiped)
		return "<stdin>", func() (io.ReadSeekCloser, error) { return heldText{bytes.NewReader(data)}, nil }, err
	}
	info, err := os.Stat(name)
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%s is not a regular file", name)
	}
	return name, func() (io.ReadSeekCloser, error) { return os.Open(name) }, err
}

// mostPiped is how much of a program may come by standard input, where it has to be kept, in bytes.
const mostPiped = 128 << 20

// readPiped reads a text to its end, or refuses one that is longer than most.
func readPiped(in io.Reader, most int64) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(in, most+1))
	if err == nil && int64(len(data)) > most {
		return nil, fmt.Errorf("<stdin> has more than %d bytes: write the program into a file, and name that", most)
	}
	return data, err
}

// heldText is a text in memory.
type heldText struct{ *bytes.Reader }

func (heldText) Close() error { return nil }

// IsPlan reports whether a file has the name of a plan.
func IsPlan(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".yaml", ".yml", ".json":
		return true
	}
	return false
}
