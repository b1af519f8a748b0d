package wording

import "strings"

// IsDevice reports whether Windows takes a file's name for a device, whatever stands behind its
// first dot and in whatever letters ("Naming Files, Paths, and Namespaces" in the Win32
// documentation; CONIN$ and CONOUT$ are those of the console; all from memory).
func IsDevice(file string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(file), ".")
	switch stem = strings.TrimRight(stem, " "); stem {
	case "con", "prn", "aux", "nul", "conin$", "conout$":
		return true
	}
	port, ok := strings.CutPrefix(stem, "com")
	if !ok {
		port, ok = strings.CutPrefix(stem, "lpt")
	}
	return ok && len([]rune(port)) == 1 && strings.Contains("0123456789¹²³", port)
}
