// Package ynode is a cursor over a YAML document. It is the only importer of the YAML library.
//
// The library (gopkg.in/yaml.v3) lets much pass that a plan must not hold: repeated keys, an alias to its own parent, a second
// document, tags that change what a text means. Parse turns all of that into findings, so that a reader of the tree needs to
// look at meaning only. Text is given as it was written: whether "on" is a word and "017" a number is decided by the reader that
// knows what is wanted there.
package ynode
