package urdf

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Write is a robot as a file; what Read makes of it is the same robot, to the last digits of its
// figures. Efforts are not known, and written as 0.
func Write(r *Robot) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<?xml version=\"1.0\"?>\n<robot name=%s>\n", quote(r.Name))
	for _, l := range r.Links {
		writeLink(&b, l)
	}
	for _, j := range r.Joints {
		writeJoint(&b, j)
	}
	b.WriteString("</robot>\n")
	return b.Bytes()
}

func writeLink(b *bytes.Buffer, l *Link) {
	if len(l.Shapes) == 0 {
		fmt.Fprintf(b, "  <link name=%s/>\n", quote(l.Name.V))
		return
	}
	fmt.Fprintf(b, "  <link name=%s>\n", quote(l.Name.V))
	for _, s := range l.Shapes {
		geometry := fmt.Sprintf("<box size=%s/>", metres(s.Size[:]...))
		switch {
		case s.Round && s.Length == 0:
			geometry = fmt.Sprintf("<sphere radius=%s/>", metres(s.Radius))
		case s.Round:
			geometry = fmt.Sprintf("<cylinder length=%s radius=%s/>", metres(s.Length), metres(s.Radius))
		}
		fmt.Fprintf(b, "    <collision>\n      %s\n      <geometry>%s</geometry>\n    </collision>\n", origin(s.Origin), geometry)
	}
	b.WriteString("  </link>\n")
}

func writeJoint(b *bytes.Buffer, j *Joint) {
	fmt.Fprintf(b, "  <joint name=%s type=\"%s\">\n    %s\n", quote(j.Name.V), j.Kind, origin(j.Origin))
	fmt.Fprintf(b, "    <parent link=%s/>\n    <child link=%s/>\n", quote(j.Parent.V), quote(j.Child.V))
	if j.Moves() {
		turned := radians
		if j.Slides() {
			turned = metres
		}
		fmt.Fprintf(b, "    <axis xyz=\"%s %s %s\"/>\n", plain(j.Axis[0]), plain(j.Axis[1]), plain(j.Axis[2]))
		fmt.Fprintf(b, "    <limit lower=%s upper=%s effort=\"0\" velocity=%s/>\n", turned(j.Lo), turned(j.Hi), turned(j.Speed))
	}
	b.WriteString("  </joint>\n")
}

func origin(o Origin) string {
	return fmt.Sprintf("<origin xyz=%s rpy=%s/>", metres(o.XYZ[:]...), radians(o.RPY[:]...))
}

// metres and radians are figures of ours as the file writes them, in quotes.
func metres(mm ...float64) string {
	words := make([]string, len(mm))
	for i, v := range mm {
		words[i] = plain(thousandth(v))
	}
	return quote(strings.Join(words, " "))
}

func radians(degrees ...float64) string {
	words := make([]string, len(degrees))
	for i, v := range degrees {
		words[i] = plain(v / 180 * math.Pi)
	}
	return quote(strings.Join(words, " "))
}

// thousandth divides the decimal figure that is printed, so that 310.7 becomes 0.3107 and no
// neighbour of it.
func thousandth(v float64) float64 {
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', -1, 64), "e")
	n, _ := strconv.Atoi(exponent)
	out, _ := strconv.ParseFloat(fmt.Sprintf("%se%d", mantissa, n-3), 64)
	return out
}

func plain(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }

// quote is a text as the value of an attribute.
func quote(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(text)) // a buffer takes everything
	return "\"" + b.String() + "\""
}
