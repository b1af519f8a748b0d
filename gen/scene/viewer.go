package scene

import (
	"embed"
	"strings"
	"sync"
)

//go:embed viewer/*.js
var scripts embed.FS

// parts of the script, each a file that gives one name, behind those whose names it uses.
var parts = []string{
	"vector", "convex", "meshes", "camera", "rows", "crowds", "lines", "looks", "shaders", "slots", "standing", "cell", "arm", "path",
	"swept", "naming", "labels", "pace", "picking", "measure", "over", "inventory", "legend", "gestures", "painter", "viewer",
	"search", "kinematics", "movelist", "stocks", "transfers", "states", "telling", "clockwork",
	"spending", "hatching", "traces", "timedrawing", "timetable", "timeline", "panel",
}

// Style is the style of what the script adds to a page.
//
//go:embed viewer/timeline.css
var Style string

// Script is what shows a scene in a page, and plays its moves: top-level constants, one for each part, that need nothing else. Each
// file says at its top how it is used.
var Script = sync.OnceValue(func() string {
	var b strings.Builder
	for _, name := range parts {
		text, err := scripts.ReadFile("viewer/" + name + ".js")
		if err != nil {
			panic(err) // a part without its file, which the tests would not pass
		}
		b.Write(text)
	}
	return b.String()
})
