//go:build !unix

package out

import "io/fs"

// newMode is that of a file which is new.
var newMode fs.FileMode = 0o666
