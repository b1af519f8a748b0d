// Package templates holds the families that come with Gridferry, each a folder
// with the same files that AUTHORING.md tells people to write.
package templates

import "embed"

// FS has one folder for each shipped family, named as in Names.
//
//go:embed listing iso6983 st starter
var FS embed.FS

// Names is the shipped families, the one for people first.
func Names() []string { return []string{"listing", "iso6983", "st", "starter"} }
