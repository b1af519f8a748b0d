package move

import (
	"bufio"
	"io"
	"math"
	"strconv"
	"unicode/utf8"
)

// column is one column of the list: its name, and how a move fills it. The
// value is written as a JSON literal or as bare text; ok is false where the
// column does not apply to that kind of move.
type column struct {
	name   string
	text   bool // a text, which JSON puts in quotes
	append func(b []byte, m *Move) (out []byte, ok bool)
}

// columns are the list's columns in their order. CSV writes them all, JSON
// lines leaves out those that do not apply.
var columns = []column{
	{"n", false, func(b []byte, m *Move) ([]byte, bool) { return appendInt(b, m.N), true }},
	{"transfer", false, func(b []byte, m *Move) ([]byte, bool) { return appendInt(b, m.Transfer), true }},
	{"leg", false, func(b []byte, m *Move) ([]byte, bool) { return appendInt(b, m.Leg), m.Leg > 0 }},
	{"action", true, func(b []byte, m *Move) ([]byte, bool) { return append(b, m.Kind.String()...), true }},
	{"target", true, func(b []byte, m *Move) ([]byte, bool) { return m.Target.Append(b), !m.Target.IsZero() }},
	{"frame", true, func(b []byte, m *Move) ([]byte, bool) { return append(b, m.Frame...), m.Frame != "" }},
	pose("x", func(m *Move) float64 { return m.At.X }),
	pose("y", func(m *Move) float64 { return m.At.Y }),
	pose("z", func(m *Move) float64 { return m.At.Z }),
	pose("roll", func(m *Move) float64 { return m.At.Roll }),
	pose("pitch", func(m *Move) float64 { return m.At.Pitch }),
	pose("yaw", func(m *Move) float64 { return m.At.Yaw }),
	pose("base_x", func(m *Move) float64 { return m.Base.X }),
	pose("base_y", func(m *Move) float64 { return m.Base.Y }),
	pose("base_z", func(m *Move) float64 { return m.Base.Z }),
	pose("base_roll", func(m *Move) float64 { return m.Base.Roll }),
	pose("base_pitch", func(m *Move) float64 { return m.Base.Pitch }),
	pose("base_yaw", func(m *Move) float64 { return m.Base.Yaw }),
	pose("speed", func(m *Move) float64 { return m.Speed }),
	pose("blend", func(m *Move) float64 { return m.Blend }),
	{"tool", true, func(b []byte, m *Move) ([]byte, bool) { return append(b, m.Tool...), m.Tool != "" }},
	{"load", false, func(b []byte, m *Move) ([]byte, bool) { return appendNumber(b, m.Load), m.hasLoad() }},
	{"signal", false, func(b []byte, m *Move) ([]byte, bool) { return appendInt(b, m.Signal), m.hasSignal() }},
	{"level", true, func(b []byte, m *Move) ([]byte, bool) { return append(b, Level(m.Level)...), m.hasSignal() }},
	{"seconds", false, func(b []byte, m *Move) ([]byte, bool) { return appendNumber(b, m.Seconds), m.hasSeconds() }},
	{"text", true, func(b []byte, m *Move) ([]byte, bool) { return append(b, m.Text...), m.Kind == Note }},
	{"line", false, func(b []byte, m *Move) ([]byte, bool) { return appendInt(b, m.Place.Line), m.Place.Line > 0 }},
	{"else", true, func(b []byte, m *Move) ([]byte, bool) {
		return append(b, afterTimeOut(m.GoOn)...), m.Kind == Await && m.Seconds > 0
	}},
}

// pose is a column that only motions fill.
func pose(name string, value func(*Move) float64) column {
	return column{name, false, func(b []byte, m *Move) ([]byte, bool) {
		return appendNumber(b, value(m)), m.Kind.IsMotion()
	}}
}

func (m *Move) hasLoad() bool { return m.Kind == Select || m.Kind.IsMotion() }

func (m *Move) hasSignal() bool {
	return m.Kind == Grip || m.Kind == Release || m.Kind == Set || m.Kind == Await
}

