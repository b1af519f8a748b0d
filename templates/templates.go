// Package templates holds the families that come with Gridferry, each a folder
// with the same files as one that people write (see AUTHORING.md).
package templates

import "embed"

// FS has one folder for each shipped family, named as in Names.
//
//go:embed listing iso6983 st starter loops
var FS embed.FS

// TryPlan is a small plan that asks for every kind of move; TryName is how
// findings call it.
//
//go:embed try.plan.yaml
var TryPlan []byte

// TryName is the name of TryPlan.
const TryName = "try.plan.yaml"

// Names is the shipped families that write every move, the one for people first.
func Names() []string { return []string{"listing", "iso6983", "st", "starter"} }

// Loops is the shipped family that writes nested loops, for teaching.
const Loops = "loops"

// All is every shipped family.
func All() []string { return append(Names(), Loops) }
