package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/stock"
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
	PairG       float64 `expr:"pair_g" unit:"g" doc:"difference in mass to expect between two heads built alike, parts not matched"`
	PairedG     float64 `expr:"paired_g" unit:"g" doc:"the same with the parts weighed and the nearest paired"`
	WeighFirst  string  `expr:"weigh_first" doc:"the part whose mass varies most"`
	BareG       float64 `expr:"bare_g" unit:"g" doc:"mass before the yarn"`
	BareTolG    float64 `expr:"bare_tol_g" unit:"g" doc:"half-width of its spread"`
	BareMM      float64 `expr:"bare_mm" unit:"mm" doc:"diameter before the yarn"`
	MalletG     float64 `expr:"mallet_g" unit:"g" doc:"mass with the shaft; the head's own without one"`
	FitOverMM   float64 `expr:"fit_over_mm" unit:"mm" doc:"how much thicker than its bore a shaft that no glue holds is to be"`
	Fastener    string  `expr:"fastener" doc:"what holds the shaft besides, a pin; empty for nothing"`
	FastenerMM  float64 `expr:"fastener_mm" unit:"mm" doc:"how wide that is, and the hole for it"`
	PullN       float64 `expr:"pull_n" unit:"N" doc:"pull that the shaft is tried with: what the hardest stroke pulls, times a margin"`
	PullKg      float64 `expr:"pull_kg" unit:"kg" doc:"what to hang from it for that, rounded up to half a kilogram"`
	SwingN      float64 `expr:"swing_n" unit:"N" doc:"what the hardest stroke pulls"`
	PullMargin  float64 `expr:"pull_margin" doc:"the margin"`
	SqueezeMM   float64 `expr:"squeeze_mm" unit:"mm" doc:"how much narrower the squeeze test makes the head; 0 where a scale reads none"`
	SqueezeKg   float64 `expr:"squeeze_kg" unit:"kg" doc:"what a kitchen scale shows then"`
	SqueezeTol  float64 `expr:"squeeze_tol_kg" unit:"kg" doc:"half-width of its spread"`
	BalanceMM   float64 `expr:"balance_mm" unit:"mm" doc:"balance point from the butt; 0 without a shaft"`
}

// stepText is a step whose texts have been checked.
type stepText struct {
	knowledge.Step
	title, text, check, ifOff, undo, more *rules.Template[Words]
	wait, work, skill                     *rules.Quantity[Words] // nil for none
	reads                                 map[string]bool        // fact paths
}

// compile checks every text of every step. The error names the file and line
// of each step that is wrong.
func compile(steps []knowledge.Step) ([]stepText, error) {
	templates, err := rules.NewTemplates[Words](facts.Verbs(), words.Hint)
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
			{"if_off", s.IfOff, &t.ifOff}, {"undo", s.Undo, &t.undo}, {"more", s.More, &t.more},
		} {
			if *f.to, err = templates.New(f.text); err != nil {
				return nil, fail(f.name, err)
			}
			for _, path := range (*f.to).Reads() {
				t.reads[path] = true
			}
		}
		for _, f := range []struct {
			name, text string
			to         **rules.Quantity[Words]
		}{{"wait_min", s.WaitMin, &t.wait}, {"work_min", s.WorkMin, &t.work}, {"skill", s.Skill, &t.skill}} {
			if f.text == "" {
				continue
			}
			if *f.to, err = templates.Number(f.text); err != nil {
				return nil, fail(f.name, err)
			}
		}
		list[i] = t
	}
	slices.SortStableFunc(list, func(a, b stepText) int { return cmp.Compare(a.Order, b.Order) })
	return list, nil
}

// plan is a build in the making: its steps, and what they use in the order of
// first use.
type plan struct {
	*Maker
	candidate propose.Candidate
	order     *stock.Order // nil when nothing is bought
	pair      propose.Matching
	steps     []Step
	tools     []Tool
	glues     []*knowledge.Adhesive
	first     map[string]int // step that a caution first stands at, by id
}

// OfSeveral reports whether a step holds heads against each other, and is none
// of a build of one.
func OfSeveral(id string) bool { return id == "match-pair" || id == "trim-turns" }

// plan returns the build of so many heads that the rules gave the candidate.
func (m *Maker) plan(c propose.Candidate, order *stock.Order, heads int) (*plan, error) {
	p := &plan{Maker: m, candidate: c, order: order, pair: c.Matching(), first: map[string]int{}}
	for _, t := range inOrder(m.steps, len(c.Layers)) {
		if given(c.Trace, t.step.ID, t.layer) && !(heads == 1 && OfSeveral(t.step.ID)) {
			if err := p.add(t.step, t.layer); err != nil {
				return nil, err
			}
		}
	}
	if c.Pass.Alone() {
		p.beforehand()
	}
	p.addLoose()
	refer(p.steps)
	return p, nil
}

