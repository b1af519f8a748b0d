// Package plan holds what people wrote: a cell and a plan, decoded, with every
// value's place. It knows names, numbers and places, and does no geometry; package
// layout resolves the names.
package plan
