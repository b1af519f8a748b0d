package plan

import (
	"path"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/digest"
	"gridferry/plan/wording"
)

// variantList gathers variants and keeps their names apart.
type variantList struct {
	dst   *[]Variant
	names map[string]diag.Place // in small letters: for some disks "A" and "a" are the same
	full  bool

	settings, bytes int // what all variants so far set, which is kept for each of them
}

// Bounds on what variants set. Every setting is looked up in the plan for every variant.
const (
	mostSettings    = 1_000    // of one variant
	mostSettingsAll = 200_000  // of all variants together: ten thousand of them may set twenty values each
	mostSetBytes    = 16 << 20 // their texts, paths and values: as many as a file may have
)

// expand adds every variant that an entry stands for.
func (l *variantList) expand(r *decode.Reader, e *variantEntry) {
	axes := e.axes()
	if l.full {
		return
	}
	if l.full = !l.fits(r, e, axes); l.full {
		return
	}
	row := make([]int, len(axes)) // which value of each axis
	for {
		l.add(r, e, axes, row)
		i := len(axes) - 1
		for ; i >= 0; i-- {
			if row[i]++; row[i] < len(axes[i].values) {
				break
			}
			row[i] = 0
		}
		if i < 0 {
			return
		}
	}
}

// axes is the matrix with the cells as its first axis.
func (e *variantEntry) axes() []axis {
	if len(e.cells) == 0 {
		return e.each
	}
	return append([]axis{{"cell", e.cells}}, e.each...)
}

// fits bounds the variants of all entries together before any is made.
func (l *variantList) fits(r *decode.Reader, e *variantEntry, axes []axis) bool {
	count := 1
	for _, a := range axes {
		if count *= len(a.values); count > MostVariants {
			break
		}
	}
	each := len(e.set) + len(axes)
	switch {
	case len(*l.dst)+count > MostVariants:
		r.List.Errorf("too-many-variants", e.place, "with this entry there are more than %d variants", MostVariants).
			WithHint("leave values out of \"each\", or spread the entries over several files of variants")
		return false
	case each > mostSettings:
		r.List.Errorf("too-many-settings", e.place, "a variant of this entry sets %d values, at most %d fit", each, mostSettings).
			WithHint("write a plan of its own where so much differs, or set a whole list or mapping as one value")
		return false
	}
	l.settings += count * each
	l.bytes += e.bytes(count, axes)
	if l.settings > mostSettingsAll || l.bytes > mostSetBytes {
		r.List.Errorf("too-many-settings", e.place, "with this entry all variants together set more than %d values, or more than %d bytes", mostSettingsAll, mostSetBytes).
			WithHint("set what all variants have in common in the plan, or spread them over several files of variants")
		return false
	}
	return true
}

// bytes is how long all is that so many variants of an entry set.
func (e *variantEntry) bytes(count int, axes []axis) int {
	n := 0
	for _, s := range e.set {
		n += count * s.size()
	}
	for _, a := range axes {
		for _, s := range a.values { // each in as many variants as all the others
			n += count / len(a.values) * s.size()
		}
	}
	return n
}

func (s Setting) size() int { return len(s.Path) + len(s.Value) }

func (l *variantList) add(r *decode.Reader, e *variantEntry, axes []axis, row []int) {
	v := Variant{Place: e.place, Settings: append([]Setting(nil), e.set...)}
	for i, a := range axes {
		v.Settings = append(v.Settings, a.values[row[i]])
	}
	v.Name = variantName(e, axes, v.Settings)
	folded := strings.ToLower(v.Name)
	if first, twice := l.names[folded]; twice {
		r.List.Errorf("variant-twice", e.place, "two variants are called %q", v.Name).
			WithNote(first, "the first one comes from here").WithHint("give one of the entries another \"name\"")
		return
	}
	l.names[folded] = e.place
	*l.dst = append(*l.dst, v)
}

// longestVariantName leaves room for files below a folder of that name.
const longestVariantName = 120

// variantName is the entry's own name, then the cell's, then what the matrix sets:
// "wide-bench-a-rows-2-pitch-60x60". Where that does not say everything, a digest
// of what is set does, so that the name stays when other variants come and go.
func variantName(e *variantEntry, axes []axis, settings []Setting) string {
	words, whole := []string{}, true
	if e.name.IsSet() {
		words = append(words, norm.NFC.String(e.name.V))
	}
	for i, s := range settings[len(e.set):] {
		word, same := variantWord(s, axes, i)
		words, whole = append(words, word), whole && same
	}
	name := strings.Join(words, "-")
	if whole && len(name) <= longestVariantName && !wording.IsDevice(name) {
		return name
	}
	var all strings.Builder
	for _, s := range settings {
		all.WriteString(s.Path + "=" + s.Value + "\x00")
	}
	return strings.ToValidUTF8(name[:min(len(name), longestVariantName)], "") + "-" + digest.Of(all.String())[:8]
}

// variantWord is how a value of axis i shows in a name; false when another value
// could show in the same way.
func variantWord(s Setting, axes []axis, i int) (string, bool) {
	if i == 0 && s.Path == "cell" {
		word, same := inName(path.Base(wording.Stem(s.Value)))
		return word, same && path.Base(s.Value) == s.Value
	}
	key, _ := inName(shortPath(s.Path, axes))
	value, same := inName(s.Value)
	return key + "-" + value, same
}

// shortPath is the last part of a path, or as many more as no other path has.
func shortPath(full string, axes []axis) string {
	parts := strings.Split(full, ".")
	for k := len(parts) - 1; k > 0; k-- {
		short, alone := strings.Join(parts[k:], "."), 0
		for _, a := range axes {
			if strings.HasSuffix("."+a.path, "."+short) {
				alone++
			}
		}
		if alone == 1 {
			return short
		}
	}
	return full
}

// inName turns a value into what may stand in a folder's name on any disk; false
// when that lost something. Lists lose their brackets: "[60, 60]" is "60x60".
func inName(text string) (string, bool) {
	if body, ok := strings.CutPrefix(text, "["); ok && strings.HasSuffix(body, "]") && !strings.ContainsAny(body, "x[{") {
		text = strings.ReplaceAll(strings.TrimSuffix(body, "]"), ", ", "x")
	}
	same := true
	word := strings.Map(func(c rune) rune {
		switch {
		case unicode.IsLetter(c) || unicode.IsDigit(c) || unicode.Is(unicode.Mn, c) || strings.ContainsRune("_-.+", c):
			return c
		}
		same = false
		return '_'
	}, norm.NFC.String(text))
	if trimmed := strings.Trim(word, "."); trimmed != word || word == "" {
		return "_" + trimmed, false
	}
	return word, same
}
