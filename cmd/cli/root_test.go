package cli

import (
	"bytes"
	"testing"

	"github.com/spf13/cobra"
)

// TestOneCommandIsAsAmongAll: a command that is made alone is the one that the tree of all has.
func TestOneCommandIsAsAmongAll(t *testing.T) {
	all := newRoot(new(streams), nil)
	for _, c := range commands {
		alone := newRoot(new(streams), []string{c.name})
		if got, want := helpOf(t, alone, c.name), helpOf(t, all, c.name); got != want {
			t.Errorf("%s: alone its help is\n%s\namong all\n%s", c.name, got, want)
		}
		for _, other := range alone.Commands() {
			if name := other.Name(); name != c.name && name != "help" {
				t.Errorf("for %s alone, %s is made, too", c.name, name)
			}
		}
	}
}

func helpOf(t *testing.T, root *cobra.Command, name string) string {
	t.Helper()
	var help bytes.Buffer
	root.SetArgs([]string{name, "--help"})
	root.SetOut(&help)
	if err := root.Execute(); err != nil || help.Len() < 100 {
		t.Fatalf("%s: %v: %s", name, err, help.String())
	}
	return help.String()
}
