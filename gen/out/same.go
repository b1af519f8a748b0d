package out

// DropSame takes the files out of the batch that have the same bytes as what
// stands in their place, so that Commit touches only what changes. It gives the
// number of files that are left.
func (b *Batch) DropSame() (int, error) {
	left := b.files[:0]
	for i, f := range b.files {
		same, err := sameFiles(f.tmp, f.name)
		if err != nil {
			b.files = append(left, b.files[i:]...) // for Discard
			return 0, err
		}
		if same {
			drop(f.tmp)
			continue
		}
		left = append(left, f)
	}
	b.files = left
	return len(left), nil
}
