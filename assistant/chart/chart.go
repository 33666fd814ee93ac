// Package chart makes pictures of what heads do: plots for a page, and small
// ones out of characters for a terminal. It knows which figures to put into a
// picture and says them in its description.
//
// It computes no head and knows no file format: package draw draws.
package chart

import (
	"fmt"
	"math"
	"strings"

	"mallow/assistant/draw"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
)

// Head is a head with what it does and the name it has in a picture.
type Head struct {
	Name   string
	Head   head.Head
	Report strike.Report
}

// Maker makes pictures by one scale of softness and one set of dynamics.
type Maker struct {
	scale    knowledge.Scale
	dynamics []knowledge.Dynamic
}

// New returns a Maker for a catalogue.
func New(cat *knowledge.Catalogue) Maker { return Maker{cat.Scale, cat.Dynamics} }

// medium is the stretch of the scale that is called medium.
func (m Maker) medium() (from, to float64, ok bool) {
	for i, g := range m.scale.Grades {
		if g.ID == "medium" && i+1 < len(m.scale.Grades) {
			return g.From, m.scale.Grades[i+1].From, true
		}
	}
	return 0, 0, false
}

// notches is the softness that a stroke sounds with.
func (m Maker) notches(s strike.Stroke) float64 { return strike.Softness(s.CutoffHz, m.scale) }

// Opening shows how heads open up from the softest stroke to the loudest. A
// head alone is shown against one notch harder and one softer.
func (m Maker) Opening(heads []Head) draw.Plot {
	p := draw.Plot{Title: "Softness from " + m.ends(" to "), X: draw.Axis{Title: "dynamic", Min: -0.15}}
	for i, d := range m.dynamics {
		p.X.Ticks = append(p.X.Ticks, draw.Tick{At: float64(i), Text: d.ID})
		p.X.Max = float64(i) + 0.15
	}
	if from, to, ok := m.medium(); ok {
		p.Bands = []draw.Band{{From: from, To: to, Text: "medium"}}
	}
	var all []float64
	add := func(name string, look draw.Look, h Head, by float64) {
		line := draw.Line{Name: name, Look: look}
		for i, s := range h.Report.Reference {
			line.X, line.Y = append(line.X, float64(i)), append(line.Y, m.notches(s)+by)
		}
		all = append(all, line.Y...)
		p.Lines = append(p.Lines, line)
	}
	var said []string
	for i, h := range heads {
		if len(h.Report.Reference) == 0 {
			continue
		}
		look := draw.LineLook(i)
		if i == 0 {
			look = draw.Bold
		}
		add(h.Name, look, h, 0)
		soft, loud := h.Report.Reference[0], h.Report.Reference[len(h.Report.Reference)-1]
		said = append(said, fmt.Sprintf("%s goes from %+.1f at %s to %+.1f at %s", h.Name, m.notches(soft)+0, soft.Dynamic, m.notches(loud)+0, loud.Dynamic))
	}
	if len(heads) == 1 && len(said) == 1 {
		add("1 notch softer", draw.Dotted, heads[0], 1)
		add("1 notch harder", draw.Dashed, heads[0], -1)
	}
	p.Y = draw.NewAxis("softness, notches", all...)
	p.Desc = "In notches, higher is softer, 0 is medium at mf: " + strings.Join(said, "; ") + ". The steeper a line, the more the head opens up."
	return p
}

// ends are the softest and the loudest dynamic.
func (m Maker) ends(between string) string {
	if len(m.dynamics) == 0 {
		return ""
	}
	return m.dynamics[0].ID + between + m.dynamics[len(m.dynamics)-1].ID
}

// Mass, Size and Softness show heads as bars.
func (m Maker) Mass(heads []Head) draw.Bars {
	return bars("Mass of one head", "g", heads, func(h Head) (float64, string) {
		return h.Head.Mass.Grams(), fmt.Sprintf("%.1f ± %.1f g", h.Head.Mass.Grams(), h.Head.MassTol.Grams())
	})
}

// Size shows the diameters of heads.
func (m Maker) Size(heads []Head) draw.Bars {
	return bars("Diameter over everything", "mm", heads, func(h Head) (float64, string) {
		return h.Head.Diameter.MM(), fmt.Sprintf("%s, ± %.1f mm", h.Head.Diameter, h.Head.DiameterTol.MM())
	})
}

