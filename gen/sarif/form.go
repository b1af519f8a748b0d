package sarif

// The objects of the format, as far as they are used; the fields have the names of the standard.

type log struct {
	Schema  string `json:"$schema"`
	Version string `json:"version"`
	Runs    []run  `json:"runs"`
}

// run is section 3.14.
type run struct {
	Tool struct {
		Driver driver `json:"driver"`
	} `json:"tool"`
	ColumnKind string          `json:"columnKind"`
	Bases      map[string]base `json:"originalUriBaseIds"` // one, so that its order is
	Results    []result        `json:"results"`
}

type base struct {
	Description message `json:"description"`
}

// driver is a toolComponent, section 3.19.
type driver struct {
	Name     string `json:"name"`
	Version  string `json:"version"`
	Semantic string `json:"semanticVersion"`
	Rules    []rule `json:"rules,omitempty"`
}

// rule is a reportingDescriptor, section 3.49.
type rule struct {
	ID      string        `json:"id"`
	Short   *message      `json:"shortDescription,omitempty"`
	Full    *message      `json:"fullDescription,omitempty"`
	Help    *message      `json:"help,omitempty"`
	Default configuration `json:"defaultConfiguration"`
}

type configuration struct {
	Level string `json:"level"`
}

type message struct {
	Text string `json:"text"`
}

// result is section 3.27.
type result struct {
	Rule      string     `json:"ruleId"`
	Index     int        `json:"ruleIndex"`
	Level     string     `json:"level"`
	Message   message    `json:"message"`
	Locations []location `json:"locations"`
	Related   []location `json:"relatedLocations,omitempty"`
	Fixes     []fix      `json:"fixes,omitempty"`
}

// location is section 3.28.
type location struct {
	ID       int       `json:"id,omitempty"`
	Message  *message  `json:"message,omitempty"`
	Physical *physical `json:"physicalLocation,omitempty"`
	Logical  []logical `json:"logicalLocations,omitempty"`
}

type physical struct {
	Artifact artifactLocation `json:"artifactLocation"`
	Region   *region          `json:"region,omitempty"`
}

type logical struct {
	Name string `json:"fullyQualifiedName"`
}

type artifactLocation struct {
	URI  string `json:"uri"`
	Base string `json:"uriBaseId,omitempty"`
}

// region counts lines and columns from 1; the end is the column behind it (section 3.30).
type region struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
	EndColumn   int `json:"endColumn,omitempty"`
}

// fix is section 3.55.
type fix struct {
	Description message  `json:"description"`
	Changes     []change `json:"artifactChanges"`
}

type change struct {
	Artifact     artifactLocation `json:"artifactLocation"`
	Replacements []replacement    `json:"replacements"`
}

type replacement struct {
	Deleted  region  `json:"deletedRegion"`
	Inserted content `json:"insertedContent"`
}

type content struct {
	Text string `json:"text"`
}
