package blocks

import "gridferry/gen/family/rules"

// Text is free text from a plan: a title, a note, the name of a slot.
// It has no methods and no exported field, so that a template can do two things
// with it only: print it, which gives a comment in the family's form, or hand it
// to one of the functions that say they take a text.
type Text struct{ s string }

// NewText marks s as free text.
func NewText(s string) Text { return Text{s} }

// Quoted is a text in the family's quotation marks. No function takes one, so that
// nothing takes its marks off again.
type Quoted struct{ s string }

// quote is the function of that name for a family. What it costs is counted before.
func quote(r *rules.Rules, costs func(text string) error) func(...any) (Quoted, error) {
	return func(values ...any) (Quoted, error) {
		text, err := joinComment(values...)
		if err == nil {
			err = costs(text.s)
		}
		if err != nil {
			return Quoted{}, err
		}
		return Quoted{r.Quote(text.s)}, nil
	}
}
