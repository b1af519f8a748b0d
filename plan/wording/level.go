package wording

// Level is the level of an output or an input.
func Level(on bool) string {
	if on {
		return "on"
	}
	return "off"
}
