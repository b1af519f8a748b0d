package structuredtext

import (
	"fmt"
	"math"
	"time"
)

// A Value is a bool, int64, float64, time.Duration, string, an [Enum], or for
// an array a []Value (row by row) and for a structure a map[string]Value.
type Value = any

// An Enum is the name of an enumeration value, spelt as PLCopen does.
type Enum = enumValue

// A cell holds one variable: a plain value, or its elements, or its fields, or
// a block instance.
type cell struct {
	typ      *dataType
	value    any
	elems    []*cell
	fields   map[string]*cell // by upper-case name
	instance *instance
}

func newCell(t *dataType, name string) *cell {
	c := &cell{typ: t, value: zero(t)}
	switch t.kind {
	case kindArray:
		for i := range t.count() {
			c.elems = append(c.elems, newCell(t.elem, name+t.elementName(i)))
		}
	case kindStruct:
		c.fields = map[string]*cell{}
		for _, f := range t.fields {
			c.fields[upperName(f.name)] = newCell(f.typ, name+"."+f.name)
		}
	case kindBlock:
		c.instance = newInstance(t.block, name)
	case kindGroup:
		c.value = name
	}
	return c
}

// elementName gives the index of an array's n-th element, as in "[2, 0]".
func (t *dataType) elementName(n int64) string {
	text := ""
	for i := len(t.dims) - 1; i >= 0; i-- {
		d := t.dims[i]
		size := d.top - d.low + 1
		text = fmt.Sprintf(", %d%s", d.low+n%size, text)
		n /= size
	}
	return "[" + text[2:] + "]"
}

// zero is the default initial value (IEC 61131-3 Ed. 3, Table 10).
func zero(t *dataType) any {
	switch t.kind {
	case kindBool:
		return false
	case kindInteger, kindBits:
		return int64(0)
	case kindReal:
		return 0.0
	case kindTime:
		return time.Duration(0)
	case kindString:
		return ""
	case kindEnum:
		return enumValue(t.values[0])
	}
	return nil
}

// store puts a value into a cell, widened to its type.
func (c *cell) store(v any) error {
	if from, ok := v.(*cell); ok {
		return c.copyFrom(from)
	}
	fitted, err := fit(v, c.typ)
	if err == nil {
		c.value = fitted
	}
	return err
}

// fit widens or rounds a value to its type; a whole number beyond the type's
// range is an error, where a controller would wrap around in silence.
func fit(v any, t *dataType) (any, error) {
	switch t.kind {
	case kindReal:
		f, _ := asReal(v)
		return rounded(f, t)
	case kindInteger, kindBits:
		n, ok := v.(int64)
		if !ok || n < t.low || n > t.top {
			return nil, fmt.Errorf("%v does not fit %s", v, t.name)
		}
	}
	return v, nil
}

// rounded gives a real in the accuracy of its type.
func rounded(f float64, t *dataType) (any, error) {
	if t.size == 32 {
		f = float64(float32(f))
	}
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil, fmt.Errorf("a real became %v", f)
	}
	return f, nil
}

func (c *cell) copyFrom(from *cell) error {
	for i := range c.elems {
		if err := c.elems[i].store(from.elems[i].get()); err != nil {
			return err
		}
	}
	for name, f := range c.fields {
		if err := f.store(from.fields[name].get()); err != nil {
			return err
		}
	}
	return nil
}

// get is the plain value, or the cell itself when it has parts.
func (c *cell) get() any {
	if c.elems != nil || c.fields != nil {
		return c
	}
	return c.value
}

// snapshot is a copy for the log.
func snapshot(v any) Value {
	c, ok := v.(*cell)
	if !ok {
		return v
	}
	if c.fields != nil {
		fields := map[string]Value{}
		for _, f := range c.typ.fields {
			fields[f.name] = snapshot(c.fields[upperName(f.name)].get())
		}
		return fields
	}
	list := make([]Value, len(c.elems))
	for i, e := range c.elems {
		list[i] = snapshot(e.get())
	}
	return list
}
