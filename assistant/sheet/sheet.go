// Package sheet makes the build sheet of a head: what to buy and cut, the
// steps with this head's own numbers, how it will sound, and what can hurt.
//
// The rules have decided which head and which steps; the catalogue has the
// words. Package sheet puts them together as a value, a Sheet, and renders
// that as text, Markdown, JSON and HTML. It chooses nothing.
package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"mallow/assistant/chart"
	"mallow/assistant/draw"
	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Sheet is all that a maker needs on paper to build one head some number of
// times.
type Sheet struct {
	Title string `json:"title"`
	For   string `json:"for,omitempty"` // whom it was made for
	reply.Assumptions
	reply.Made
	Heads   int           `json:"heads"` // to be built
	Effort  Effort        `json:"effort"`
	Summary []Item        `json:"-"`
	Layers  []reply.Layer `json:"layers"` // inside out, as in the head
	Parts   []Part        `json:"parts"`
	Cuts    []Cut         `json:"cuts"`
	Buy     *Buy          `json:"buy,omitempty"`
	Tools   []Tool        `json:"tools"`
	Steps   []Step        `json:"steps"`
	Sound   Sound         `json:"sound"`
	Safety  Safety        `json:"safety"`
	Trust   []string      `json:"trust"` // how far to believe the numbers

	section draw.Section
	trials  draw.Trials
	plots   []draw.Plot
}

// Item is a named value in people's units.
type Item struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// Part is a part of one head.
type Part struct {
	ID     string  `json:"id"`
	Name   string  `json:"name"`
	Amount string  `json:"-"` // for one head, in words
	CutMM  float64 `json:"cut_mm,omitempty"`
	Turns  int     `json:"turns,omitempty"`
	YarnM  float64 `json:"length_m,omitempty"`
	Own    string  `json:"own,omitempty"` // where the maker's own knowledge has it; empty for a shipped part
}

// Cut is a length to cut for one head.
type Cut struct {
	Part  string  `json:"part"`
	What  string  `json:"what"`
	CutMM float64 `json:"cut_mm"`
	TolMM float64 `json:"tol_mm"`
	Count int     `json:"count"` // for all heads, spares included
	Spare int     `json:"spare"` // of them
}

// Tool is something to have on the bench.
type Tool struct {
	Name     string `json:"name"`
	For      string `json:"for"`
	Or       string `json:"or,omitempty"` // how to get it, or what to take instead
	Optional bool   `json:"optional,omitempty"`
}

// Step is one numbered step.
type Step struct {
	Number   int       `json:"number"`
	ID       string    `json:"id"`
	Layer    int       `json:"layer,omitempty"` // 1 is on the core; 0 when about the whole head
	Title    string    `json:"title"`
	Text     string    `json:"text"`
	Check    string    `json:"check,omitempty"`
	IfOff    string    `json:"if_off,omitempty"`
	Undo     string    `json:"undo,omitempty"`
	More     string    `json:"more,omitempty"` // why, and what else there is to know; not printed
	Optional bool      `json:"optional,omitempty"`
	WaitMin  float64   `json:"wait_min,omitempty"`
	WorkMin  float64   `json:"work_min,omitempty"` // for one head, or for all of them if Once
	Skill    float64   `json:"-"`                  // 0 anyone can, 1 takes some practice, 2 is for practised hands
	Once     bool      `json:"once,omitempty"`     // done once for all heads
	Tools    []string  `json:"tools,omitempty"`    // short names
	Cautions []Caution `json:"cautions,omitempty"`
	Before   string    `json:"before,omitempty"`   // to be said before the step and those after it
	ByAdult  bool      `json:"by_adult,omitempty"` // done by an adult before the maker begins, who is under age and alone
	As       int       `json:"as,omitempty"`       // the earlier step that says the same of another layer; 0 for none
	Own      string    `json:"own,omitempty"`      // where the maker's own words for it stand; empty for a shipped step

	Only    string `json:"-"` // on a page for several heads: those that it is for; empty for all
	general texts  // with … for every number
}

