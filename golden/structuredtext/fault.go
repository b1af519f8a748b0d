package structuredtext

import "fmt"

// A Place is a line and a column of the program text, both from 1; columns
// count characters.
type Place struct{ Line, Column int }

// An Error is one fault, at its place.
type Error struct {
	Place
	Source  string // the standard and its table or clause
	Message string
}

func (e *Error) Error() string {
	return fmt.Sprintf("%d:%d: %s [%s]", e.Line, e.Column, e.Message, e.Source)
}

func faultAt(at Place, source, format string, args ...any) *Error {
	return &Error{at, source, fmt.Sprintf(format, args...)}
}

// The sources that errors name. Table numbers are those of IEC 61131-3 Ed. 3.
const (
	iecCharacters = "IEC 61131-3, 6.1.1"
	iecNames      = "IEC 61131-3, Table 2"
	iecComments   = "IEC 61131-3, Table 3"
	iecNumbers    = "IEC 61131-3, Table 5"
	iecStrings    = "IEC 61131-3, Table 6"
	iecTimes      = "IEC 61131-3, Table 8"
	iecTypes      = "IEC 61131-3, 6.4"
	iecVariables  = "IEC 61131-3, 6.5"
	iecFunctions  = "IEC 61131-3, 6.6.2"
	iecBlocks     = "IEC 61131-3, 6.6.3"
	iecConvert    = "IEC 61131-3, Figure 12"
	iecLanguage   = "IEC 61131-3, 7.3"
	iecSyntax     = "IEC 61131-3, Annex A"
	plcopenBlocks = "PLCopen Motion Control Part 4 V1.0"
	plcopenRules  = "PLCopen Motion Control Part 1 V2.0, 2.4"
	portable      = "portable subset"
	execution     = "execution"
)
