// Package outside lets tests ask programs that are not the project's own: Debian's
// tools and Python, and scripts of Node. Where one is missing the test says so and is
// skipped, unless the environment variable GRIDFERRY_REQUIRE_OUTSIDE is set: then it
// fails.
package outside

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// Require is the environment variable that turns a skip into a failure.
const Require = "GRIDFERRY_REQUIRE_OUTSIDE"

// Short skips a test that asks others where -short is given: it takes too long.
func Short(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("skipped, as -short asks: other programs are asked")
	}
}

// Missing skips a test for want of something, or fails it where nothing may be
// missing.
func Missing(t testing.TB, err error) {
	t.Helper()
	if os.Getenv(Require) != "" {
		t.Fatalf("%s is set, but %v", Require, err)
	}
	t.Skipf("SKIPPED, nothing was compared: %v", err)
}

// Run gives what a program makes of its input; its error output has to stay empty.
// The package of Debian is named where the program is missing.
func Run(t testing.TB, debian string, input []byte, name string, args ...string) []byte {
	t.Helper()
	Short(t)
	path, err := find(name, debian)
	if err != nil {
		Missing(t, err)
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(input), &stdout, &stderr
	if err := cmd.Run(); err != nil || stderr.Len() > 0 {
		t.Fatalf("%s: %v\n%s", name, err, stderr.Bytes())
	}
	return stdout.Bytes()
}

// Takes tells whether a program takes its arguments: it ends well and says nothing in its error output.
func Takes(t testing.TB, debian, name string, args ...string) bool {
	t.Helper()
	Short(t)
	path, err := find(name, debian)
	if err != nil {
		Missing(t, err)
	}
	var stderr bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stderr = &stderr
	err = cmd.Run()
	var refused *exec.ExitError
	if err != nil && !errors.As(err, &refused) {
		t.Fatalf("%s: %v", name, err)
	}
	return err == nil && stderr.Len() == 0
}

// Cpp compiles a program of the project's own, in C++17, against a library of Debian's, and
// gives what it makes of its input. The header tells whether the library is there.
func Cpp(t testing.TB, debian, header, source string, input []byte, libraries ...string) []byte {
	t.Helper()
	Short(t)
	compiler, err := find("g++", "g++")
	if err != nil {
		Missing(t, err)
	}
	look := exec.Command(compiler, "-fsyntax-only", "-x", "c++", "-")
	look.Stdin = strings.NewReader("#include <" + header + ">\n")
	if err := look.Run(); err != nil {
		Missing(t, missing("there is no header %s (Debian: %s)", header, debian))
	}
	args := append([]string{"-std=c++17", "-isystem", "/usr/include/eigen3", source}, libraries...)
	return Run(t, debian, input, compiled(t, compiler, args))
}

// compiled is the program that a compiler makes. It is kept in the user's cache under the digest of all that goes
// into it, which are the compiler, its arguments and the text with all its headers: to make it anew takes ten times as long.
func compiled(t testing.TB, compiler string, args []string) string {
	t.Helper()
	made := sha256.New()
	made.Write(Run(t, "g++", nil, compiler, "--version"))
	made.Write(Run(t, "g++", nil, compiler, append([]string{"-E"}, args...)...))
	fmt.Fprintf(made, "%q", args)
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = t.TempDir()
	}
	program := filepath.Join(cache, "gridferry", "compiled", fmt.Sprintf("%x", made.Sum(nil)))
	if exists(program) {
		return program
	}
	fresh := program + fmt.Sprint(".", os.Getpid()) // whoever else makes it, too, replaces it by the same
	if err := os.MkdirAll(filepath.Dir(program), 0o777); err != nil {
		t.Fatal(err)
	}
	defer os.Remove(fresh)
	Run(t, "g++", nil, compiler, append([]string{"-o", fresh}, args...)...)
	if err := os.Rename(fresh, program); err != nil {
		t.Fatal(err)
	}
	return program
}

// Python asks a script, which reads JSON and prints JSON and may use numpy and scipy.
// It is run by Debian's python3, since the one first on the path may lack them.
func Python(t testing.TB, script string, question, answer any) {
	t.Helper()
	Short(t)
	ask(t, scipy(), script, question, answer)
}

// KDL is Python with the Kinematics and Dynamics Library of Orocos, as PyKDL.
func KDL(t testing.TB, script string, question, answer any) {
	t.Helper()
	Short(t)
	ask(t, kdl(), script, question, answer)
}

func ask(t testing.TB, lacks error, script string, question, answer any) {
	t.Helper()
	if lacks != nil {
		Missing(t, lacks)
	}
	input, err := json.Marshal(question)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(Run(t, "python3", input, python, "-c", script), answer); err != nil {
		t.Fatalf("python's answer: %v", err)
	}
}

const python = "/usr/bin/python3"

var (
	scipy = imports("numpy, scipy", "python3-numpy, python3-scipy")
	kdl   = imports("PyKDL", "python3-pykdl")
)

// imports looks once whether Python has modules.
func imports(modules, debian string) func() error {
	return sync.OnceValue(func() error {
		if err := exec.Command(python, "-c", "import "+modules).Run(); err != nil {
			return missing("%s cannot import %s (Debian: %s): %v", python, modules, debian, err)
		}
		return nil
	})
}

func find(name, debian string) (string, error) {
	path, err := exec.LookPath(name)
	if err != nil {
		return "", missing("there is no %s (Debian: %s)", name, debian)
	}
	return path, nil
}