// texts are what a step says.
type texts struct{ title, text, check, ifOff, undo string }

// Caution is a hazard at a step. First is the step that it first stands at.
type Caution struct {
	ID     string `json:"id"`
	Name   string `json:"name"` // what it is called where it was told before
	Hazard string `json:"hazard"`
	Do     string `json:"do"`
	Defer  string `json:"defer"`
	First  int    `json:"first"`
}

// Sound is what the head does on a bar.
type Sound struct {
	Reading []string       `json:"reading"`  // in words
	Strokes []reply.Stroke `json:"strokes"`  // on the reference bar, softest first
	Of      []string       `json:"share_of"` // what the shares of a stroke are of, inside out
	// Registers are the strokes low, in the middle and high on the instrument
	// asked for.
	Registers []reply.Register `json:"registers,omitempty"`
}

// Safety is the page that gathers every caution of the sheet.
type Safety struct {
	Cautions []Caution `json:"cautions"`
	Solvents []Solvent `json:"solvents,omitempty"`
	Latex    bool      `json:"latex"` // the head holds natural rubber latex
	Rule     string    `json:"rule"`  // who has the last word
}

// Solvent is one row of published figures.
type Solvent struct {
	Name       string   `json:"name"`
	FlashC     *float64 `json:"flash_c"` // null where no figure is given
	LELPct     *float64 `json:"lel_pct"`
	LegalPPM   *float64 `json:"legal_8h_ppm"`    // exposure limit over 8 h
	AdvisedPPM *float64 `json:"advised_10h_ppm"` // over 10 h
	Note       string   `json:"note,omitempty"`
	Sources    []string `json:"sources"` // with their marks
}

// Options are what a sheet needs beyond the head.
type Options struct {
	Heads int          // to be built; zero is a pair
	For   string       // whom the sheet is for
	Order *stock.Order // what to buy; nil leaves the shopping list out
	// Pool and Alternatives are the heads that the plots show it among.
	Pool         []propose.Candidate
	Alternatives []propose.Alternative

	shared *stock.Order // of several sheets together: its glues are used
}

// ErrLatex is returned for a head of latex when somebody must avoid it.
var ErrLatex = errors.New("this head contains natural rubber latex, which somebody here has to avoid")

// Maker makes sheets out of one catalogue. It may be used by several
// goroutines at once.
type Maker struct {
	cat    *knowledge.Catalogue
	heads  reply.Writer
	charts chart.Maker
	steps  []stepText
}

// NewMaker checks the catalogue's step texts against the facts.
func NewMaker(cat *knowledge.Catalogue) (*Maker, error) {
	steps, err := compile(cat.Steps)
	if err != nil {
		return nil, err
	}
	return &Maker{cat, reply.Default(cat), chart.New(cat), steps}, nil
}

