package manual

// Reading is the pages of what is found while files are read and names and places resolved.
func Reading() []Page { return nil }

// Writing is the pages of what is found on the way to a program.
func Writing() []Page { return nil }
