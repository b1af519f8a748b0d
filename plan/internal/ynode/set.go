package ynode

import (
	"gridferry/plan/diag"
)

// Setting is one value given from outside the document, as in --set PATH=VALUE.
type Setting struct {
	Path  string // "grids.tray.rows"; entries of lists are counted from 1: "transfers.1.take"
	Value string // YAML: "5", "[60, 60]", "2.5 in"
	File  string // what findings call the text PATH=VALUE, such as "--set[1]"
}

func (n Node) Set(path, value, file string, valueColumn int, list *diag.List) bool { return false }
