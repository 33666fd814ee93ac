package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/near"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Words are what step texts may read: the facts that rules read, and Build.
type Words struct {
	Player     facts.Player     `expr:"player"`
	Want       facts.Want       `expr:"want"`
	Instrument facts.Instrument `expr:"instrument"`
	Bench      facts.Bench      `expr:"bench"`
	Head       facts.Head       `expr:"head"`
	Layer      facts.Layer      `expr:"layer"`
	Build      Build            `expr:"build"`
}

// Build is what only a sheet needs to know. Facts of a layer are those of the
// layer that the step is about.
type Build struct {
	CoreG       float64 `expr:"core_g" unit:"g" doc:"mass of the bored core"`
	CoreTolG    float64 `expr:"core_tol_g" unit:"g" doc:"half-width of its spread"`
	BoreMM      float64 `expr:"bore_mm" unit:"mm" doc:"bore for the shaft"`
	BoreDepthMM float64 `expr:"bore_depth_mm" unit:"mm" doc:"how deep to bore"`
	CutTolMM    float64 `expr:"cut_tol_mm" unit:"mm" doc:"how far off a cut may be"`
	LayerTolG   float64 `expr:"layer_tol_g" unit:"g" doc:"half-width of the spread of the slice's mass"`
	OuterTolMM  float64 `expr:"outer_tol_mm" unit:"mm" doc:"half-width of the spread of the diameter over the layer"`
	SoFarG      float64 `expr:"so_far_g" unit:"g" doc:"mass once the layer is on"`
	SoFarTolG   float64 `expr:"so_far_tol_g" unit:"g" doc:"half-width of its spread"`
	Glue        string  `expr:"glue" doc:"what the slice is glued with"`
	GlueOpenMin float64 `expr:"glue_open_min" unit:"min" doc:"wait before closing the joint"`
	CureHours   float64 `expr:"cure_hours" unit:"h" doc:"time for that glue to set"`
	ShaftGlue   string  `expr:"shaft_glue" doc:"what the shaft is glued with"`
	ShaftHours  float64 `expr:"shaft_cure_hours" unit:"h" doc:"time for that glue to set"`
	YarnM       float64 `expr:"yarn_m" unit:"m" doc:"yarn to wind"`
	TurnG       float64 `expr:"turn_g" unit:"g" doc:"mass of one turn of yarn"`
	DiameterTol float64 `expr:"diameter_tol_mm" unit:"mm" doc:"half-width of the spread of the finished diameter"`
	MalletG     float64 `expr:"mallet_g" unit:"g" doc:"mass with the shaft; the head's own without one"`
	BalanceMM   float64 `expr:"balance_mm" unit:"mm" doc:"balance point from the butt; 0 without a shaft"`
}

// stepText is a step whose texts have been checked.
type stepText struct {
	knowledge.Step
	title, text, check, ifOff, undo *rules.Template[Words]
	wait                            *rules.Quantity[Words] // nil for none
	reads                           map[string]bool        // fact paths
}

// compile checks every text of every step. The error names the file and line
// of each step that is wrong.
func compile(steps []knowledge.Step) ([]stepText, error) {
	templates, err := rules.NewTemplates[Words](facts.Verbs(), near.Hint)
	if err != nil {
		return nil, fmt.Errorf("step texts: %w", err)
	}
	list := make([]stepText, len(steps))
	for i, s := range steps {
		t := stepText{Step: s, reads: map[string]bool{}}
		fail := func(field string, err error) error {
			return fmt.Errorf("%s:%d: step %s: %s: %w", s.Origin.File, s.Origin.Line, s.ID, field, err)
		}
		for _, f := range []struct {
			name, text string
			to         **rules.Template[Words]
		}{
			{"title", s.Title, &t.title}, {"text", s.Text, &t.text}, {"check", s.Check, &t.check},
			{"if_off", s.IfOff, &t.ifOff}, {"undo", s.Undo, &t.undo},
		} {
			if *f.to, err = templates.New(f.text); err != nil {
				return nil, fail(f.name, err)
			}
			for _, path := range (*f.to).Reads() {
				t.reads[path] = true
			}
		}
		if s.WaitMin != "" {
			if t.wait, err = templates.Number(s.WaitMin); err != nil {
				return nil, fail("wait_min", err)
			}
		}
		list[i] = t
	}
	slices.SortStableFunc(list, func(a, b stepText) int { return cmp.Compare(a.Order, b.Order) })
	return list, nil
}

