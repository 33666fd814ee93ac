package sheet

import (
	"fmt"

	"mallow/assistant/chart"
	"mallow/assistant/draw"
	"mallow/rules/propose"
)

// plots draws what the candidate does, beside its rivals where there are any.
// A plot without data is left out.
func (m *Maker) plots(c propose.Candidate, o Options) ([]draw.Plot, error) {
	var list []draw.Plot
	chosen := shown("chosen", c)
	var rivals []chart.Head
	for _, a := range o.Alternatives {
		rivals = append(rivals, shown(a.Kind, a.Candidate))
	}
	if len(c.Report.Reference) > 0 {
		if len(o.Pool) > 0 || len(rivals) > 0 {
			var pool [][2]float64 // of the pool there are facts only
			for _, p := range o.Pool {
				pool = append(pool, [2]float64{p.Facts.Head.MassG, p.Facts.Head.Softness})
			}
			list = append(list, m.charts.Field(chosen, rivals, pool))
		}
		list = append(list, m.charts.Opening(append([]chart.Head{chosen}, rivals...)))
	}
	strokes, err := m.charts.Strokes(c.Head, layerNames(c.Head))
	if err != nil {
		return nil, fmt.Errorf("sheet: %w", err)
	}
	return append(list, strokes...), nil
}

// shown is a candidate as pictures take it.
func shown(name string, c propose.Candidate) chart.Head {
	return chart.Head{Name: name, Head: c.Head, Report: c.Report}
}
