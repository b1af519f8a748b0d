package structuredtext

// A Program is a parsed PROGRAM and the types declared before it.
type Program struct {
	Place
	Name  string
	Types []*TypeDeclaration
	Vars  []*Variable
	Body  []Statement

	ambiguous []Place // a sign or NOT before "**": editions 2 and 3 disagree
}

// A TypeDeclaration is one STRUCT, or a name for an array.
type TypeDeclaration struct {
	Place
	Name   string
	Fields []*Variable
	Array  *TypeName // nil for a STRUCT
}

// A Variable is one declared name.
type Variable struct {
	Place
	Name     string
	Section  string // VAR, VAR_INPUT, VAR_OUTPUT, VAR_IN_OUT, VAR_EXTERNAL, VAR_TEMP; STRUCT for a field
	Constant bool
	Address  string // %QX0.1, or ""
	Type     TypeName
	Initial  Expression // nil when none
	shared   bool       // declared in one list with other names
}

// A TypeName is a type as written.
type TypeName struct {
	Place
	Name   string     // as written; "ARRAY" for an array
	Length Expression // of STRING[n], or nil
	Ranges []Range    // of an array
	Elem   *TypeName
}

// A Range is lo..hi; High is nil for a single value.
type Range struct{ Low, High Expression }

// An Expression is one of *Literal, *EnumLiteral, *Reference, *Unary, *Binary,
// *Call, *ArrayValue, *StructValue; the last two stand in declarations only.
type Expression interface {
	expression()
	place() Place
}

// A Literal has a value of type bool, int64, float64, time.Duration or string.
type Literal struct {
	Place
	Type  string // the type in front, as in INT#5; "" when none
	Value any
}

// An EnumLiteral is TYPE#name.
type EnumLiteral struct {
	Place
	Type, Name string
}

// A Reference names a variable or an enumeration value, with its parts.
type Reference struct {
	Place
	Name  string
	Parts []Part
}

// A Part is an index list or a field.
type Part struct {
	Place
	Index []Expression
	Field string
}

// Unary is "-", "+" or "NOT".
type Unary struct {
	Place
	Op string
	X  Expression
}

// Binary is an operator between two operands; the place is the operator's.
type Binary struct {
	Place
	Op   string
	X, Y Expression
}

// A Call is a function's.
type Call struct {
	Place
	Name string
	Args []Expression
}

// An ArrayValue is [a, b, n(c)].
type ArrayValue struct {
	Place
	Elems []ArrayElement
}

// An ArrayElement is a value, repeated when Count is given.
type ArrayElement struct {
	Count Expression
	Value Expression
}

// A StructValue is (field := value, …).
type StructValue struct {
	Place
	Names  []string
	Values []Expression
}

func (*Literal) expression()     {}
func (*EnumLiteral) expression() {}
func (*Reference) expression()   {}
func (*Unary) expression()       {}
func (*Binary) expression()      {}
func (*Call) expression()        {}
func (*ArrayValue) expression()  {}
func (*StructValue) expression() {}

func (p Place) place() Place { return p }

// A Statement is one of *Assign, *Invoke, *If, *Case, *For, *While, *Repeat,
// *Exit, *Continue, *Return.
type Statement interface {
	statement()
	place() Place
}

// Assign is target := value.
type Assign struct {
	Place
	Target *Reference
	Value  Expression
}

// Invoke calls a function block instance.
type Invoke struct {
	Place
	Instance *Reference
	Args     []Argument
}

// An Argument is Name := Value or Name => Target.
type Argument struct {
	Place
	Name   string
	Value  Expression
	Target *Reference
}

// If holds IF and ELSIF branches, and ELSE.
type If struct {
	Place
	Branches []Branch
	Else     []Statement
}

// A Branch is a condition and what it guards.
type Branch struct {
	Condition Expression
	Body      []Statement
}

// Case selects by an integer or an enumeration.
type Case struct {
	Place
	Selector Expression
	Branches []CaseBranch
	Else     []Statement
}

// A CaseBranch has values and ranges.
type CaseBranch struct {
	Labels []Range
	Body   []Statement
}

// For counts; By is nil for 1.
type For struct {
	Place
	Variable     *Reference
	From, To, By Expression
	Body         []Statement
}

// While tests first.
type While struct {
	Place
	Condition Expression
	Body      []Statement
}

// Repeat tests last.
type Repeat struct {
	Place
	Body  []Statement
	Until Expression
}

// Exit leaves the innermost loop.
type Exit struct{ Place }

// Continue begins the innermost loop's next turn.
type Continue struct{ Place }

// Return ends the program for this scan.
type Return struct{ Place }

func (*Assign) statement()   {}
func (*Invoke) statement()   {}
func (*If) statement()       {}
func (*Case) statement()     {}
func (*For) statement()      {}
func (*While) statement()    {}
func (*Repeat) statement()   {}
func (*Exit) statement()     {}
func (*Continue) statement() {}
func (*Return) statement()   {}