// plan is a build: its steps, and what they use in the order of first use.
type plan struct {
	steps []Step
	tools []Tool
	glues []*knowledge.Adhesive
}

func (p *plan) glue(g *knowledge.Adhesive) {
	if g != nil && !slices.Contains(p.glues, g) {
		p.glues = append(p.glues, g)
	}
}

func (p *plan) tool(t knowledge.Tool) {
	if x := (Tool{t.Name, t.For}); !slices.Contains(p.tools, x) {
		p.tools = append(p.tools, x)
	}
}

// build returns the plan that the rules gave the candidate.
func (m *Maker) build(c propose.Candidate, order *propose.Order) (plan, error) {
	var p plan
	add := func(t stepText, layer int) error {
		w := m.words(c, order, layer)
		s := Step{Number: len(p.steps) + 1, ID: t.ID, Layer: layer, Title: t.title.Fill(w), Text: t.text.Fill(w),
			Check: t.check.Fill(w), IfOff: t.ifOff.Fill(w), Undo: t.undo.Fill(w)}
		if t.wait != nil {
			s.WaitMin, _ = t.wait.Of(w)
		}
		if t.reads["build.glue"] {
			p.glue(m.adhesive(c, order, layer))
		}
		if t.reads["build.shaft_glue"] {
			p.glue(m.shaftGlue(c, order))
		}
		for _, id := range t.Tools {
			tool, _ := m.cat.Tool(id) // the catalogue's references hold
			p.tool(tool)
			s.Tools = append(s.Tools, short(tool.Name))
		}
		for _, id := range t.Cautions {
			caution, _ := m.cat.Caution(id)
			if !caution.Adult && !applies(c.Trace, id, layer) {
				continue
			}
			if caution.Adult && c.Facts.Player.Minor {
				return fmt.Errorf("step %s is not for a minor: %s", t.ID, caution.Hazard)
			}
			s.Cautions = append(s.Cautions, Caution{ID: id, Hazard: caution.Hazard, Do: caution.Do, Defer: caution.Defer, First: s.Number})
		}
		p.steps = append(p.steps, s)
		return nil
	}
	for i := 0; i < len(m.steps); {
		t := m.steps[i]
		if t.Each != "layer" {
			i++
			if given(c.Trace, t.ID, 0) {
				if err := add(t, 0); err != nil {
					return plan{}, err
				}
			}
			continue
		}
		end := i
		for end < len(m.steps) && m.steps[end].Each == "layer" {
			end++
		}
		for layer := 1; layer <= len(c.Layers); layer++ {
			for _, t := range m.steps[i:end] {
				if given(c.Trace, t.ID, layer) {
					if err := add(t, layer); err != nil {
						return plan{}, err
					}
				}
			}
		}
		i = end
	}
	m.addLoose(c, p.steps)
	first := map[string]int{}
	for _, s := range p.steps {
		for j := range s.Cautions {
			x := &s.Cautions[j]
			if first[x.ID] == 0 {
				first[x.ID] = x.First
			}
			x.First = first[x.ID]
		}
	}
	return p, nil
}

// short is a tool's name up to its first comma or colon.
func short(name string) string {
	if i := strings.IndexAny(name, ",:"); i > 0 {
		return name[:i]
	}
	return name
}

