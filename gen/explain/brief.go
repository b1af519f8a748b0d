package explain

import (
	"fmt"
	"strings"

	"gridferry/plan/wording"
)

// What a brief answer holds at most.
const (
	mostBriefSections = 6
	mostBriefReasons  = 8
)

// Brief is the answer in short lines, for a page that has no room for columns: what was asked
// about, and what is said of it.
func (r *Report) Brief() (title string, lines []string) {
	switch f := r.Focus; {
	case f != nil && f.Line.N > 0:
		title = fmt.Sprintf("Line %d of the program", f.Line.N)
	case f != nil:
		title = fmt.Sprintf("Move %d of %d", f.Move.N, r.Counts.Moves)
	case r.Subject != nil:
		title = r.quoted(r.Asked.File, r.Asked.Line)
	default:
		title = r.Title
	}
	lines = append(lines, r.Notices...)
	for _, line := range r.answer() {
		if line != "" && !strings.HasPrefix(line, askedAbout) {
			lines = append(lines, line)
		}
	}
	if r.Focus != nil {
		lines = append(lines, r.whence()...)
	} else {
		lines = append(lines, r.reasons()...)
	}
	for i := range lines {
		lines[i] = visible(lines[i])
	}
	return visible(title), lines
}

// whence is where the thing in focus and its figures come from.
func (r *Report) whence() []string {
	f := r.Focus
	var lines []string
	switch {
	case f.Listed != "": // said already
	case f.Entry != nil:
		lines = append(lines, "It is there because of "+r.quoted(f.Entry.Place.File, f.Entry.Place.Line))
	case !f.Place.IsZero():
		lines = append(lines, "It is there because of "+r.quoted(f.Place.File, f.Place.Line))
	}
	if f.Part != "" {
		return lines
	}
	if len(f.Shapers) > 0 {
		lines = append(lines, "Its figures depend on:")
	}
	for _, s := range f.Shapers {
		lines = append(lines, s.What+": "+r.quoted(s.Place.File, s.Place.Line))
	}
	return lines
}

// quoted is a line of a file with what stands on it.
func (r *Report) quoted(file string, line int) string {
	text := location(file, line)
	if f := r.file(file); f != nil && line <= f.Outline.Lines() {
		text += ": " + wording.Shorten(strings.TrimSpace(f.Outline.Line(line)), 80)
	}
	return text
}

// reasons are the first moves that depend on the subject with what they are for, entry by entry.
func (r *Report) reasons() []string {
	var lines []string
	sections, given := 0, 0
	for _, s := range r.Sections {
		if s.Count == 0 {
			continue
		}
		if sections++; sections > mostBriefSections {
			continue
		}
		lines = append(lines, s.heading()+".")
		for _, row := range s.firstRows() {
			if row.FirstWhy && given < mostBriefReasons {
				given++
				lines = append(lines, fmt.Sprintf("Move %d, %s: %s", row.Move.N, say(&row.Move), row.Why))
			}
		}
	}
	if more := sections - mostBriefSections; more > 0 {
		lines = append(lines, "And so in "+wording.Count(more, "entry")+" more.")
	}
	return lines
}

// firstRows are those of the first piece that is shown.
func (s *Section) firstRows() []Row {
	if len(s.Pieces) == 0 {
		return nil
	}
	return s.Pieces[0].Rows
}