func bars(title, unit string, heads []Head, of func(Head) (float64, string)) draw.Bars {
	b := draw.Bars{Title: title}
	var said []string
	for _, h := range heads {
		v, text := of(h)
		b.Rows = append(b.Rows, draw.Bar{Name: h.Name, Value: v, Text: text})
		said = append(said, h.Name+" "+text)
	}
	b.Desc = strings.Join(said, "; ") + "."
	return b
}

// moments is how finely a stroke is drawn.
const moments = 80

// Strokes plots the force of a head over time at every dynamic, and the
// squeeze of each part at the softest and the loudest, both on one scale.
// names are the parts, inside out.
func (m Maker) Strokes(h head.Head, names []string) ([]draw.Plot, error) {
	body, err := strike.FromHead(h)
	if err != nil {
		return nil, err
	}
	bar := strike.Reference()
	force := draw.Plot{Title: "Force on the bar over time"}
	var said []string
	var times, forces []float64
	var squeezed []squeeze
	for i, d := range m.dynamics {
		pulse, err := strike.Full(&body, &bar, d.SpeedMS.Value)
		if err != nil {
			return nil, fmt.Errorf("at %s: %w", d.ID, err)
		}
		line := draw.Line{Name: d.ID, Look: draw.LineLook(i)}
		peak, at := 0.0, 0
		for k, s := range pulse.Samples(moments) {
			line.X, line.Y = append(line.X, 1000*s.T), append(line.Y, s.F)
			if s.F > peak {
				peak, at = s.F, k
			}
		}
		times, forces = append(times, line.X...), append(forces, line.Y...)
		force.Lines = append(force.Lines, line)
		// Every stroke ends at no force, so its name goes to its peak.
		force.Notes = append(force.Notes, draw.Label{X: line.X[at], Y: peak, Text: d.ID})
		force.Lines[i].Name = ""
		said = append(said, fmt.Sprintf("%s peaks at %.0f N and lasts %.1f ms", d.ID, peak, line.X[len(line.X)-1]))
		if i == 0 || i == len(m.dynamics)-1 {
			squeezed = append(squeezed, newSqueeze(pulse, d.ID, names))
		}
	}
	force.Desc = "One stroke at each dynamic on the reference bar, from first touch to parting: " + strings.Join(said, "; ") + "."
	force.X, force.Y = draw.From0("time, ms", times...), draw.From0("force, N", forces...)
	list := []draw.Plot{force}
	most := 0.0
	for _, q := range squeezed {
		most = max(most, q.most)
	}
	for _, q := range squeezed {
		q.plot.X, q.plot.Y = draw.From0("time, ms", times...), draw.From0("squeeze, mm", most)
		list = append(list, q.plot)
	}
	return list, nil
}

// squeeze is how far each part is pressed in, the core at the bottom.
type squeeze struct {
	plot draw.Plot
	most float64 // mm, all parts together
}

func newSqueeze(p *strike.Pulse, dynamic string, names []string) squeeze {
	samples := p.Samples(moments)
	q := squeeze{plot: draw.Plot{Title: "What gives at " + dynamic}}
	var times []float64
	for _, s := range samples {
		times = append(times, 1000*s.T)
	}
	n := min(len(names), len(p.Squeeze))
	most := make([]float64, n)
	// Areas reach down to the axis, so the whole goes first and each later
	// one covers what is below its part.
	for part := n - 1; part >= 0; part-- {
		line := draw.Line{Name: names[part], X: times, Look: draw.AreaLook(part)}
		for _, s := range samples {
			sum := 0.0
			for _, d := range s.Squeeze[:part+1] {
				sum += 1000 * d
			}
			most[part] = max(most[part], 1000*s.Squeeze[part])
			line.Y = append(line.Y, sum)
			q.most = max(q.most, sum)
		}
		q.plot.Lines = append(q.plot.Lines, line)
	}
	var said []string
	for i, name := range names[:n] {
		said = append(said, fmt.Sprintf("%s by up to %.2f mm", name, most[i]))
	}
	q.plot.Desc = "How far each part is squeezed during the stroke, one on top of the other: " + strings.Join(said, ", ") + "; " +
		fmt.Sprintf("all together %.2f mm.", q.most)
	return q
}

