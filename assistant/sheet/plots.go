package sheet

import (
	"fmt"
	"math"

	"mallow/assistant/draw"
	"mallow/knowledge/strike"
	"mallow/rules/propose"
)

// plots draws what the candidate does beside its rivals. A plot without data
// is left out.
func (m *Maker) plots(c propose.Candidate, o Options) ([]draw.Plot, error) {
	var list []draw.Plot
	if len(c.Report.Reference) > 0 {
		if len(o.Pool) > 0 || len(o.Alternatives) > 0 {
			list = append(list, softnessByMass(c, o))
		}
		list = append(list, cutoffs(c, o))
	}
	strokes, err := m.strokes(c)
	return append(list, strokes...), err
}

// softnessByMass marks the chosen head and its alternatives among the rest.
func softnessByMass(c propose.Candidate, o Options) draw.Plot {
	// The pool has facts only.
	at := func(c propose.Candidate) (x, y float64) { return c.Facts.Head.MassG, c.Facts.Head.Softness }
	var rest draw.Line
	rest.Name, rest.Look = "other heads that can be built", draw.Small
	for _, p := range o.Pool {
		x, y := at(p)
		rest.X, rest.Y = append(rest.X, x), append(rest.Y, y)
	}
	p := draw.Plot{
		Title: "Softness against mass",
		Desc:  fmt.Sprintf("The chosen head among %d that can be built.", len(o.Pool)),
	}
	x, y := at(c)
	xs, ys := append([]float64{x}, rest.X...), append([]float64{y}, rest.Y...)
	marks := draw.Line{Name: "chosen, and alternatives", X: []float64{x}, Y: []float64{y}, Look: draw.Large}
	p.Notes = []draw.Label{{X: x, Y: y, Text: "chosen"}}
	for _, a := range o.Alternatives {
		x, y := at(a.Candidate)
		xs, ys = append(xs, x), append(ys, y)
		marks.X, marks.Y = append(marks.X, x), append(marks.Y, y)
		p.Notes = append(p.Notes, draw.Label{X: x, Y: y, Text: a.Kind})
	}
	if len(rest.X) > 0 {
		p.Lines = append(p.Lines, rest)
	}
	p.Lines = append(p.Lines, marks)
	p.X, p.Y = draw.NewAxis("mass of the head, g", xs...), draw.NewAxis("softness, notches (higher is softer)", ys...)
	return p
}

// cutoffs shows how heads open up from the softest stroke to the loudest.
func cutoffs(c propose.Candidate, o Options) draw.Plot {
	p := draw.Plot{
		Title: "Cut-off by dynamic",
		Desc:  "The higher the line, the brighter the stroke; the steeper, the more the head opens up.",
		X:     draw.Axis{Title: "dynamic", Min: -0.2},
	}
	for i, st := range c.Report.Reference {
		p.X.Ticks = append(p.X.Ticks, draw.Tick{At: float64(i), Text: st.Dynamic})
		p.X.Max = float64(i) + 0.2
	}
	var all []float64
	add := func(name string, look draw.Look, ref []strike.Stroke) {
		line := draw.Line{Name: name, Look: look}
		for i, st := range ref {
			line.X, line.Y = append(line.X, float64(i)), append(line.Y, math.Log2(st.CutoffHz))
			all = append(all, st.CutoffHz)
		}
		p.Lines = append(p.Lines, line)
	}
	add("chosen", draw.Bold, c.Report.Reference)
	for i, a := range o.Alternatives {
		add(a.Kind, draw.LineLook(i+1), a.Report.Reference)
	}
	p.Y = draw.OctaveAxis("cut-off of the force, Hz", all...)
	return p
}

// moments is how finely a stroke is drawn.
const moments = 80

