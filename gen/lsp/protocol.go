package lsp

import (
	"github.com/creachadair/jrpc2"
)

// Errors by their numbers in the protocol, beside those of JSON-RPC.
const (
	notInitialized   jrpc2.Code = -32002
	requestCancelled jrpc2.Code = -32800
	contentModified  jrpc2.Code = -32801
	requestFailed    jrpc2.Code = -32803
)

// position is a place in a text: the line, counted from 0, and the characters before it, in the units of an encoding.
type position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

// span is a range of the protocol: from a position to before another one.
type span struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

// named is a document by its name.
type named struct {
	URI string `json:"uri"`
}

// spot is where a request is about.
type spot struct {
	TextDocument named    `json:"textDocument"`
	Position     position `json:"position"`
}

// location is a part of a document.
type location struct {
	URI   string `json:"uri"`
	Range span   `json:"range"`
}

// textEdit replaces a part of a document.
type textEdit struct {
	Range   span   `json:"range"`
	NewText string `json:"newText"`
}
