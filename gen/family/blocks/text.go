package blocks

// Text is free text from a plan: a title, a note, the name of a slot.
// It has no methods and no exported field, so that a template can do two things
// with it only: print it, which gives a comment in the family's form, or hand it
// to one of the functions that say they take a text.
type Text struct{ s string }

// NewText marks s as free text.
func NewText(s string) Text { return Text{s} }
