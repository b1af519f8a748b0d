// Package plan holds what people wrote: a cell and a plan, decoded, with every
// value's place. It knows names, numbers and places, and does no geometry; what
// the names mean is package layout's work.
package plan
