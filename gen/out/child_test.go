package out

import (
	"fmt"
	"os"
	"os/exec"
	"testing"
)

// roles are what this test program does as a child of itself, by the variable of the
// environment that asks for it and holds a folder.
var roles = map[string]func(folder string) error{}

func TestMain(m *testing.M) {
	for name, be := range roles {
		if folder := os.Getenv(name); folder != "" {
			if err := be(folder); err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
			os.Exit(0)
		}
	}
	os.Exit(m.Run())
}

// child is this test program in a role.
func child(role, folder string, more ...string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(append(os.Environ(), role+"="+folder), more...)
	return c
}
