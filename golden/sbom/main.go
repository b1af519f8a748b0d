// Command sbom holds lists of what is in a package to the schema that the CycloneDX project publishes.
// It is called with the folder of its schemas, as the Go module cyclonedx-go has them, and with the lists.
package main

import (
	"fmt"
	"os"
	"path"
	"path/filepath"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// published are the schemas by the addresses at which they say they are, and by their files in the
// module, of which one has another ending.
var published = map[string]string{
	"bom-1.6.schema.json": "bom-1.6.schema.json", "spdx.schema.json": "spdx.schema.json", "jsf-0.82.schema.json": "jsf-0.82.schemax.json",
}

const at = "http://cyclonedx.org/schema/"

func main() {
	if len(os.Args) < 3 {
		fail(fmt.Errorf("usage: sbom FOLDER-OF-SCHEMAS LISTS"))
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	for name, file := range published {
		fail(c.AddResource(at+name, parsed(filepath.Join(os.Args[1], file))))
	}
	s, err := c.Compile(at + "bom-1.6.schema.json")
	fail(err)
	for _, list := range os.Args[2:] {
		data := parsed(list)
		if err := s.Validate(data); err != nil {
			fail(fmt.Errorf("%s: %w", list, err))
		}
		held, _ := data.(map[string]any)["components"].([]any)
		fmt.Printf("%s: %d libraries, as the schema of CycloneDX 1.6 wants it\n", path.Base(list), len(held))
	}
}

func parsed(file string) any {
	f, err := os.Open(file)
	fail(err)
	defer f.Close()
	data, err := jsonschema.UnmarshalJSON(f)
	fail(err)
	return data
}

func fail(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "sbom:", err)
		os.Exit(1)
	}
}
