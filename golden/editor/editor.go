// Package editor lets clients from outside the project talk to its server of the Language Server Protocol: the npm packages
// vscode-languageserver-protocol 3.18.5 and vscode-languageserver-textdocument 1.0.16 (both MIT), through replay.js. They
// are set up once with
//
//	npm ci --ignore-scripts
//
// in this folder. nvim.lua is a session of Neovim. Package outside has what becomes of tests where something is missing.
package editor

import (
	"testing"

	"gridferry/golden/outside"
)

var replay = outside.Script{Folder: "editor", File: "replay.js", Packages: []string{"vscode-languageserver-protocol", "vscode-languageserver-textdocument"}}

// Question is what a client is to do: so many edits of some files, the first of them most often, and at so many moments it says
// what it knows then.
type Question struct {
	Command string `json:"command"`
	Files   []File `json:"files"`
	Seed    int    `json:"seed"`
	Edits   int    `json:"edits"`
	Moments int    `json:"moments"`
}

// File is one that is open.
type File struct {
	Path        string       `json:"path"`
	Text        string       `json:"text"`
	Diagnostics []Diagnostic `json:"diagnostics,omitempty"`
}

// Diagnostic is what the server says of a part of a file; positions are in units of UTF-16.
type Diagnostic struct {
	Range              Range
	Severity           int
	Code, Message      string
	RelatedInformation []struct {
		Location struct {
			URI   string
			Range Range
		}
		Message string
	}
}

// Range is from a position to before another one.
type Range struct{ Start, End struct{ Line, Character int } }

// Replayed is the moments, the first of them before any edit, and the status with which the server ended.
type Replayed struct {
	Moments [][]File
	Status  int
}

// Replay has the client do it.
func Replay(t testing.TB, q Question) Replayed {
	t.Helper()
	var r Replayed
	replay.Ask(t, q, &r)
	return r
}