// strokes plots the force over time at every dynamic, and the squeeze of each
// part at the softest and the loudest.
func (m *Maker) strokes(c propose.Candidate) ([]draw.Plot, error) {
	body, err := strike.FromHead(c.Head)
	if err != nil {
		return nil, fmt.Errorf("sheet: %w", err)
	}
	bar := strike.Reference()
	force := draw.Plot{
		Title: "Force on the bar over time",
		Desc:  "Each line is one stroke on the reference bar, from first touch to parting.",
	}
	var times, forces []float64
	var squeezes []draw.Plot
	for i, d := range m.cat.Dynamics {
		pulse, err := strike.Full(&body, &bar, d.SpeedMS.Value)
		if err != nil {
			return nil, fmt.Errorf("sheet: at %s: %w", d.ID, err)
		}
		line := draw.Line{Name: d.ID, Look: draw.LineLook(i)}
		for _, s := range pulse.Samples(moments) {
			line.X, line.Y = append(line.X, 1000*s.T), append(line.Y, s.F)
		}
		times, forces = append(times, line.X...), append(forces, line.Y...)
		force.Lines = append(force.Lines, line)
		if i == 0 || i == len(m.cat.Dynamics)-1 {
			squeezes = append(squeezes, squeeze(pulse, d.ID, layerNames(c.Head)))
		}
	}
	force.X, force.Y = draw.From0("time, ms", times...), draw.From0("force, N", forces...)
	return append([]draw.Plot{force}, squeezes...), nil
}

// squeeze stacks how far each part is pressed in: the core at the bottom, the
// yarn on top.
func squeeze(p *strike.Pulse, dynamic string, names []string) draw.Plot {
	samples := p.Samples(moments)
	plot := draw.Plot{
		Title: "What gives at " + dynamic,
		Desc:  "How far each part is squeezed during the stroke, one on top of the other; the top edge is all of it.",
	}
	var times, all []float64
	for _, s := range samples {
		times = append(times, 1000*s.T)
	}
	// Areas reach down to the axis, so the whole goes first and each later
	// one covers what is below its part.
	for part := min(len(names), len(p.Squeeze)) - 1; part >= 0; part-- {
		line := draw.Line{Name: names[part], X: times, Look: draw.AreaLook(part)}
		for _, s := range samples {
			sum := 0.0
			for _, d := range s.Squeeze[:part+1] {
				sum += 1000 * d
			}
			line.Y = append(line.Y, sum)
		}
		all = append(all, line.Y...)
		plot.Lines = append(plot.Lines, line)
	}
	plot.X, plot.Y = draw.From0("time, ms", times...), draw.From0("squeeze, mm", all...)
	return plot
}

// Ladder plots a graded set: softness, mass and diameter by its grades.
func Ladder(set []propose.Candidate) []draw.Plot {
	var x []float64
	var ticks []draw.Tick
	for i := range set {
		x = append(x, float64(i+1))
		ticks = append(ticks, draw.Tick{At: float64(i + 1), Text: fmt.Sprint(i + 1)})
	}
	axis := draw.Axis{Title: "head of the set", Min: 0.7, Max: float64(len(set)) + 0.3, Ticks: ticks}
	var list []draw.Plot
	for _, of := range []struct {
		title, unit string
		value       func(propose.Candidate) float64
	}{
		{"Softness", "softness, notches (higher is softer)", func(c propose.Candidate) float64 { return c.Report.Softness }},
		{"Mass", "mass of the head, g", func(c propose.Candidate) float64 { return c.Head.Mass.Grams() }},
		{"Diameter", "diameter over the yarn, mm", func(c propose.Candidate) float64 { return c.Head.Diameter.MM() }},
	} {
		var y []float64
		for _, c := range set {
			y = append(y, of.value(c))
		}
		list = append(list, draw.Plot{
			Title: of.title + " through the set",
			Desc:  "Even gaps make a straight line.",
			X:     axis, Y: draw.NewAxis(of.unit, y...),
			Lines: []draw.Line{{X: x, Y: y, Look: draw.Solid}, {X: x, Y: y, Look: draw.Large}},
		})
	}
	return list
}
