package render

import (
	"strings"
	"unicode/utf8"

	"gridferry/gen/family"
	"gridferry/gen/geom"
)

// figures writes numbers as the family's rules say. It keeps the first error, so
// that a view can be filled in one go.
type figures struct {
	rules *family.Rules
	buf   []byte
	err   error
}

// take returns the error and forgets it.
func (f *figures) take() error {
	err := f.err
	f.err = nil
	return err
}

func (f *figures) length(v float64) string { return f.fixed(v, f.rules.Decimals.Length) }
func (f *figures) time(v float64) string   { return f.fixed(v, f.rules.Decimals.Time) }
func (f *figures) mass(v float64) string   { return f.fixed(v, f.rules.Decimals.Mass) }

// speed takes mm/s and writes the family's unit.
func (f *figures) speed(v float64) string {
	if f.rules.SpeedPerMinute {
		v *= 60
	}
	return f.fixed(v, f.rules.Decimals.Speed)
}

func (f *figures) vector(v geom.Vec) (x, y, z string) {
	return f.length(v.X), f.length(v.Y), f.length(v.Z)
}

func (f *figures) angles(a geom.RPY) (roll, pitch, yaw string) {
	return f.angle(a.Roll), f.angle(a.Pitch), f.angle(a.Yaw)
}

func (f *figures) angle(v float64) string {
	return f.text(family.AppendTurn(f.buf[:0], v, f.rules.Decimals.Angle))
}

func (f *figures) fixed(v float64, decimals int) string {
	return f.text(family.AppendFixed(f.buf[:0], v, decimals))
}

func (f *figures) text(b []byte, err error) string {
	f.buf = b
	if err != nil && f.err == nil {
		f.err = err
	}
	return string(b)
}

// remarkWidth is where a remark of several lines is broken: room enough for the
// marks and the number of the narrowest family.
const remarkWidth = 72

// wrapped breaks a remark into lines at its own line breaks and between words.
func wrapped(text string) []family.Text {
	var out []family.Text
	for _, paragraph := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > remarkWidth {
				out = append(out, family.NewText(line))
				line = ""
			}
			line = strings.TrimSpace(line + " " + word)
		}
		if line != "" {
			out = append(out, family.NewText(line))
		}
	}
	return out
}