// refer has steps that say the same of another layer refer to the first.
func refer(steps []Step) {
	for i := range steps {
		s := &steps[i]
		s.As = 0
		for _, x := range steps[:i] {
			if x.ID == s.ID && x.As == 0 && x.Text == s.Text && x.IfOff == s.IfOff && x.Undo == s.Undo && x.Only == s.Only {
				s.As = x.Number
			}
		}
	}
}

// Steps returns the steps that the rules gave a candidate, for two heads or more.
func (m *Maker) Steps(c propose.Candidate) ([]Step, error) {
	p, err := m.plan(c, nil, 2)
	if err != nil {
		return nil, err
	}
	return p.steps, nil
}

// Job returns the steps of a job on a head that is already there. Of steps
// that are a build's too, it has those that the rules gave the head.
func (m *Maker) Job(c propose.Candidate, job knowledge.Job) ([]Step, error) {
	p := &plan{Maker: m, candidate: c, pair: c.Matching(), first: map[string]int{}}
	for _, id := range job.Steps {
		i := slices.IndexFunc(m.steps, func(t stepText) bool { return t.ID == id })
		if i < 0 || !m.steps[i].Step.Job && !given(c.Trace, id, 0) {
			continue
		}
		if err := p.add(&m.steps[i], 0); err != nil {
			return nil, err
		}
	}
	return p.steps, nil
}

// adultFirst stands before the steps that an adult does for somebody under age
// who works alone, yoursNow after them.
const (
	adultFirst = "Before you begin: an adult who knows these tools does the first steps for you, on another day if need be, and hands you what comes of them. " +
		"Don't do them yourself. If nobody can, stop here and ask at school, at a workshop or in the shop that sells the parts who will."
	yoursNow = "From here on the steps are yours."
)

// beforehand puts what is not for somebody under age who is alone first: an
// adult does it before they begin.
func (p *plan) beforehand() {
	apart := func(s Step) bool {
		text, _ := p.cat.Step(s.ID)
		return text.Apart || slices.ContainsFunc(s.Cautions, func(c Caution) bool {
			x, _ := p.cat.Caution(c.ID)
			return x.Apart
		})
	}
	var first, rest []Step
	for _, s := range p.steps {
		if s.ByAdult = apart(s); s.ByAdult {
			first = append(first, s)
		} else {
			rest = append(rest, s)
		}
	}
	if len(first) > 0 {
		first[0].Before = adultFirst
		if len(rest) > 0 {
			rest[0].Before = yoursNow
		}
	}
	p.steps, p.first = append(first, rest...), map[string]int{}
	for i := range p.steps {
		s := &p.steps[i]
		s.Number = i + 1
		for k := range s.Cautions {
			x, _ := p.cat.Caution(s.Cautions[k].ID)
			s.Cautions[k] = p.caution(x, s.Number)
		}
	}
}

// turn is a step and the layer that it is about, 0 for the whole head.
type turn struct {
	step  *stepText
	layer int
}

// inOrder lists steps as they are done: those of a layer that stand together
// are gone through for one layer before the next.
func inOrder(steps []stepText, layers int) []turn {
	var list []turn
	for i := 0; i < len(steps); {
		end := i
		for end < len(steps) && steps[end].Each == "layer" {
			end++
		}
		if end == i {
			list = append(list, turn{step: &steps[i]})
			i++
			continue
		}
		for layer := 1; layer <= layers; layer++ {
			for j := i; j < end; j++ {
				list = append(list, turn{&steps[j], layer})
			}
		}
		i = end
	}
	return list
}

// add fills the texts of a step and appends it.
func (p *plan) add(t *stepText, layer int) error {
	w := p.words(layer)
	if t.reads["build.squeeze_kg"] && w.Build.SqueezeKg == 0 {
		return nil // too hard for a kitchen scale
	}
	s := Step{Number: len(p.steps) + 1, ID: t.ID, Layer: layer, Title: t.title.Fill(w), Text: t.text.Fill(w),
		Check: t.check.Fill(w), IfOff: t.ifOff.Fill(w), Undo: t.undo.Fill(w), More: t.more.Fill(w), Optional: t.Optional}
	const gap = "…"
	s.general = texts{t.title.Blank(w, gap), t.text.Blank(w, gap), t.check.Blank(w, gap), t.ifOff.Blank(w, gap), t.undo.Blank(w, gap)}
	if t.Origin.Own {
		s.Own = t.Origin.String()
	}
	for _, f := range []struct {
		from *rules.Quantity[Words]
		to   *float64
	}{{t.wait, &s.WaitMin}, {t.work, &s.WorkMin}, {t.skill, &s.Skill}} {
		if f.from != nil {
			*f.to, _ = f.from.Of(w)
		}
	}
	s.Once = t.Once
	ids := slices.Clone(t.Cautions)
	if t.reads["build.glue"] {
		ids = append(ids, p.useGlue(p.adhesive(layer))...)
	}
	if t.reads["build.shaft_glue"] {
		ids = append(ids, p.useGlue(p.shaftGlue())...)
	}
	for _, id := range t.Tools {
		tool, _ := p.cat.Tool(id) // the catalogue's references hold
		i := slices.IndexFunc(p.tools, func(x Tool) bool { return x.Name == tool.Name })
		if i < 0 {
			p.tools = append(p.tools, Tool{tool.Name, tool.For, tool.Or, true})
			i = len(p.tools) - 1
		}
		p.tools[i].Optional = p.tools[i].Optional && t.Optional
		s.Tools = append(s.Tools, short(tool.Name))
	}
	for _, id := range ids {
		x, _ := p.cat.Caution(id)
		if slices.ContainsFunc(s.Cautions, func(c Caution) bool { return c.ID == id }) {
			continue
		}
		if x.Adult && p.candidate.Facts.Player.Minor {
			return fmt.Errorf("step %s is not for a minor: %s", t.ID, x.Hazard)
		}
		// What only an adult may do is dangerous whatever the rules say.
		if x.Adult || applies(p.candidate.Trace, id, layer) {
			s.Cautions = append(s.Cautions, p.caution(x, s.Number))
		}
	}
	p.steps = append(p.steps, s)
	return nil
}