// Sheet returns the sheet of a candidate, for those whom the candidate's pass
// tells of. It fails, rather than leave
// something out, when the rules gave a minor a step that is for adults, or
// latex to someone who must avoid it.
func (m *Maker) Sheet(c propose.Candidate, o Options) (Sheet, error) {
	c.Pass.Apply(&c.Facts)
	if c.Facts.Head.Latex && !c.Facts.Player.LatexOK {
		return Sheet{}, ErrLatex
	}
	if o.Heads == 0 {
		o.Heads = 2
	}
	h := c.Head
	s := Sheet{
		Title: title(c), For: o.For, Heads: o.Heads, Assumptions: reply.Assuming(m.cat, c.Pass, c.Facts.Head),
		Summary: summary(c), Sound: m.sound(c), Trust: trust,
		section: draw.NewSection(h, &m.cat.Limits),
	}
	var err error
	if s.Made, err = m.heads.On(c).Write(c.Stack); err != nil {
		return Sheet{}, err
	}
	s.Layers = s.Made.Head.Layers
	for _, l := range h.Layers {
		s.Cuts = append(s.Cuts, Cut{Part: l.Slice.Tube.ID, What: "slice of " + tubeName(l.Slice), CutMM: reply.Round(l.Cut.MM(), 2),
			TolMM: reply.Round(measure.Length(m.cat.Limits.CutToleranceM.Value).MM(), 2), Count: o.Heads})
	}
	order := m.used(c, o.Order)
	s.Cuts = merged(s.Cuts, order)
	s.Parts = parts(h, o.Heads)
	p, err := m.plan(c, cmp.Or(order, o.shared), o.Heads)
	if err != nil {
		return Sheet{}, err
	}
	for _, g := range p.glues {
		s.Parts = append(s.Parts, Part{ID: g.ID, Name: g.Name, Amount: "as its label says"})
	}
	s.Steps, s.Tools, s.Safety = p.steps, p.tools, p.safety()
	w := p.words(0).Build
	s.trials = draw.Trials{PullKg: w.PullKg, SqueezeMM: w.SqueezeMM, SqueezeKg: w.SqueezeKg}
	if h.Stack.Shaft == nil {
		s.trials.PullKg = 0
	}
	s.Buy, s.Effort = m.buy(order), p.effort(o.Heads)
	s.plots, err = m.plots(c, o)
	return s, err
}

func title(c propose.Candidate) string {
	t := "Build sheet"
	if c.Report.Grade != "" {
		t += " for a " + c.Report.Grade + " head"
	}
	return t
}

// tubeName is a tube in words.
func tubeName(s head.Slice) string {
	name := s.Rubber.Name
	if name == "" {
		name = s.Tube.Material
	}
	return fmt.Sprintf("%s tubing, bore %s, wall %s", name, s.Tube.Bore.Sold(), s.Tube.Wall.Sold())
}

func summary(c propose.Candidate) []Item {
	h := c.Head
	list := []Item{
		{"Mass of one head", fmt.Sprintf("%.1f ± %.1f g, without the shaft", h.Mass.Grams(), h.MassTol.Grams())},
		{"Diameter over the yarn", fmt.Sprintf("%s, ± %.0f mm", h.Diameter.Rule(), math.Ceil(h.DiameterTol.MM()))},
	}
	if h.YarnWall == 0 {
		list[1].Name = "Diameter"
	}
	if c.Report.Grade != "" {
		list = append(list, Item{"Softness", fmt.Sprintf("%s: %s, give or take %.1f (higher is softer, 0 is medium)",
			c.Report.Grade, notches(c.Report.Softness), c.Report.SoftnessTol)})
	}
	if c.Report.High > c.Report.Low {
		serves := Item{"Serves", c.Report.Low.String() + " to " + c.Report.High.String()}
		if q := c.Report.Squeeze; q.ForceN > 0 {
			serves.Value += fmt.Sprintf("; squeezed %g mm at %.1f ± %.1f kg", q.NarrowerM*1e3, q.ForceN/measure.Gravity, q.TolN/measure.Gravity)
		}
		list = append(list, serves)
	}
	if sw := h.Swing; sw.Mass > 0 {
		list = append(list, Item{"With its shaft", fmt.Sprintf("%.0f g, balancing %s from the butt", sw.Mass.Grams(), sw.Balance.Rule())})
	}
	return list
}

// notches is a place on the softness scale in words.
func notches(v float64) string {
	v = math.Round(v*10) / 10
	if v == 1 || v == -1 {
		return fmt.Sprintf("%+.0f notch", v)
	}
	return fmt.Sprintf("%+.1f notches", v+0)
}

