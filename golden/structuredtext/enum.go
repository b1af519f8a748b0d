package structuredtext

// An enumValue is the name of an enumeration value, spelt as PLCopen does.
type enumValue string
