package blocks

import (
	"reflect"
	"strings"
	"testing"

	"github.com/Masterminds/sprig/v3"
	"pgregory.net/rapid"
)

// TestWordingIsAsElsewhere: who knows templates elsewhere finds the functions of the same name to do the same. From the outside:
// github.com/Masterminds/sprig/v3, whose functions are called with the same random arguments.
func TestWordingIsAsElsewhere(t *testing.T) {
	theirs := sprig.TxtFuncMap()
	words := []string{"upper", "lower", "trim", "trimPrefix", "trimSuffix", "contains", "hasPrefix", "hasSuffix", "ternary", "plural", "replace"}
	ours := funcMap(nil)
	for _, name := range words {
		kind := reflect.TypeOf(theirs[name])
		for i := range kind.NumIn() {
			if mine := reflect.TypeOf(ours[name]).In(i); mine != kind.In(i) {
				t.Errorf("argument %d of %s is %v, there %v", i+1, name, mine, kind.In(i))
			}
		}
		rapid.Check(t, func(t *rapid.T) {
			var args []reflect.Value
			for i := range kind.NumIn() {
				args = append(args, argument(t, kind.In(i)))
			}
			got, want := reflect.ValueOf(ours[name]).Call(args)[0].Interface(), reflect.ValueOf(theirs[name]).Call(args)[0].Interface()
			if got != want {
				t.Fatalf("%s gives %q, there %q", name, got, want)
			}
		})
	}
}

// argument is a short word of few letters, so that one is often in another, or a figure or a condition.
func argument(t *rapid.T, kind reflect.Type) reflect.Value {
	switch kind.Kind() {
	case reflect.Bool:
		return reflect.ValueOf(rapid.Bool().Draw(t, "condition"))
	case reflect.Int:
		return reflect.ValueOf(rapid.IntRange(-2, 3).Draw(t, "count"))
	}
	return reflect.ValueOf(strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", "B", " ", "ß", "\t"}), 0, 4).Draw(t, "word"), ""))
}
