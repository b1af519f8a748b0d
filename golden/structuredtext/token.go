package structuredtext

import "strings"

type tokenKind int

const (
	tokEnd tokenKind = iota
	tokName
	tokKeyword
	tokPrefix // a type name with "#" right after it, as in INT#5
	tokInt    // value int64
	tokReal   // value float64
	tokTime   // value time.Duration
	tokString // value string
	tokDirect // %QX0.1
	tokSymbol
)

type token struct {
	Place
	kind  tokenKind
	text  string // as written; keywords upper case
	value any
}

func (t token) String() string {
	if t.kind == tokEnd {
		return "the end of the text"
	}
	return `"` + t.text + `"`
}

// is reports whether the token is that keyword or symbol.
func (t token) is(text string) bool {
	return (t.kind == tokKeyword || t.kind == tokSymbol) && t.text == text
}

// keywords no name may equal: IEC 61131-3 Ed. 3, the standard's table of
// keywords, elementary types included.
var keywords = wordSet(`
	ABSTRACT ACTION AND ANY ANY_BIT ANY_CHAR ANY_CHARS ANY_DATE ANY_DERIVED ANY_DURATION ANY_ELEMENTARY ANY_INT
	ANY_MAGNITUDE ANY_NUM ANY_REAL ANY_SIGNED ANY_STRING ANY_UNSIGNED ARRAY AT BEGIN_CONFIGURATION BOOL BY BYTE CASE CHAR CLASS
	CONFIGURATION CONSTANT CONTINUE DATE DATE_AND_TIME DINT DO DT DWORD ELSE ELSIF EN END_ACTION END_CASE END_CLASS
	END_CONFIGURATION END_FOR END_FUNCTION END_FUNCTION_BLOCK END_IF END_INTERFACE END_METHOD END_NAMESPACE
	END_PROGRAM END_REPEAT END_RESOURCE END_STEP END_STRUCT END_TRANSITION END_TYPE END_VAR END_WHILE ENO EXIT
	EXTENDS F_EDGE FALSE FINAL FOR FROM FUNCTION FUNCTION_BLOCK IF IMPLEMENTS INITIAL_STEP INT INTERFACE INTERNAL INTERVAL
	LD LDATE LDATE_AND_TIME LDT LINT LREAL LTIME LTIME_OF_DAY LTOD LWORD METHOD MOD NAMESPACE NON_RETAIN NOT NULL OF
	ON OR OVERLAP OVERRIDE PRIORITY PRIVATE PROGRAM PROTECTED PUBLIC READ_ONLY READ_WRITE REAL REF REF_TO
	REPEAT RESOURCE RETAIN RETURN R_EDGE SINGLE SINT STEP STRING STRUCT SUPER TASK THEN THIS TIME TIME_OF_DAY TO TOD
	TRANSITION TRUE TYPE UDINT UINT ULINT UNTIL USING USINT VAR VAR_ACCESS VAR_CONFIG VAR_EXTERNAL VAR_GLOBAL VAR_INPUT
	VAR_IN_OUT VAR_OUTPUT VAR_TEMP WCHAR WHILE WITH WORD WSTRING XOR`)

// wordSet splits at white space.
func wordSet(text string) map[string]bool {
	set := map[string]bool{}
	for _, word := range strings.Fields(text) {
		set[word] = true
	}
	return set
}

// symbols, longest first.
var symbols = []string{":=", "=>", "<=", ">=", "<>", "**", "..", "+", "-", "*", "/", "=", "<", ">", "&", "(", ")", "[", "]", ",", ";", ":", ".", "#"}
