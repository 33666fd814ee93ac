package sheet

import (
	"fmt"
	"math"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose/cutting"
)

// Purchase is a line of the shopping list. Prices and packs of the shipped
// catalogue are invented for the demonstration.
type Purchase struct {
	ID    string        `json:"id"`
	Name  string        `json:"name"`
	Need  string        `json:"need"` // for all heads
	Pack  string        `json:"pack"` // as sold
	Count int           `json:"count"`
	Each  measure.Money `json:"each"`
	Total measure.Money `json:"total"`
	Demo  bool          `json:"demo"` // price and pack are invented
}

// trim is what squaring both ends of a new length of tubing takes off.
// Common practice, no source.
const trim = measure.Inch / 2

// buy lists what n heads take, in whole packs, as if nothing were on hand.
func buy(h head.Head, n int, glues []*knowledge.Adhesive, lim knowledge.Limits) ([]Purchase, error) {
	var list []Purchase
	add := func(p Purchase, source string) {
		p.Total, p.Demo = measure.Money(p.Count)*p.Each, source == "demo"
		list = append(list, p)
	}
	packs := func(need, pack float64) int { return max(1, int(math.Ceil(need/max(pack, 1e-12)-1e-9))) }

	c := h.Stack.Core
	add(Purchase{ID: c.ID, Name: coreName(h.Stack), Need: fmt.Sprint(n), Pack: fmt.Sprintf("%d in a pack", max(c.Pack, 1)),
		Count: packs(float64(n), float64(max(c.Pack, 1))), Each: c.Price}, c.PriceSource)

	done := map[string]bool{}
	for _, l := range h.Layers {
		t := l.Slice.Tube
		if done[t.ID] {
			continue
		}
		done[t.ID] = true
		job := cutting.Job{Buy: t.Pack, Kerf: measure.Length(lim.KerfM.Value), Ends: trim}
		for _, other := range h.Layers {
			if other.Slice.Tube.ID == t.ID {
				job.Want = append(job.Want, cutting.Piece{Length: other.Cut, Count: n})
			}
		}
		if t.Pack == 0 { // a size that nobody in the catalogue sells
			list = append(list, Purchase{ID: t.ID, Name: tubeName(l.Slice), Need: pieces(job.Want), Pack: "not in the catalogue"})
			continue
		}
		plan, err := job.Plan()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", t.ID, err)
		}
		add(Purchase{ID: t.ID, Name: tubeName(l.Slice), Need: pieces(job.Want), Pack: t.Pack.String(), Count: plan.Bought, Each: t.Price}, t.PriceSource)
	}
	if w := h.Stack.Wrap; w != nil {
		grams := float64(n) * h.YarnMass.Grams()
		add(Purchase{ID: w.Yarn.ID, Name: w.Yarn.Name, Need: fmt.Sprintf("%.1f g, %.0f m", grams, float64(n)*float64(h.YarnLength)),
			Pack: "skein of " + w.Yarn.Pack.String(), Count: packs(grams, w.Yarn.Pack.Grams()), Each: w.Yarn.Price}, w.Yarn.PriceSource)
	}
	if s := h.Stack.Shaft; s != nil {
		add(Purchase{ID: s.ID, Name: s.Name, Need: fmt.Sprint(n), Pack: fmt.Sprintf("%d in a pack", max(s.Pack, 1)),
			Count: packs(float64(n), float64(max(s.Pack, 1))), Each: s.Price}, s.PriceSource)
	}
	for _, g := range glues {
		add(Purchase{ID: g.ID, Name: g.Name, Need: "a little", Pack: "smallest pack", Count: 1, Each: g.Price}, g.PriceSource)
	}
	return list, nil
}

// pieces says how many slices of what length.
func pieces(want []cutting.Piece) string {
	s := ""
	for i, p := range want {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprintf("%d of %s", p.Count, p.Length.In())
	}
	return s
}

// total adds up a shopping list.
func total(list []Purchase) measure.Money {
	var sum measure.Money
	for _, p := range list {
		sum += p.Total
	}
	return sum
}

// demoNote says which prices are invented.
func demoNote(list []Purchase) string {
	for _, p := range list {
		if p.Demo {
			return "Prices and packs are invented for this demonstration and in no particular currency; put your own in your parts file."
		}
	}
	return ""
}
