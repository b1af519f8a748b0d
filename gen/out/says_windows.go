package out

import "golang.org/x/sys/windows"

// full is what the system says when nothing more fits.
var full = []error{windows.ERROR_DISK_FULL, windows.ERROR_HANDLE_DISK_FULL, windows.ERROR_DISK_QUOTA_EXCEEDED, windows.ERROR_FILE_TOO_LARGE}

// held is what the system says of a file that cannot be replaced as long as somebody has it open; and of one that may
// only be read.
var held = []error{windows.ERROR_SHARING_VIOLATION, windows.ERROR_ACCESS_DENIED}
