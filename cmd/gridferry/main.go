// Gridferry turns a transfer plan into a program for a six-axis arm or a
// gantry. See the README.
package main

import (
	"os"

	"gridferry/cmd/cli"
)

func main() {
	cli.StopCleanly(os.Stderr)
	os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
