package family

import (
	"bytes"
	"reflect"
	"slices"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
)

// outputProbe finds out what a block puts into a program, comments aside, by running it: a
// field that can be changed without a change of what a controller obeys is not written.
type outputProbe struct {
	printer *blocks.Printer
	cleaner *reads.Cleaner
}

func newOutputProbe(f *Family) *outputProbe {
	return &outputProbe{f.NewPrinter(), reads.NewCleaner(&f.Rules)}
}

// affects reports whether one of the fields changes what the block of a kind of move
// writes, be it while all conditions hold or while none does.
func (p *outputProbe) affects(kind move.Kind, fields ...string) bool {
	return slices.ContainsFunc(fields, func(field string) bool {
		for _, holds := range []bool{true, false} {
			view := blocks.ViewOf(kind)
			fill(view, holds)
			before := p.obeyed(kind.String(), view)
			if change(view, field) && before != p.obeyed(kind.String(), view) {
				return true
			}
		}
		return false
	})
}

// fill gives every field of a view a value; Stops is the one condition that hides a
// field where it holds.
func fill(view reflect.Value, holds bool) {
	for i := range view.NumField() {
		field, name := view.Field(i), view.Type().Field(i).Name
		switch field.Kind() {
		case reflect.Bool:
			field.SetBool(holds != (name == "Stops"))
		case reflect.String:
			field.SetString("1111.111")
		case reflect.Int:
			field.SetInt(1)
		case reflect.Struct:
			if field.Type() == reflect.TypeFor[blocks.Text]() {
				field.Set(reflect.ValueOf(blocks.NewText("one")))
			} else {
				fill(field, holds)
			}
		}
	}
}

// change gives one field another value; false for a field that the view does not have.
func change(view reflect.Value, name string) bool {
	field := view.FieldByName(name)
	if !field.IsValid() {
		return false
	}
	switch field.Kind() {
	case reflect.Bool:
		field.SetBool(!field.Bool())
	case reflect.String:
		field.SetString("2222.222")
	case reflect.Int:
		field.SetInt(2)
	case reflect.Struct:
		field.Set(reflect.ValueOf(blocks.NewText("two")))
	}
	return true
}

// obeyed is what a block writes without its comments and what lines they leave empty;
// nothing where it fails, which is reported when it is written.
func (p *outputProbe) obeyed(block string, view reflect.Value) string {
	text, err := p.printer.Print(block, view.Addr().Interface())
	if err != nil {
		return ""
	}
	var obeyed []byte
	for line := range bytes.Lines(bytes.Clone(text)) {
		if clean, _ := p.cleaner.Clean(bytes.TrimRight(line, "\n")); len(clean) > 0 {
			obeyed = append(append(obeyed, clean...), '\n')
		}
	}
	return string(obeyed)
}
