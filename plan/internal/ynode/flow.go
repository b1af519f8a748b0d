package ynode

import (
	"bytes"
	"encoding/json"
	"strings"
)

// longestFlow is the most bytes of a value that Flow writes.
const longestFlow = 64 << 10

// Flow is a value on one line, as it can be written behind "--set PATH=": aliases and merges resolved, what was in quotes in
// double quotes. It is false for a value longer than 64 KiB.
func (n Node) Flow() (string, bool) {
	f := flow{}
	f.value(n, false)
	return f.text.String(), !f.tooLong
}

type flow struct {
	text    strings.Builder
	tooLong bool
}

func (f *flow) value(n Node, inside bool) {
	if f.tooLong = f.tooLong || f.text.Len() > longestFlow; f.tooLong {
		return
	}
	switch n.Kind() {
	case Null:
		f.text.WriteString("null")
	case Scalar:
		f.scalar(n.Text(), n.Quoted(), inside)
	case Seq:
		f.text.WriteByte('[')
		for i, item := range n.Items() {
			f.separate(i)
			f.value(item, true)
		}
		f.text.WriteByte(']')
	case Map:
		f.text.WriteByte('{')
		for i, e := range n.Entries() {
			f.separate(i)
			f.scalar(e.Key.Text(), e.Key.Quoted(), true)
			f.text.WriteString(": ")
			f.value(e.Value, true)
		}
		f.text.WriteByte('}')
	case Invalid:
	}
}

func (f *flow) separate(i int) {
	if i > 0 {
		f.text.WriteString(", ")
	}
}

// scalar puts in quotes what was in quotes, and inside of brackets what would be read as something else there. A number holds
// none of these characters, so that none becomes a text.
func (f *flow) scalar(text string, quoted, inside bool) {
	if f.tooLong = f.tooLong || len(text) > longestFlow; f.tooLong {
		return
	}
	if !quoted && !strings.Contains(text, "\n") && (!inside || !strings.ContainsAny(text, ",[]{}#:\"'&*!|>%@`")) {
		f.text.WriteString(text)
		return
	}
	var quotes bytes.Buffer
	enc := json.NewEncoder(&quotes)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(text) // a text always has a form in JSON
	f.text.WriteString(strings.TrimSuffix(quotes.String(), "\n"))
}
