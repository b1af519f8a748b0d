//go:build unix

package main

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Every command waits for what packages make before it begins. So what takes room, and with it time, is made
// when it is asked for: pages, their scripts, expressions (plan/lazy).
func TestLittleIsMadeAtTheStart(t *testing.T) {
	c := command("version")
	c.Env = append(c.Env, "GODEBUG=inittrace=1")
	var said strings.Builder
	c.Stderr = &said
	if err := c.Run(); err != nil {
		t.Fatal(err)
	}
	const most = 60_000 // the examples of all rules take 39,000
	made := regexp.MustCompile(`(?m)^init (gridferry/\S+) .*, ([0-9]+) bytes`).FindAllStringSubmatch(said.String(), -1)
	if len(made) < 10 {
		t.Fatalf("Go reported the starts of %d packages: %s", len(made), said.String())
	}
	for _, m := range made {
		if bytes, _ := strconv.Atoi(m[2]); bytes > most {
			t.Errorf("%s makes %d bytes before a command begins, wanted %d at the most", m[1], bytes, most)
		}
	}
}
