package blocks

import (
	"reflect"
	"strings"

	"gridferry/gen/family/rules"
)

// ViewField is one field that a block gets, as "families fields" and AUTHORING.md
// list it.
type ViewField struct {
	Block string `json:"block"`          // the block's name, or "Frames" and "Tools" for the entries of those lists
	Name  string `json:"field"`          // with its full stop: ".Speed"
	Type  string `json:"type"`           // a word, a whole number, a condition, a text, a list
	When  string `json:"when,omitempty"` // the rule in family.yaml that fills it; "" for always
	Doc   string `json:"doc"`
}

// ViewFields is every field of every block, in the order of a program.
func ViewFields() []ViewField {
	var fields []ViewField
	for _, b := range everyBlock() {
		fields = append(fields, fieldsOf(b.Name, b.viewType())...)
	}
	fields = append(fields, fieldsOf("entry of Frames", reflect.TypeFor[Frame]())...)
	fields = append(fields, fieldsOf("entry of Tools", reflect.TypeFor[Tool]())...)
	fields = append(fields, fieldsOf("entry of Points", reflect.TypeFor[Point]())...)
	fields = append(fields, fieldsOf("entry of Corners, Slots and Off", reflect.TypeFor[Slot]())...)
	fields = append(fields, fieldsOf("entry of Poses", reflect.TypeFor[Passed]())...)
	fields = append(fields, fieldsOf("entry of Acts", reflect.TypeFor[Act]())...)
	return append(fields, fieldsOf("entry of Asks", reflect.TypeFor[Asked]())...)
}

func fieldsOf(block string, t reflect.Type) []ViewField {
	var fields []ViewField
	for _, f := range reflect.VisibleFields(t) {
		if f.IsExported() && !f.Anonymous && shown(t, f) {
			fields = append(fields, ViewField{block, "." + f.Name, typeInWords(f.Type), whenOf(f), f.Tag.Get("doc")})
		}
	}
	return fields
}

// shown keeps a field out that another one with the same name hides.
func shown(t reflect.Type, f reflect.StructField) bool {
	seen, ok := t.FieldByName(f.Name)
	return ok && len(seen.Index) == len(f.Index)
}

// typeInWords is a field's type as AUTHORING.md calls it.
func typeInWords(t reflect.Type) string {
	if t.Kind() == reflect.Slice && t.Elem() != reflect.TypeFor[Text]() && t.Elem().Kind() == reflect.Struct {
		return "a list of items"
	}
	if t.Kind() == reflect.Slice {
		return "a list, each " + inWords(t.Elem())
	}
	return inWords(t)
}

// whenOf is the rule that fills a field, as family.yaml writes it.
func whenOf(f reflect.StructField) string {
	key, words, found := strings.Cut(f.Tag.Get("when"), " ")
	if !found {
		return ""
	}
	return key + ": " + strings.ReplaceAll(words, " ", " or ")
}

// fills reports whether a family's rules fill a field of a view.
func fills(r *rules.Rules, view reflect.Type, f reflect.StructField) bool {
	key, words, _ := strings.Cut(f.Tag.Get("when"), " ")
	var is string
	switch key {
	case "rotation":
		form := r.Rotation
		if view != reflect.TypeFor[Motion]() && view != reflect.TypeFor[Point]() && view != reflect.TypeFor[Head]() {
			form = form.OfEntry()
		}
		is = form.String()
	case "time_unit":
		is = r.Units[rules.Time].Name
	default:
		return true
	}
	for _, word := range strings.Fields(words) {
		if word == is {
			return true
		}
	}
	return false
}

// filledFields are the fields of a view that a family by these rules can use.
func filledFields(r *rules.Rules, t reflect.Type) []string {
	var names []string
	for _, f := range reflect.VisibleFields(t) {
		if f.IsExported() && !f.Anonymous && fills(r, t, f) {
			names = append(names, f.Name)
		}
	}
	return names
}
