package arm

import (
	"math"
	"strings"
)

// Configuration says on which side of its singular places an arm stands, a word for each of shoulder,
// elbow and wrist: those of the signs of its Factors. The zero value is that of an arm that has no
// such words.
type Configuration uint8

// A configuration has two bits for each factor, the shoulder's first: whether it has a word, and
// whether that is the second one.
const (
	hasWord    Configuration = 1
	secondWord Configuration = 2
	perFactor                = 2
)

// words are those of each factor: not negative, negative.
var words = [...][2]string{{"front", "back"}, {"up", "down"}, {"up", "down"}}

// FactorName is what a factor is called: 0 shoulder, 1 elbow, 2 wrist.
func FactorName(factor int) string { return [...]string{"shoulder", "elbow", "wrist"}[factor] }

// names are the texts of all configurations.
var names [1 << (perFactor * len(words))]string

func init() {
	for i := range names {
		var said []string
		for factor := range words {
			if word := Configuration(i).Word(factor); word != "" {
				said = append(said, word)
			}
		}
		names[i] = strings.Join(said, " ")
	}
}

// String is the words, such as "front up down"; "" where there are none.
func (c Configuration) String() string { return names[c] }

// Texts is the words of each of some configurations.
func Texts(all []Configuration) []string {
	texts := make([]string, len(all))
	for i, c := range all {
		texts[i] = c.String()
	}
	return texts
}

// Word is that of one factor: 0 shoulder, 1 elbow, 2 wrist; "" where the arm has none.
func (c Configuration) Word(factor int) string {
	bits := c >> (factor * perFactor)
	if bits&hasWord == 0 {
		return ""
	}
	return Side(factor, bits&secondWord != 0)
}

// Side is the first word of a factor (0 shoulder, 1 elbow, 2 wrist), or the second one.
func Side(factor int, second bool) string {
	if second {
		return words[factor][1]
	}
	return words[factor][0]
}

// Index counts the configurations of an arm, from 0 to 7; 0 for one without words.
func (c Configuration) Index() int {
	index := 0
	for i := range words {
		index = 2*index + int(c>>(i*perFactor)&secondWord/secondWord)
	}
	return index
}

// With is the configuration with another word for a factor that has one: its second one, or its first.
func (c Configuration) With(factor int, second bool) Configuration {
	bit := secondWord << (factor * perFactor)
	if c>>(factor*perFactor)&hasWord == 0 {
		return c
	}
	if second {
		return c | bit
	}
	return c &^ bit
}

// Words reads a configuration of the arm; false where the words are others than it has, such as "front up".
func (a *Arm) Words(text string) (Configuration, bool) {
	for _, c := range a.Configurations() {
		if c.String() == strings.Join(strings.Fields(text), " ") {
			return c, true
		}
	}
	return 0, false
}

// Configurations is all that the arm has; none of an arm that has no words for them.
func (a *Arm) Configurations() (all []Configuration) {
	first, _ := a.Configuration(Readings{})
	for which := range 8 {
		c := first
		for i := range words {
			c = c.With(i, which>>(len(words)-1-i)&1 == 1)
		}
		if c != 0 && (len(all) == 0 || c.Index() > all[len(all)-1].Index()) {
			all = append(all, c)
		}
	}
	return all
}

// onEdge is the size of a factor, in parts of what it can be, below which its sign means nothing: the
// arm stands in that singular place, and so in both configurations.
const onEdge = 1e-7

// Configuration is the one in which an arm stands. On the edge between two it is the first of them, and
// either marks the factors (bit 0 the shoulder's) of which that is so.
func (a *Arm) Configuration(r Readings) (c Configuration, either uint8) {
	factors, ok := a.Factors(r)
	if !ok {
		return 0, 0
	}
	for i, f := range factors {
		if math.IsNaN(f) {
			continue // the arm has no such singular place
		}
		c |= hasWord << (i * perFactor)
		switch edge := onEdge * a.most(i); {
		case math.Abs(f) <= edge:
			either |= 1 << i
		case f < 0:
			c |= secondWord << (i * perFactor)
		}
	}
	return c, either
}

// most is what a factor can be: the shoulder's is a length, the others are sines.
func (a *Arm) most(factor int) float64 {
	if factor == 0 {
		return a.length
	}
	return 1
}