func (m *Move) hasSeconds() bool { return m.Kind == Dwell || m.Kind == Await && m.Seconds > 0 }

// afterTimeOut is the plan's word for what an await does when its time is up.
func afterTimeOut(goOn bool) string {
	if goOn {
		return "go-on"
	}
	return "stop"
}

// Level is the word for an output's or an input's level.
func Level(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

func appendInt(b []byte, v int) []byte { return strconv.AppendInt(b, int64(v), 10) }

// appendNumber writes a number with at most nine decimals, which is a
// thousandth of what the list promises, and coarse enough to be the same on
// every processor.
func appendNumber(b []byte, v float64) []byte {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, '0') // NaN cannot get this far: nothing in a plan can be one
	}
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', 9, 64)
	end := len(b)
	for b[end-1] == '0' {
		end--
	}
	if b[end-1] == '.' {
		end--
	}
	if b = b[:end]; string(b[start:]) == "-0" {
		b = append(b[:start], '0')
	}
	return b
}

// WriteCSV writes the list as CSV (RFC 4180, with LF line ends) with a header.
func WriteCSV(w io.Writer, moves Seq) error {
	out := bufio.NewWriterSize(w, 1<<16)
	line := make([]byte, 0, 512)
	for i, c := range columns {
		line = appendComma(line, i)
		line = append(line, c.name...)
	}
	field := make([]byte, 0, 64)
	var err error
	for m := range withHeader(moves, out, line, &err) {
		line = line[:0]
		for i, c := range columns {
			line = appendComma(line, i)
			var ok bool
			if field, ok = c.append(field[:0], &m); ok {
				line = appendField(line, field)
			}
		}
		if _, err = out.Write(append(line, '\n')); err != nil {
			return err
		}
	}
	if err != nil {
		return err
	}
	return out.Flush()
}

// withHeader writes the header before the first move is made.
func withHeader(moves Seq, out io.Writer, header []byte, err *error) Seq {
	return func(yield func(Move) bool) {
		if _, *err = out.Write(append(header, '\n')); *err == nil {
			moves(yield)
		}
	}
}

func appendComma(b []byte, i int) []byte {
	if i > 0 {
		b = append(b, ',')
	}
	return b
}

// appendField quotes a field that holds a comma, a quote or a line break.
func appendField(b, field []byte) []byte {
	quote := false
	for _, c := range field {
		quote = quote || c == ',' || c == '"' || c == '\n' || c == '\r'
	}
	if !quote {
		return append(b, field...)
	}
	b = append(b, '"')
	for _, c := range field {
		if c == '"' {
			b = append(b, '"')
		}
		b = append(b, c)
	}
	return append(b, '"')
}

// WriteJSONL writes the list as JSON lines, one object a move, with the CSV's
// columns as keys.
func WriteJSONL(w io.Writer, moves Seq) error {
	out := bufio.NewWriterSize(w, 1<<16)
	line, field := make([]byte, 0, 512), make([]byte, 0, 64)
	for m := range moves {
		line = append(line[:0], '{')
		for _, c := range columns {
			var ok bool
			if field, ok = c.append(field[:0], &m); !ok {
				continue
			}
			line = appendComma(line, len(line)-1)
			line = append(append(append(line, '"'), c.name...), '"', ':')
			if c.text {
				line = appendJSONText(line, field)
			} else {
				line = append(line, field...)
			}
		}
		if _, err := out.Write(append(line, '}', '\n')); err != nil {
			return err
		}
	}
	return out.Flush()
}

// appendJSONText quotes a text as RFC 8259 asks.
func appendJSONText(b, text []byte) []byte {
	const hex = "0123456789abcdef"
	b = append(b, '"')
	for len(text) > 0 {
		c, size := utf8.DecodeRune(text)
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', byte(c))
		case c < ' ' || c == 0x7f:
			b = append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		default:
			b = utf8.AppendRune(b, c)
		}
		text = text[size:]
	}
	return append(b, '"')
}
