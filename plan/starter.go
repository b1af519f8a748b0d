package plan

import (
	"embed"
	"io/fs"
)

//go:embed starter/*.yaml
var starterFiles embed.FS

// StarterPlan is the plan among the files of Starter.
const StarterPlan = "first.plan.yaml"

// Starter is the folder of a cell and a plan that work as they are.
func Starter() fs.FS {
	starter, err := fs.Sub(starterFiles, "starter")
	if err != nil {
		panic(err) // the files are inside this program
	}
	return starter
}
