package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
	"mallow/rules/pair"
)

// Pairs is a bag that was sorted into pairs, fours or other groups.
type Pairs struct {
	Of     int     `json:"count"` // of things in a group
	Groups []Group `json:"groups"`
	Left   []Thing `json:"left_over"`
	Proven bool    `json:"proven_best"`
}

// Group is things that go together.
type Group struct {
	Things []Thing  `json:"things"`
	MassG  *float64 `json:"apart_g,omitempty"`  // from the lightest to the heaviest
	SizeMM *float64 `json:"apart_mm,omitempty"` // from the smallest to the largest
}

// Thing is one thing of a bag.
type Thing struct {
	Name       string  `json:"name"`
	MassG      float64 `json:"mass_g,omitempty"`
	DiameterMM float64 `json:"diameter_mm,omitempty"`
}

// NewPairs gathers what is shown of a bag sorted into groups of so many.
func NewPairs(s pair.Sorted, of int) Pairs {
	v := Pairs{Of: of, Groups: []Group{}, Left: []Thing{}, Proven: s.Proven}
	thing := func(t pair.Thing) Thing { return Thing{t.Name, Round(t.Mass.Grams(), 3), Round(t.Size.MM(), 3)} }
	for _, g := range s.Groups {
		var out Group
		if g.Things[0].Mass > 0 {
			d := Round(g.Mass.Grams(), 3)
			out.MassG = &d
		}
		if g.Things[0].Size > 0 {
			d := Round(g.Size.MM(), 3)
			out.SizeMM = &d
		}
		for _, t := range g.Things {
			out.Things = append(out.Things, thing(t))
		}
		v.Groups = append(v.Groups, out)
	}
	for _, t := range s.Left {
		v.Left = append(v.Left, thing(t))
	}
	return v
}

func (t Thing) String() string {
	var is []string
	if t.MassG > 0 {
		is = append(is, plain(t.MassG)+" g")
	}
	if t.DiameterMM > 0 {
		is = append(is, plain(t.DiameterMM)+" mm")
	}
	return t.Name + " (" + strings.Join(is, ", ") + ")"
}

func plain(x float64) string { return fmt.Sprint(x) }

// Page is the sorted bag for people.
func (v Pairs) Page() page.Page {
	t := page.Table{Title: "What goes together", Head: []string{"group"}, Right: []bool{true}}
	for range v.Of {
		t.Head, t.Right = append(t.Head, ""), append(t.Right, false)
	}
	t.Head[1] = "things"
	var worstG, worstMM, sumG, sumMM float64
	weighed, measured := false, false
	for i, g := range v.Groups {
		row := []string{fmt.Sprint(i + 1)}
		for _, th := range g.Things {
			row = append(row, th.String())
		}
		if g.MassG != nil {
			row, weighed = append(row, plain(*g.MassG)), true
			worstG, sumG = max(worstG, *g.MassG), sumG+*g.MassG
		}
		if g.SizeMM != nil {
			row, measured = append(row, plain(*g.SizeMM)), true
			worstMM, sumMM = max(worstMM, *g.SizeMM), sumMM+*g.SizeMM
		}
		t.Rows = append(t.Rows, row)
	}
	var sums []string
	if weighed {
		t.Head, t.Right = append(t.Head, "apart g"), append(t.Right, true)
		sums = append(sums, fmt.Sprintf("%s g at most, %s g in all", plain(worstG), plain(Round(sumG, 3))))
	}
	if measured {
		t.Head, t.Right = append(t.Head, "apart mm"), append(t.Right, true)
		sums = append(sums, fmt.Sprintf("%s mm at most, %s mm in all", plain(worstMM), plain(Round(sumMM, 3))))
	}
	var p page.Page
	if len(v.Groups) == 0 {
		p = append(p, page.Para("Nothing goes together as closely as was asked."))
	} else {
		p = append(p, t, page.Para("Within a group they differ by "+strings.Join(sums, "; by ")+"."))
	}
	if len(v.Left) > 0 {
		var names []string
		for _, th := range v.Left {
			names = append(names, th.String())
		}
		p = append(p, page.Para("Left over: "+strings.Join(names, ", ")+"."))
	}
	if !v.Proven {
		return append(p, page.Para("This is the best found; there may be a better one among more ways than were looked at."))
	}
	return append(p, page.Para("No other way leaves fewer over and has a smaller sum of differences."))
}