// useGlue notes that a step takes a glue, and returns the glue's own cautions.
func (p *plan) useGlue(g *knowledge.Adhesive) []string {
	if g == nil {
		return nil
	}
	if !slices.Contains(p.glues, g) {
		p.glues = append(p.glues, g)
	}
	return g.Hazards
}

// caution returns x as it stands at a step.
func (p *plan) caution(x knowledge.Caution, step int) Caution {
	if p.first[x.ID] == 0 {
		p.first[x.ID] = step
	}
	return Caution{ID: x.ID, Name: cmp.Or(x.Name, strings.ReplaceAll(x.ID, "-", " ")), Hazard: x.Hazard, Do: x.Do, Defer: x.Defer, First: p.first[x.ID]}
}

// addLoose puts cautions that rules gave but no step carries at the first
// step.
func (p *plan) addLoose() {
	if len(p.steps) == 0 {
		return
	}
	for _, f := range p.candidate.Trace {
		if f.State != rules.Fired || f.Rule.Do != rules.Caution || p.first[f.Rule.Give] != 0 {
			continue
		}
		if x, ok := p.cat.Caution(f.Rule.Give); ok {
			p.steps[0].Cautions = append(p.steps[0].Cautions, p.caution(x, 1))
		}
	}
}

// short is a tool's name up to its first comma or colon.
func short(name string) string {
	if i := strings.IndexAny(name, ",:"); i > 0 {
		return name[:i]
	}
	return name
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

// fastest is the speed of the hardest stroke, at the upper end of what is
// played, in m/s.
func (p *plan) fastest() float64 {
	v := 0.0
	for _, d := range p.cat.Dynamics {
		v = max(v, d.SpeedMS.Value+d.SpeedMS.Tol)
	}
	return v
}

// words gathers what the texts of a step may read.
func (p *plan) words(layer int) Words {
	c, lim := p.candidate, p.cat.Limits
	h, f := c.Head, c.Facts
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
	if glue := p.adhesive(layer); glue != nil {
		b.Glue, b.GlueOpenMin, b.CureHours = glue.Name, glue.OpenMin.Value, glue.CureHour.Value
	}
	if glue := p.shaftGlue(); glue != nil {
		b.ShaftGlue, b.ShaftHours = glue.Name, glue.CureHour.Value
	}
	b.YarnM = float64(h.YarnLength)
	if h.Turns > 0 {
		b.TurnG = h.YarnMass.Grams() / float64(h.Turns)
	}
	b.DiameterTol = h.DiameterTol.MM()
	b.PairG, b.PairedG = p.pair.MassG, p.pair.PairedG
	if len(p.pair.Weigh) > 0 {
		b.WeighFirst = p.pair.Weigh[0].Part
	}
	b.BareG, b.BareTolG, b.BareMM = h.BareMass.Grams(), h.BareMassTol.Grams(), h.Bare.MM()
	b.MalletG, b.BalanceMM = h.Mass.Grams(), h.Swing.Balance.MM()
	if h.Swing.Mass > 0 {
		b.MalletG = h.Swing.Mass.Grams()
	}
	b.PullMargin = lim.PullMargin.Value
	if end, ok := p.cat.ShaftEnd(c.Facts.Head.End); ok {
		b.FitOverMM = end.Thicker.Value
		for _, id := range end.Fasteners {
			if x, ok := p.cat.Fastener(id); ok {
				b.Fastener, b.FastenerMM = x.Name, x.Diameter.MM()
			}
		}
	}
	b.PullN = h.PullN(p.fastest(), &lim)
	b.SwingN, b.PullKg = b.PullN/lim.PullMargin.Value, math.Ceil(b.PullN/measure.Gravity*2)/2
	q := c.Report.Squeeze
	b.SqueezeMM, b.SqueezeKg, b.SqueezeTol = 1000*q.NarrowerM, q.ForceN/measure.Gravity, q.TolN/measure.Gravity
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
