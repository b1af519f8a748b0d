package structuredtext

import "math"

type typeKind int

const (
	kindInvalid typeKind = iota // of something already reported; fits everywhere
	kindBool
	kindInteger
	kindBits
	kindReal
	kindTime
	kindString
	kindArray
	kindStruct
	kindBlock
	kindEnum
	kindGroup      // AXES_GROUP_REF
	kindPosition   // of a block input: one-dimensional, REAL or LREAL (vendor-defined)
	kindAnyInteger // of a literal
	kindAnyReal    // of a literal
)

// A dataType is what a declared name, a part or an expression is.
type dataType struct {
	kind     typeKind
	name     string // of an array: its declared one, "" for one that has none
	size     int    // bits of integers, bit strings and reals
	signed   bool   // of integers
	low, top int64  // range of integers and bit strings; the top of 64 bits is that of LINT
	dims     []dimension
	elem     *dataType
	fields   []field
	block    *block
	values   []string // of an enumeration
}

type dimension struct{ low, top int64 }

type field struct {
	name string
	typ  *dataType
	decl *Variable
}

var (
	invalidType = &dataType{kind: kindInvalid}
	boolType    = &dataType{kind: kindBool, name: "BOOL"}
	realType    = &dataType{kind: kindReal, name: "REAL", size: 32}
	lrealType   = &dataType{kind: kindReal, name: "LREAL", size: 64}
	timeType    = &dataType{kind: kindTime, name: "TIME"}
	stringType  = &dataType{kind: kindString, name: "STRING"}
	wordType    = bits("WORD", 16)
	anyInteger  = &dataType{kind: kindAnyInteger, name: "a whole number", low: math.MinInt64, top: math.MaxInt64}
	anyReal     = &dataType{kind: kindAnyReal, name: "a real number", size: 64}
	groupType   = &dataType{kind: kindGroup, name: "AXES_GROUP_REF"}
	axesType    = &dataType{kind: kindPosition, name: "an array of REAL or LREAL whose type has a name"}
)

// elementary types (IEC 61131-3 Ed. 3, Table 10) that are read here.
var elementary = map[string]*dataType{
	"BOOL": boolType, "REAL": realType, "LREAL": lrealType, "TIME": timeType, "STRING": stringType,
	"SINT": integer("SINT", 8, true), "INT": integer("INT", 16, true), "DINT": integer("DINT", 32, true), "LINT": integer("LINT", 64, true),
	"USINT": integer("USINT", 8, false), "UINT": integer("UINT", 16, false), "UDINT": integer("UDINT", 32, false), "ULINT": integer("ULINT", 64, false),
	"BYTE": bits("BYTE", 8), "WORD": wordType, "DWORD": bits("DWORD", 32), "LWORD": bits("LWORD", 64),
}

func integer(name string, size int, signed bool) *dataType {
	t := &dataType{kind: kindInteger, name: name, size: size, signed: signed}
	switch {
	case signed:
		t.low, t.top = math.MinInt64>>(64-size), math.MaxInt64>>(64-size)
	case size == 64:
		t.top = math.MaxInt64
	default:
		t.top = 1<<size - 1
	}
	return t
}

func bits(name string, size int) *dataType {
	t := integer(name, size, false)
	t.kind = kindBits
	return t
}

func (t *dataType) whole() bool  { return t.kind == kindInteger || t.kind == kindAnyInteger }
func (t *dataType) real() bool   { return t.kind == kindReal || t.kind == kindAnyReal }
func (t *dataType) number() bool { return t.whole() || t.real() }

// widens reports whether a value of one type may stand, without a conversion
// function, where the other is wanted (IEC 61131-3 Ed. 3, Figure 12): to a
// type that holds every value of the first.
func widens(from, to *dataType) bool {
	switch {
	case from.kind == kindInvalid || to.kind == kindInvalid:
		return true
	case from.kind == kindAnyInteger:
		return to.number() || to.kind == kindBits
	case from.kind == kindAnyReal:
		return to.real()
	case to.kind == kindPosition:
		return from.kind == kindArray && from.name != "" && len(from.dims) == 1 && from.elem.kind == kindReal
	case from.kind == kindInteger && to.kind == kindInteger:
		return from.low >= to.low && from.top <= to.top && !(from.signed && !to.signed) && from.size <= to.size
	case from.kind == kindInteger && to.kind == kindReal:
		return from.size < to.size // INT to REAL, DINT to LREAL
	case from.kind == kindReal && to.kind == kindReal, from.kind == kindBits && to.kind == kindBits:
		return from.size <= to.size
	}
	return sameType(from, to)
}

func sameType(a, b *dataType) bool {
	if a.kind != b.kind {
		return false
	}
	// Two arrays are of one type where one declaration made both: of equal shape alone
	// they are not (IEC 61131-3 Ed. 3, 6.4.4.2 declares arrays by name; that compilers
	// hold to it is common practice, no source).
	return a.name == b.name && (a.kind != kindArray || a.name != "")
}

// common is the type of two operands taken together, or nil.
func common(a, b *dataType) *dataType {
	switch {
	case a.kind == kindInvalid || b.kind == kindInvalid:
		return invalidType
	case a.kind == kindAnyInteger && b.kind == kindAnyReal:
		return b
	case widens(a, b):
		return b
	case widens(b, a):
		return a
	case a.kind == kindInteger && b.real() || a.real() && b.kind == kindInteger:
		return withReal(a, b)
	}
	return nil
}

// withReal: a literal takes LREAL beside an integer; DINT beside REAL has no
// common type that either widens to, other than LREAL.
func withReal(a, b *dataType) *dataType {
	if widens(a, lrealType) && widens(b, lrealType) {
		return lrealType
	}
	return nil
}

// describe names a type for messages.
func (t *dataType) describe() string {
	if t.kind == kindArray && t.name == "" {
		return "ARRAY OF " + t.elem.describe()
	}
	return t.name
}

// count is the number of elements of an array.
func (t *dataType) count() int64 {
	n := int64(1)
	for _, d := range t.dims {
		n *= d.top - d.low + 1
	}
	return n
}

// scalars is the number of plain values in a type, at least 1.
func (t *dataType) scalars() int64 {
	switch t.kind {
	case kindArray:
		return t.count() * t.elem.scalars()
	case kindStruct:
		n := int64(0)
		for _, f := range t.fields {
			n += f.typ.scalars()
		}
		return max(n, 1)
	}
	return 1
}