// Field marks a head and its rivals among all that can be built: softness
// against mass. A head of the pool far off the others stands at the edge.
func (m Maker) Field(chosen Head, rivals []Head, pool [][2]float64) draw.Plot {
	at := func(h Head) (float64, float64) { return h.Head.Mass.Grams(), h.Report.Softness }
	x, y := at(chosen)
	p := draw.Plot{Title: "Softness against mass"}
	marks := draw.Line{Name: "chosen, and other choices", X: []float64{x}, Y: []float64{y}, Look: draw.Large}
	p.Notes = []draw.Label{{X: x, Y: y, Text: "chosen"}}
	said := []string{fmt.Sprintf("the chosen head has %.1f g and %+.1f notches", x, y+0)}
	for _, r := range rivals {
		x, y := at(r)
		marks.X, marks.Y = append(marks.X, x), append(marks.Y, y)
		p.Notes = append(p.Notes, draw.Label{X: x, Y: y, Text: r.Name})
		said = append(said, fmt.Sprintf("%s %.1f g and %+.1f", r.Name, x, y+0))
	}
	rest := draw.Line{Name: "others that can be built", Look: draw.Small}
	for _, q := range pool {
		rest.X, rest.Y = append(rest.X, q[0]), append(rest.Y, q[1])
	}
	p.X = draw.NewAxis("mass of the head, g", append(middle(rest.X), marks.X...)...)
	p.Y = draw.NewAxis("softness, notches", append(middle(rest.Y), marks.Y...)...)
	far := 0
	for i := range rest.X {
		if rest.X[i] < p.X.Min || rest.X[i] > p.X.Max || rest.Y[i] < p.Y.Min || rest.Y[i] > p.Y.Max {
			far++
		}
	}
	if len(rest.X) > 0 {
		p.Lines = append(p.Lines, rest)
		said = append(said, fmt.Sprintf("%d others that can be built", len(pool)))
	}
	if far > 0 {
		said = append(said, fmt.Sprintf("%d of them lie past the edge they are drawn at", far))
	}
	p.Lines = append(p.Lines, marks)
	p.Desc = "Higher is softer: " + strings.Join(said, "; ") + "."
	return p
}

// middle leaves out what is far off: values more than three times the middle
// half's width outside of it.
func middle(v []float64) []float64 {
	if len(v) < 4 {
		return v
	}
	low, high := quartiles(v)
	reach := 3 * max(high-low, 1e-9)
	var out []float64
	for _, x := range v {
		if x >= low-reach && x <= high+reach {
			out = append(out, x)
		}
	}
	return out
}

// Ladder plots a graded set, head by head: softness, mass and diameter.
func (m Maker) Ladder(set []Head) []draw.Plot {
	var x []float64
	var ticks []draw.Tick
	for i := range set {
		x = append(x, float64(i+1))
		ticks = append(ticks, draw.Tick{At: float64(i + 1), Text: fmt.Sprint(i + 1)})
	}
	axis := draw.Axis{Title: "head of the set", Min: 0.7, Max: float64(len(set)) + 0.3, Ticks: ticks}
	var list []draw.Plot
	for _, of := range []struct {
		title, axis, unit string
		value             func(Head) float64
	}{
		{"Softness", "softness, notches", "notches", func(h Head) float64 { return h.Report.Softness }},
		{"Mass", "mass of the head, g", "g", func(h Head) float64 { return h.Head.Mass.Grams() }},
		{"Diameter", "diameter, mm", "mm", func(h Head) float64 { return h.Head.Diameter.MM() }},
	} {
		var y []float64
		for _, h := range set {
			y = append(y, of.value(h))
		}
		list = append(list, draw.Plot{
			Title: of.title + " through the set", Desc: gaps(y, of.unit),
			X: axis, Y: draw.NewAxis(of.axis, y...),
			Lines: []draw.Line{{X: x, Y: y, Look: draw.Solid}, {X: x, Y: y, Look: draw.Large}},
		})
	}
	return list
}

// gaps says the values of a set and how even the gaps between them are.
func gaps(v []float64, unit string) string {
	var at []string
	low, high := math.Inf(1), math.Inf(-1)
	for i, x := range v {
		at = append(at, fmt.Sprintf("%.1f", x+0))
		if i > 0 {
			low, high = min(low, x-v[i-1]), max(high, x-v[i-1])
		}
	}
	text := fmt.Sprintf("From the first head to the last: %s %s.", strings.Join(at, ", "), unit)
	if len(v) > 1 {
		text += fmt.Sprintf(" From one to the next it is %+.1f to %+.1f %s.", low+0, high+0, unit)
	}
	return text
}
