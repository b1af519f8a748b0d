package outside

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
)

// ErrMissing says that a program or a package is not installed.
var ErrMissing = errors.New("missing")

func missing(format string, args ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{ErrMissing}, args...)...)
}

// Script is a script of Node in a folder of golden that answers every line of JSON
// with a line of JSON (see answer.js). It is started when it is first asked and runs
// until the test program ends, so that packages and browsers are loaded once.
type Script struct {
	Folder, File string
	Packages     []string // what npm has to have installed in the folder
	Tool, Debian string   // a program that the script is told of, and the package it is in; or none

	lock    sync.Mutex
	running *process
}

// process is a script that runs.
type process struct {
	cmd    *exec.Cmd
	ask    io.WriteCloser
	said   io.Reader
	answer *json.Decoder
	stderr bytes.Buffer
}

// Ask hands a question to the script and takes its answer.
func (s *Script) Ask(t testing.TB, question, answer any) {
	t.Helper()
	Short(t)
	err := s.Try(question, answer)
	if errors.Is(err, ErrMissing) {
		Missing(t, err)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Try is Ask without a test; the error wraps [ErrMissing] where something is missing.
func (s *Script) Try(question, answer any) error {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.running == nil {
		if err := s.start(); err != nil {
			return err
		}
	}
	err := s.running.try(question, answer)
	if err != nil {
		err = fmt.Errorf("%s: %w: %v\n%s", s.File, err, s.running.end(), s.running.stderr.Bytes())
		s.running = nil // the next question starts it anew
	}
	return err
}

func (p *process) try(question, answer any) error {
	if err := json.NewEncoder(p.ask).Encode(question); err != nil {
		return err
	}
	return p.answer.Decode(answer)
}

// end waits until a script that gets no more questions has ended.
func (p *process) end() error {
	p.ask.Close()
	_, _ = io.Copy(io.Discard, p.said)
	return p.cmd.Wait()
}

func (s *Script) start() error {
	node, err := find("node", "nodejs")
	if err != nil {
		return err
	}
	folder, err := s.folder()
	if err != nil {
		return err
	}
	command := exec.Command(node, s.File)
	command.Dir = folder
	if s.Tool != "" {
		tool, err := find(s.Tool, s.Debian)
		if err != nil {
			return err
		}
		command.Args = append(command.Args, tool)
	}
	s.running, err = open(command)
	return err
}

func open(cmd *exec.Cmd) (*process, error) {
	p := &process{cmd: cmd}
	cmd.Stderr = &p.stderr
	ask, errIn := cmd.StdinPipe()
	said, errOut := cmd.StdoutPipe()
	if err := errors.Join(errIn, errOut, cmd.Start()); err != nil {
		return nil, err
	}
	p.ask, p.said, p.answer = ask, said, json.NewDecoder(said)
	return p, nil
}

// began is the folder of the package under test: there its program starts.
var began, _ = os.Getwd()

// folder is where the script is, above the package under test, with its packages.
func (s *Script) folder() (string, error) {
	for at := began; ; at = filepath.Dir(at) {
		here := filepath.Join(at, "golden", s.Folder)
		if exists(filepath.Join(here, s.File)) {
			return here, s.installed(here)
		}
		if at == filepath.Dir(at) {
			return "", missing("there is no golden/%s/%s above the tests", s.Folder, s.File)
		}
	}
}

func (s *Script) installed(folder string) error {
	for _, name := range s.Packages {
		if !exists(filepath.Join(folder, "node_modules", name, "package.json")) {
			return missing("there is no package %s (npm ci --ignore-scripts in golden/%s)", name, s.Folder)
		}
	}
	return nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
