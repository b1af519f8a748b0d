package readback

import (
	"bytes"
	"reflect"
	"slices"

	"gridferry/gen/family"
	"gridferry/gen/move"
)

// viewFields is what a block calls the fields that its lines can carry.
var viewFields = [family.Fields][]string{
	family.ReadFrame: {"Frame", "FrameNumber", "FrameLabel"}, family.ReadTool: {"Tool", "ToolNumber", "ToolLabel"}, family.ReadLoad: {"Load"},
	family.ReadX: {"X"}, family.ReadY: {"Y"}, family.ReadZ: {"Z"},
	family.ReadRoll: {"Roll"}, family.ReadPitch: {"Pitch"}, family.ReadYaw: {"Yaw"}, family.ReadTurn: {"Turn"},
	family.ReadTurn1: {"Turn1"}, family.ReadTurn2: {"Turn2"}, family.ReadTurn3: {"Turn3"},
	family.ReadQW: {"QW"}, family.ReadQX: {"QX"}, family.ReadQY: {"QY"}, family.ReadQZ: {"QZ"},
	family.ReadRX: {"RX"}, family.ReadRY: {"RY"}, family.ReadRZ: {"RZ"},
	family.ReadSpeed: {"Speed"}, family.ReadFlyBy: {"FlyBy"}, family.ReadTarget: {"Target", "Place"},
	family.ReadSignal: {"Signal"}, family.ReadLevel: {"Level", "IsOn"}, family.ReadTime: {"Time", "Seconds"}, family.ReadGoOn: {"GoOn"},
}

// swayer finds out what a block puts into a program, comments aside, by running it: a
// field that can be changed without a change of what a controller obeys is not written.
type swayer struct {
	printer *family.Printer
	cleaner *cleaner
}

func newSwayer(f *family.Family) *swayer {
	return &swayer{f.NewPrinter(), newCleaner(&f.Rules)}
}

// sways tells whether one of the fields changes what the block of a kind of move
// writes, be it while all conditions hold or while none does.
func (s *swayer) sways(kind move.Kind, fields ...string) bool {
	return slices.ContainsFunc(fields, func(field string) bool {
		for _, holds := range []bool{true, false} {
			view := family.ViewOf(kind)
			fill(view, holds)
			before := s.obeyed(kind, view)
			if change(view, field) && before != s.obeyed(kind, view) {
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
			if field.Type() == reflect.TypeFor[family.Text]() {
				field.Set(reflect.ValueOf(family.NewText("one")))
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
		field.Set(reflect.ValueOf(family.NewText("two")))
	}
	return true
}

// obeyed is what a block writes without its comments and what lines they leave empty;
// nothing where it fails, which is told when it is written.
func (s *swayer) obeyed(kind move.Kind, view reflect.Value) string {
	text, err := s.printer.Print(kind.String(), view.Addr().Interface())
	if err != nil {
		return ""
	}
	var obeyed []byte
	for line := range bytes.Lines(bytes.Clone(text)) {
		if clean, _ := s.cleaner.clean(bytes.TrimRight(line, "\n")); len(clean) > 0 {
			obeyed = append(append(obeyed, clean...), '\n')
		}
	}
	return string(obeyed)
}
