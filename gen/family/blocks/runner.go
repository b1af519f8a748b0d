package blocks

import (
	"reflect"
	"text/template"
)

// runner is a block that is ready to run: by text/template, and in the short way
// where it has one.
type runner struct {
	family   *Blocks
	template *template.Template
	cost     int
	view     reflect.Type

	steps []step        // of the short way
	at    any           // a pointer to the view that the steps read,
	own   reflect.Value // or where other views are copied to, for the steps to read them there
	long  bool          // it has no short way
}

// takes makes the steps read a view; false where the block has none, or not for a
// view of that type. They are made for the first view that is given by a pointer,
// and once more if ever another one comes.
func (r *runner) takes(view any) bool {
	if r.at != nil && view == r.at {
		return !r.long
	}
	v, pointer := reflect.ValueOf(view), false
	if v.Kind() == reflect.Pointer {
		v, pointer = v.Elem(), true
	}
	switch {
	case r.long || !v.IsValid() || v.Type() != r.view:
		return false
	case r.own.IsValid():
		r.own.Set(v)
		return true
	case pointer && r.at == nil:
		r.at = view
		r.compile(v)
	default:
		r.at, r.own = nil, reflect.New(r.view).Elem()
		r.own.Set(v)
		r.compile(r.own)
	}
	return !r.long
}

// compile makes the steps for a view that is stored there.
func (r *runner) compile(view reflect.Value) {
	steps, ok := r.family.compiled(r.template.Name(), view)
	r.steps, r.long = steps, !ok
}

// dotOf is the view itself for one that is given by a pointer: to templates there
// is no difference.
func dotOf(view any) any {
	if v := reflect.ValueOf(view); v.Kind() == reflect.Pointer && !v.IsNil() {
		return v.Elem()
	}
	return view
}
