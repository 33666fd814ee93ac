package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/draw"
	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/knowledge/head"
)

// quartiles are the values that a quarter lies under, and over.
func quartiles(v []float64) (low, high float64) {
	s := slices.Sorted(slices.Values(v))
	return s[len(s)/4], s[len(s)*3/4]
}

// Cut is the section of a head out of characters, at most so many columns wide.
func Cut(h head.Head, lim *knowledge.Limits, width int) page.Picture {
	s := draw.NewSection(h, lim)
	return page.Picture{Lines: s.Rows(min(width, cutColumns)), Alt: strings.Join(s.List(), " ")}
}

// cutColumns is the most room that a section takes, so that it fits a screen.
const cutColumns = 29

// Rows is the ladder of softness out of characters: each head at its place
// from hard to soft. Width is the room in columns.
func (m Maker) Rows(heads []Head, width int) page.Picture {
	low, high := -4.0, 4.0
	for _, h := range heads {
		low, high = min(low, h.Report.Softness-1), max(high, h.Report.Softness+1)
	}
	low, high = math.Floor(low), math.Ceil(high)
	name := nameWidth(heads)
	room := max(width-name-10, 12)
	at := func(v float64) int { return int(math.Round((v - low) / (high - low) * float64(room-1))) }
	var p page.Picture
	var said []string
	for _, h := range heads {
		row := []byte(strings.Repeat(".", room))
		if from, to, ok := m.medium(); ok {
			for i := at(from); i <= at(to); i++ {
				row[i] = '-'
			}
		}
		row[at(h.Report.Softness)] = '#'
		p.Lines = append(p.Lines, fmt.Sprintf("%-*s %s %+.1f", name, h.Name, row, h.Report.Softness+0))
		said = append(said, fmt.Sprintf("%s %+.1f notches", h.Name, h.Report.Softness+0))
	}
	p.Lines = append(p.Lines, fmt.Sprintf("%-*s %-*s%s", name, "", room-4, "hard", "soft"))
	p.Alt = "Softness, higher is softer: " + strings.Join(said, "; ") + "."
	return p
}

// Reach shows for each head how far it goes from the softest stroke to the
// loudest, as a bar on the scale of softness. Width is the room in columns.
func (m Maker) Reach(heads []Head, width int) page.Picture {
	low, high := math.Inf(1), math.Inf(-1)
	for _, h := range heads {
		for _, s := range h.Report.Reference {
			low, high = min(low, m.notches(s)), max(high, m.notches(s))
		}
	}
	var p page.Picture
	if !(high > low) {
		return p
	}
	name := nameWidth(heads)
	room := max(width-name-2, 12)
	var said []string
	for _, h := range heads {
		row := []byte(strings.Repeat(" ", room))
		ref := h.Report.Reference
		if len(ref) == 0 {
			continue
		}
		at := func(i int) int { return int(math.Round((m.notches(ref[i]) - low) / (high - low) * float64(room-1))) }
		for i := at(len(ref) - 1); i <= at(0); i++ {
			row[i] = '='
		}
		for i := range ref {
			copy(row[min(at(i), room-len(ref[i].Dynamic)):], ref[i].Dynamic)
		}
		p.Lines = append(p.Lines, fmt.Sprintf("%-*s %s", name, h.Name, strings.TrimRight(string(row), " ")))
		said = append(said, fmt.Sprintf("%s from %+.1f at %s to %+.1f at %s", h.Name, m.notches(ref[0])+0, ref[0].Dynamic, m.notches(ref[len(ref)-1])+0, ref[len(ref)-1].Dynamic))
	}
	p.Lines = append(p.Lines, fmt.Sprintf("%-*s %-*s%s", name, "", room-4, "hard", "soft"))
	p.Alt = "Softness from the softest stroke to the loudest, in notches: " + strings.Join(said, "; ") + "."
	return p
}

func nameWidth(heads []Head) int {
	w := 0
	for _, h := range heads {
		w = max(w, len([]rune(h.Name)))
	}
	return w
}