// addLoose puts cautions that rules gave but no step carries at the first
// step.
func (m *Maker) addLoose(c propose.Candidate, steps []Step) {
	if len(steps) == 0 {
		return
	}
	for _, f := range c.Trace {
		if f.State != rules.Fired || f.Rule.Do != rules.Caution {
			continue
		}
		has := func(s Step) bool {
			return slices.ContainsFunc(s.Cautions, func(x Caution) bool { return x.ID == f.Rule.Give })
		}
		if x, ok := m.cat.Caution(f.Rule.Give); ok && !slices.ContainsFunc(steps, has) {
			steps[0].Cautions = append(steps[0].Cautions, Caution{ID: x.ID, Hazard: x.Hazard, Do: x.Do, Defer: x.Defer, First: 1})
		}
	}
}

// given reports whether a rule gave step id, for a layer or for every one.
func given(trace []rules.Firing, id string, layer int) bool {
	return slices.ContainsFunc(trace, func(f rules.Firing) bool {
		return f.State == rules.Fired && f.Rule.Do == rules.Step && f.Rule.Give == id && about(f, layer)
	})
}

// applies reports whether caution id holds at a step that carries it. One
// that no rule speaks of always does; else one of its rules must have fired
// or not been able to tell.
func applies(trace []rules.Firing, id string, layer int) bool {
	ruled := false
	for _, f := range trace {
		if f.Rule.Do != rules.Caution || f.Rule.Give != id {
			continue
		}
		if f.State != rules.Quiet && about(f, layer) {
			return true
		}
		ruled = true
	}
	return !ruled
}

// about reports whether a firing is about the layer, or the whole head, or a
// step of the whole head is asked about.
func about(f rules.Firing, layer int) bool {
	return f.About == "" || layer == 0 || f.About == fmt.Sprintf("layer %d", layer)
}

// words gathers what the texts of a step may read.
func (m *Maker) words(c propose.Candidate, order *propose.Order, layer int) Words {
	h, f, lim := c.Head, c.Facts, m.cat.Limits
	w := Words{Player: f.Player, Want: f.Want, Instrument: f.Instrument, Bench: f.Bench, Head: f.Head, Layer: f.Layer}
	b := &w.Build
	b.CoreG, b.CoreTolG = h.CoreMass.Grams(), h.CoreMassTol.Grams()
	bore := h.Stack.Core.Bore
	if sh := h.Stack.Shaft; sh != nil {
		bore = max(bore, sh.Diameter)
	}
	b.BoreMM = bore.MM()
	b.BoreDepthMM = h.Stack.Core.Diameter.MM() * min(max(lim.BoreDepth.Value, 0), 1)
	b.CutTolMM = measure.Length(lim.CutToleranceM.Value).MM()
	if glue := m.adhesive(c, order, layer); glue != nil {
		b.Glue, b.GlueOpenMin, b.CureHours = glue.Name, glue.OpenMin.Value, glue.CureHour.Value
	}
	if glue := m.shaftGlue(c, order); glue != nil {
		b.ShaftGlue, b.ShaftHours = glue.Name, glue.CureHour.Value
	}
	b.YarnM = float64(h.YarnLength)
	if h.Turns > 0 {
		b.TurnG = h.YarnMass.Grams() / float64(h.Turns)
	}
	b.DiameterTol = h.DiameterTol.MM()
	b.MalletG, b.BalanceMM = h.Mass.Grams(), h.Swing.Balance.MM()
	if h.Swing.Mass > 0 {
		b.MalletG = h.Swing.Mass.Grams()
	}
	if layer > 0 {
		w.Layer = c.Layers[layer-1]
		l := h.Layers[layer-1]
		b.LayerTolG, b.OuterTolMM = l.MassTol.Grams(), l.OuterTol.MM()
		mass, square := h.CoreMass, h.CoreMassTol*h.CoreMassTol
		for _, l := range h.Layers[:layer] {
			mass, square = mass+l.Mass, square+l.MassTol*l.MassTol
		}
		b.SoFarG, b.SoFarTolG = mass.Grams(), sqrt(square).Grams()
	}
	return w
}
