package render

// budget is what a program may still write. One budget serves all its files.
type budget struct {
	bytes, most int64
	lines       int // of the file that is being written; 0 for any number
	written     int
}

// spend counts lines.
func (b *budget) spend(bytes, lines int) {
	b.bytes += int64(bytes)
	b.written += lines
}

// spent reports whether there was more than fits.
func (b *budget) spent() bool { return b.bytes > b.most || b.lines > 0 && b.written > b.lines }