// parts lists what so many heads of one stack are made of.
func parts(h head.Head, heads int) []Part {
	var list []Part
	add := func(id, name string, from knowledge.Origin, amount string, args ...any) {
		p := Part{ID: id, Name: name, Amount: fmt.Sprintf(amount, args...)}
		if from.Own {
			p.Own = from.String()
		}
		list = append(list, p)
	}
	each := ""
	if heads > 1 {
		each = "for each, "
	}
	core := h.Stack.Core
	add(core.ID, coreName(h.Stack), core.Origin, "%s", reply.Count(heads, "ball"))
	for i, l := range h.Layers {
		tube := l.Slice.Tube
		add(tube.ID, tubeName(l.Slice), tube.Origin, "layer %d, a slice of %s, stretched %.2f times to %s over it", i+1, l.Cut.Rule(), l.Stretch, l.Outer.Rule())
		list[len(list)-1].CutMM = reply.Round(l.Cut.MM(), 2)
	}
	if w := h.Stack.Wrap; w != nil {
		add(w.Yarn.ID, w.Yarn.Name, w.Yarn.Origin, "%s%d turns: %.1f m, %.1f g", each, h.Turns, float64(h.YarnLength), h.YarnMass.Grams())
		list[len(list)-1].Turns, list[len(list)-1].YarnM = h.Turns, reply.Round(float64(h.YarnLength), 2)
	}
	if sh := h.Stack.Shaft; sh != nil {
		add(sh.ID, sh.Name, sh.Origin, "%s, %s thick, %s long", reply.Count(heads, "shaft"), sh.Diameter.Rule(), sh.Length.Rule())
	}
	return list
}

// own says that a part is the maker's own, with where it stands.
func (p Part) own() string {
	if p.Own == "" {
		return ""
	}
	return " (yours: " + p.Own + ")"
}

func coreName(s head.Stack) string {
	if s.Core.Name != "" {
		return s.Core.Name
	}
	return fmt.Sprintf("%s ball, %s", s.Material.Name, s.Core.Diameter)
}

// sound puts the strokes into rows and words.
func (m *Maker) sound(c propose.Candidate) Sound {
	v := reply.NewHead(c.Head, c.Report)
	return Sound{Reading: reading(c), Strokes: v.Strokes, Of: layerNames(c.Head), Registers: v.Registers}
}

// layerNames names what a stroke's shares are of.
func layerNames(h head.Head) []string {
	names := []string{"core"}
	for i := range h.Layers {
		names = append(names, fmt.Sprintf("layer %d", i+1))
	}
	if h.Stack.Wrap != nil {
		names = append(names, "yarn")
	}
	return names
}

// reading is what the rules noted about the head.
func reading(c propose.Candidate) []string {
	var list []string
	for _, f := range c.Trace {
		if f.State != rules.Fired || f.Rule.Do != rules.Note {
			continue
		}
		if said := sentence(f.Reason); !slices.Contains(list, said) {
			list = append(list, said)
		}
	}
	return list
}

// sentence makes a rule's reason, which is a clause, stand alone.
func sentence(clause string) string {
	first, size := utf8.DecodeRuneInString(clause)
	if size == 0 {
		return ""
	}
	s := string(unicode.ToUpper(first)) + clause[size:]
	if !strings.ContainsAny(s[len(s)-1:], ".!?:") {
		s += "."
	}
	return s
}

// trust says how far to believe the numbers.
var trust = []string{
	"Believe the order of heads and their differences: softer or harder, heavier or lighter, and by about how much.",
	"Take single numbers as estimates until you have weighed and measured a head that you built; give mallow those figures and it corrects the rest.",
	"The ± is what the tolerances of parts and cuts allow; a smaller difference is none.",
	"A slice that slides, a smell, a crack or a click counts for more than any figure here.",
}

// lastWord is who decides where this sheet and the world disagree.
const lastWord = "Each product's own label and safety data sheet come before anything said here, then the local rules " +
	"and law, then the person responsible for the school or shop. Where any of them forbids a step, don't do it. " +
	"If something hurts, stings, makes you dizzy or itches: stop, and get help."
