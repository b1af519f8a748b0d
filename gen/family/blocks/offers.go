package blocks

import (
	"reflect"
	"slices"
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/plan/lazy"
)

// Offer is something that may be written in a template.
type Offer struct {
	Text string
	Kind OfferKind
	Doc  string
}

// OfferKind is what an offer is.
type OfferKind string

// The kinds.
const (
	OfferField    OfferKind = "field"
	OfferFunction OfferKind = "function"
	OfferWord     OfferKind = "keyword" // of the template language
	OfferBlock    OfferKind = "block"
)

// words are those that actions begin with.
var words = []Offer{
	{"if", OfferWord, "what is behind it, up to {{else}} or {{end}}, if a value is neither empty nor false"},
	{"else", OfferWord, "otherwise"},
	{"end", OfferWord, "the end of a define, an if, a range or a with"},
	{"range", OfferWord, "what is behind it for every item of a list, which is then the dot"},
	{"with", OfferWord, "what is behind it if a value is not empty, which is then the dot"},
	{"template", OfferWord, "what another definition makes of a value: {{template \"NAME\" .}}"},
	{"define", OfferWord, "a block, or a helper of blocks: {{define \"NAME\"}}…{{end}}"},
}

// Offered is what may be written at a byte of a template's text, in place of the bytes [from, to); nothing outside of
// actions. The text may be half written.
func Offered(text string, at int) (offers []Offer, from, to int) {
	in := opened{}
	for next := 0; ; {
		a, mistake, found := nextAction(text, next)
		inside := next + strings.Index(text[next:], "{{") + len("{{")
		switch {
		case !found || at < inside:
			return nil, at, at
		case mistake != "":
			next = inside
			if behind := strings.Index(text[inside:], "{{"); behind < 0 || at <= inside+behind {
				return in.offers(text, inside, at)
			}
		case at <= a.to-len("}}"):
			return in.offers(text, inside, at)
		default:
			in.pass(a.word, text[a.from:a.to])
			next = a.to
		}
	}
}

// opened is what is open at a place of a template: the dots inside of one another, nil where a dot is not known.
type opened struct{ dots []reflect.Type }

func (o *opened) dot() reflect.Type {
	if len(o.dots) == 0 {
		return nil
	}
	return o.dots[len(o.dots)-1]
}

var (
	defines = lazy.Regexp(`\{\{-?\s*define\s+"([^"\n]*)"`)
	overOne = lazy.Regexp(`^\{\{-?\s*(?:range|with)\s+(?:\$\w+\s*(?:,\s*\$\w+\s*)?:?=\s*)?(\$?)((?:\.\w+)+)\s*-?\}\}$`)
)

// pass takes in an action.
func (o *opened) pass(word, action string) {
	switch word {
	case "define":
		o.dots = nil
		if m := defines().FindStringSubmatch(action); m != nil {
			o.dots = []reflect.Type{viewNamed(m[1])}
		}
	case "if", "block":
		o.dots = append(o.dots, o.dot())
	case "with", "range":
		o.dots = append(o.dots, o.over(word, action))
	case "else":
		if n := len(o.dots); n > 1 {
			o.dots[n-1] = o.dots[n-2]
		}
	case "end":
		o.dots = o.dots[:max(len(o.dots)-1, 0)]
	}
}

// over is the dot inside of a range or a with.
func (o *opened) over(word, action string) reflect.Type {
	m := overOne().FindStringSubmatch(action)
	if m == nil {
		return nil
	}
	t := o.follow(m[1] == "$", strings.Split(m[2], ".")[1:])
	if word == "range" && t != nil && t.Kind() == reflect.Slice {
		return t.Elem()
	}
	if word == "range" {
		return nil
	}
	return t
}

// follow is the type that a path of fields leads to, from the dot or, with a dollar, from what the block is given.
func (o *opened) follow(dollar bool, path []string) reflect.Type {
	t := o.dot()
	if dollar && len(o.dots) > 0 {
		t = o.dots[0]
	}
	for _, name := range path {
		if t == nil || t.Kind() != reflect.Struct {
			return nil
		}
		f, has := t.FieldByName(name)
		if !has {
			return nil
		}
		t = f.Type
	}
	return t
}

// viewNamed is what a block is given; nil of a helper, which may be given anything.
func viewNamed(name string) reflect.Type {
	all := everyBlock()
	if i := slices.IndexFunc(all, func(b Block) bool { return b.Name == name }); i >= 0 {
		return all[i].viewType()
	}
	return nil
}

var (
	wordBefore = lazy.Regexp(`(define|template)\s+"([^"\n]*)$|(\$?)((?:\.\w*)+)$|([A-Za-z]\w*)$`)
	wordBehind = lazy.Regexp(`^\w*`)
)

// offers are those at a byte of an action.
func (o *opened) offers(text string, inside, at int) (offers []Offer, from, to int) {
	to = at + len(wordBehind().FindString(text[at:]))
	m := wordBefore().FindStringSubmatch(text[inside:at])
	switch {
	case m == nil:
		return nil, at, to
	case m[1] == "define":
		return starting(m[2], blocksOffered()), at - len(m[2]), to
	case m[1] != "":
		return starting(m[2], definitionsIn(text)), at - len(m[2]), to
	case m[4] != "":
		path := strings.Split(m[4], ".")[1:]
		written := path[len(path)-1]
		return starting(written, fieldsOffered(o.follow(m[3] == "$", path[:len(path)-1]))), at - len(written), to
	}
	return starting(m[5], slices.Concat(words, functionsOffered())), at - len(m[5]), to
}

// starting is those offers that go on with what is written.
func starting(written string, all []Offer) []Offer {
	return slices.DeleteFunc(all, func(o Offer) bool { return !strings.HasPrefix(strings.ToLower(o.Text), strings.ToLower(written)) })
}

// blocksOffered is those that may be defined.
func blocksOffered() []Offer {
	var all []Offer
	for _, b := range everyBlock() {
		if !slices.ContainsFunc(all, func(o Offer) bool { return o.Text == b.Name }) {
			all = append(all, Offer{b.Name, OfferBlock, b.Doc})
		}
	}
	return all
}

// definitionsIn is those that a text has.
func definitionsIn(text string) []Offer {
	var all []Offer
	for _, m := range defines().FindAllStringSubmatch(text, -1) {
		all = append(all, Offer{m[1], OfferBlock, "is defined in this file"})
	}
	return all
}

func fieldsOffered(t reflect.Type) []Offer {
	var all []Offer
	if t == nil || t.Kind() != reflect.Struct {
		return nil
	}
	for _, f := range fieldsOf("", t) {
		doc := f.Type + ": " + f.Doc
		if f.When != "" {
			doc += " (" + rules.File + ": " + f.When + ")"
		}
		all = append(all, Offer{strings.TrimPrefix(f.Name, "."), OfferField, doc})
	}
	return all
}

func functionsOffered() []Offer {
	var all []Offer
	for _, f := range Functions {
		all = append(all, Offer{f.Name, OfferFunction, f.Use + ": " + f.Doc + "; " + f.Example + " gives " + f.Want})
	}
	for _, name := range builtins {
		all = append(all, Offer{name, OfferFunction, "as in the language of the templates (text/template)"})
	}
	return all
}
