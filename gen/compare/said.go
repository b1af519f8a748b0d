package compare

// Said is one thing that a report says, with the transfers of either side that it is about.
type Said struct {
	What string `json:"what"` // Lacking, More, Elsewhere, or the kind of a difference
	Text string `json:"text"`
	A    [2]int `json:"a"` // the first and the last transfer; 0 and 0 for none
	B    [2]int `json:"b"`
}

// Further kinds of what a report says: of whole transfers.
const (
	Lacking   = "only-transfer-a" // that the second side does not have
	More      = "only-transfer-b"
	Elsewhere = "elsewhere"
)

// mostSaid bounds what is said of each kind.
const mostSaid = 200

// Said is what the report says, in the order in which it prints it.
func (r *Report) Said() []Said {
	var all []Said
	for i, run := range r.OnlyA {
		if i < mostSaid {
			all = append(all, Said{What: Lacking, Text: "only in the first: " + r.run(run), A: run.transfers()})
		}
	}
	for i, run := range r.OnlyB {
		if i < mostSaid {
			all = append(all, Said{What: More, Text: "only in the second: " + r.run(run), B: run.transfers()})
		}
	}
	for i, run := range r.Elsewhere {
		if i < mostSaid {
			other := Run{First: run.Instead, Last: run.Instead}
			all = append(all, Said{Elsewhere, "goes elsewhere: " + r.goesElsewhere(run), run.transfers(), other.transfers()})
		}
	}
	for i, d := range r.Different {
		if i < mostSaid {
			all = append(all, Said{string(d.What), d.Text(), [2]int{d.First[0], d.Last[0]}, [2]int{d.First[1], d.Last[1]}})
		}
	}
	return all
}

// Summary is the report in a sentence.
func (r *Report) Summary() string { return r.summary() }

func (run *Run) transfers() [2]int { return [2]int{run.First.Transfer, run.Last.Transfer} }
