package page

import "testing"

// Lines that say something stay, in their order, with what stands behind them; texts that span lines lose indents only.
func TestSlim(t *testing.T) {
	const script = "// what it is\nconst a = (() => {\n  // why\n  const b = \"// no comment\"; // stays\n\n\treturn b;\n})();\n"
	const want = "const a = (() => {\nconst b = \"// no comment\"; // stays\nreturn b;\n})();\n"
	if got := Slim(script); got != want {
		t.Errorf("found %q, wanted %q", got, want)
	}
}
