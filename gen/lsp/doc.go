// Package lsp is a server of the Language Server Protocol 3.17 (https://microsoft.github.io/language-server-protocol), by
// which editors get findings, suggestions and more while somebody types.
//
// message.go is how messages stand in a stream, server.go what becomes of them. Texts that are open in the editor are
// documents (document.go); what is checked as a whole is a subject (subject.go), worked on beside the messages
// (work.go), and its findings are published (findings.go). What else an editor can ask is in features.go, a row each and a
// file each. What a plan means is asked of a Flow, which package gen gives.
package lsp
