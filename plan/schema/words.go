package schema

// Words is the texts that a schema takes, where it takes a few only.
func Words(s Schema) []string {
	if ref, ok := s.Get("$ref").(reference); ok {
		return Words(ref.schema)
	}
	if text, ok := s.Get("const").(string); ok {
		return []string{text}
	}
	if words, ok := s.Get("enum").([]string); ok {
		return words
	}
	ways, _ := s.Get("anyOf").([]Schema)
	for _, way := range ways {
		if words := Words(way); words != nil {
			return words
		}
	}
	return nil
}
