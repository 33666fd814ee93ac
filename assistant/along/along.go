// Package along knows how far a build has come: the step, what was measured on
// each head, and what follows from that for the rest. It never chooses a head,
// reads no clock and touches no disk; lines go in, replies come out as values.
package along

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/sheet"
	"mallow/knowledge"
	"mallow/knowledge/correct"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Guide goes through builds with the gauges, jobs and troubles of a catalogue.
// It may be used by several goroutines at once.
type Guide struct {
	cat    *knowledge.Catalogue
	finder *propose.Finder
	sheets *sheet.Maker
	gauges []gauge
}

// gauge is a gauge whose texts have been checked.
type gauge struct {
	knowledge.Gauge
	quantity
	fixes []*rules.Template[Words]
	layer int    // that the open step or the gauge is about
	how   string // how it is read, said behind what is expected
}

// Words are what the texts of fixes may read.
type Words struct {
	Fix Fix `expr:"fix"`
}

// Fix is what a correction needs.
type Fix struct {
	Turns float64 `expr:"turns" doc:"turns of yarn to wind"`
	Low   float64 `expr:"low" doc:"least that another part should measure, g or mm"`
	High  float64 `expr:"high" doc:"most that another part should measure, g or mm"`
	CutMM float64 `expr:"cut_mm" unit:"mm" doc:"length to cut"`
}

// doings are what a fix may do.
var doings = [...]string{"keep", "soften", "weigh", "recut", "other", "redo"}

// New checks the gauges of a catalogue.
func New(cat *knowledge.Catalogue, finder *propose.Finder, sheets *sheet.Maker) (*Guide, error) {
	templates, err := rules.NewTemplates[Words](facts.Verbs(), words.Hint)
	if err != nil {
		return nil, fmt.Errorf("gauges: %w", err)
	}
	g := &Guide{cat: cat, finder: finder, sheets: sheets}
	for _, x := range cat.Gauges {
		q, ok := quantities(cat)[x.What]
		if !ok {
			return nil, fmt.Errorf("%s: gauge %s: %q is nothing that can be measured", x.Origin, x.ID, x.What)
		}
		y := gauge{Gauge: x, quantity: q}
		for i, f := range x.Fixes {
			if !slices.Contains(doings[:], f.Do) {
				return nil, fmt.Errorf("%s: gauge %s: fix %d: %q is not one of %v", x.Origin, x.ID, i+1, f.Do, doings)
			}
			t, err := templates.New(f.Say)
			if err != nil {
				return nil, fmt.Errorf("%s: gauge %s: fix %d: %w", x.Origin, x.ID, i+1, err)
			}
			y.fixes = append(y.fixes, t)
		}
		g.gauges = append(g.gauges, y)
	}
	return g, nil
}

// Job is what is to be done.
type Job struct {
	ID      string // of the catalogue's jobs; empty to build from parts
	Stack   head.Stack
	Request propose.Request // whom for: what the rules judge by
	Heads   int             // alike; zero is a pair
	Buy     string          // what there is to buy, in words; may be empty
}

// Build is a build under way. Say moves it on; Clone copies it.
type Build struct {
	g     *Guide
	job   Job
	heads []made
	at    int // step, as an index into the first head's; -1 for the card
	mode  mode
	gauge int             // which gauge of the step, while measuring
	head  int             // which head, while measuring or fixing
	fixes []offer         // while fixing
	told  map[string]bool // cautions that were told in full
	woe   woe             // while checking
	// hazards are the cautions that were told last.
	hazards []sheet.Caution
	lacks   struct{ scale, caliper bool } // what there is not to measure with
	waitMin float64                       // while waiting
	pending []float64                     // figures that were given for the heads after the one in hand
}

// mode is what the next line answers.
type mode int

const (
	card mode = iota
	caution
	doing
	waiting
	measuring
	fixing
	pairing
	checking
	finished
)

// made is one head as far as it was measured.
type made struct {
	planned propose.Candidate // before anything was measured
	now     propose.Candidate // with what was measured
	steps   []sheet.Step
	figures []Figure
}

// Figure is one thing that was measured.
type Figure struct {
	Head   int // from 1
	What   string
	Layer  int
	SI     float64 // kg or m
	Expect float64
	Tol    float64
	Name   string  // of what was measured, in words
	Text   string  // the figure in people's units
	At     float64 // m that a head was squeezed by

	of quantity
}

// Start begins a build. It fails where the rules refuse the head.
func (g *Guide) Start(job Job) (*Build, error) {
	if job.Heads == 0 {
		job.Heads = 2
	}
	job.Request = Equipped(job.Request)
	c, err := g.finder.Consider(job.Stack, job.Request)
	if err != nil {
		return nil, err
	}
	if f := c.Refused(); f != nil {
		return nil, fmt.Errorf("this can't be built as things stand: %s", f.Reason)
	}
	if c, err = g.finder.Consider(settledStack(c), job.Request); err != nil {
		return nil, err
	}
	steps, err := g.steps(job, c)
	if err != nil {
		return nil, err
	}
	if len(steps) == 0 {
		return nil, fmt.Errorf("no step is known for %s", c.Stack)
	}
	b := &Build{g: g, job: job, at: -1, told: map[string]bool{}}
	for range job.Heads {
		b.heads = append(b.heads, made{planned: c, now: c, steps: steps})
	}
	return b, nil
}

// Equipped supposes a scale and a caliper where nobody said that there is
// none: whoever has none says so when a figure is asked for.
func Equipped(q propose.Request) propose.Request {
	q.Known = maps.Clone(q.Known)
	if q.Known == nil {
		q.Known = rules.Known{}
	}
	for path, has := range map[string]*bool{"bench.scale": &q.Facts.Bench.Scale, "bench.caliper": &q.Facts.Bench.Caliper} {
		if !q.Known[path] {
			*has, q.Known[path] = true, true
		}
	}
	return q
}

// steps are the steps for a head.
func (g *Guide) steps(job Job, c propose.Candidate) (list []sheet.Step, err error) {
	if job.ID == "" {
		list, err = g.sheets.Steps(c)
	} else if x, ok := g.cat.Job(job.ID); ok {
		list, err = g.sheets.Job(c, x)
	} else {
		err = fmt.Errorf("no job is called %q", job.ID)
	}
	if job.Heads == 1 {
		list = slices.DeleteFunc(list, func(s sheet.Step) bool { return sheet.OfSeveral(s.ID) })
	}
	return list, err
}

// Clone returns a copy that Say does not change.
func (b *Build) Clone() *Build {
	if b == nil {
		return nil
	}
	c := *b
	c.heads = slices.Clone(b.heads)
	for i := range c.heads {
		c.heads[i].figures = slices.Clone(b.heads[i].figures)
	}
	c.fixes = slices.Clone(b.fixes)
	c.told = map[string]bool{}
	for k := range b.told {
		c.told[k] = true
	}
	return &c
}

// At names the step that is open, such as cut-slice 1; empty at the card.
func (b *Build) At() string {
	if b.at < 0 || b.at >= len(b.steps()) {
		return ""
	}
	s := b.steps()[b.at]
	if s.Layer > 0 {
		return fmt.Sprintf("%s %d", s.ID, s.Layer)
	}
	return s.ID
}

// Ahead says what comes after the open step, and how much is left.
func (b *Build) Ahead() string {
	left := len(b.steps()) - 1 - b.at
	if left <= 0 {
		return "This is the last step."
	}
	return fmt.Sprintf("After this comes step %d of %d: %s. Say card to see them all.", b.at+2, len(b.steps()), b.steps()[b.at+1].Title)
}

// About is what is built and how far it has come, in a few words.
func (b *Build) About() string {
	doing := "building"
	if job, ok := b.g.cat.Job(b.job.ID); ok {
		doing = strings.ToLower(job.Title) + ":"
	}
	text := fmt.Sprintf("%s %s", doing, b.job.Stack)
	if b.at < 0 {
		return text + ", not begun"
	}
	return fmt.Sprintf("%s, at step %d of %d, %s", text, b.at+1, len(b.steps()), b.step().Title)
}

// Order is words at the start of a line by which a person asks for a job; the line
// may go on with a stack.
type Order struct{ Say, Job string }

// Orders are the words for the jobs, that of no id to build.
func Orders() []Order {
	return []Order{
		{"rewrap", "rewrap"}, {"re-wrap", "rewrap"}, {"new yarn on", "rewrap"},
		{"new shaft", "reshaft"}, {"reshaft", "reshaft"}, {"replace the shaft", "reshaft"}, {"change the shaft", "reshaft"},
		{"build", ""},
	}
}

// Stack is what is being built.
func (b *Build) Stack() head.Stack { return b.job.Stack }

// Whole reports whether heads are built from their parts, and not mended.
func (b *Build) Whole() bool { return b.job.ID == "" }

// Count is how many heads are built.
func (b *Build) Count() int { return len(b.heads) }

// Figures are all that was measured, head by head.
func (b *Build) Figures() []Figure {
	var list []Figure
	for _, m := range b.heads {
		list = append(list, m.figures...)
	}
	return list
}

// Built are the heads as they came out, for the maker's log: those that were
// weighed or measured when finished. The log names them.
func (b *Build) Built() []correct.Built {
	var list []correct.Built
	for _, m := range b.heads {
		x := correct.Built{Stack: m.stack(b.job.Stack).String()}
		x.Mass, x.Diameter = m.finished()
		for _, f := range m.figures {
			if f.What == "squeeze" {
				x.Squeezes = append(x.Squeezes, correct.Squeeze{Narrower: measure.Length(f.At), Scale: measure.Mass(f.SI / measure.Gravity)})
			}
		}
		if x.Mass > 0 || x.Diameter > 0 || len(x.Squeezes) > 0 {
			list = append(list, x)
		}
	}
	return list
}

// finished is what a finished head was found to weigh and to measure across;
// zero for what was not measured.
func (m made) finished() (mass measure.Mass, across measure.Length) {
	for _, f := range m.figures {
		switch f.What {
		case "head_mass":
			mass = measure.Mass(f.SI)
		case "diameter":
			across = measure.Length(f.SI)
		}
	}
	return mass, across
}

// stack is the stack of a head by the catalogue's parts, with the turns that
// were wound.
func (m made) stack(s head.Stack) head.Stack {
	if s.Wrap != nil {
		w := *s.Wrap
		w.Turns = m.now.Head.Turns
		s.Wrap = &w
	}
	return s
}

func (b *Build) steps() []sheet.Step { return b.heads[0].steps }

func (b *Build) step() sheet.Step { return b.steps()[b.at] }

// gauges are those of the open step.
func (b *Build) gauges() []gauge { return gauging{b}.of(b.step()) }

// of are the gauges of a step, for each layer those that are asked so.
func (b gauging) of(step sheet.Step) []gauge {
	h := b.heads[0].now.Head
	var list []gauge
	add := func(x gauge, layer int) {
		x.layer = layer
		if x.at != nil {
			x.quantity, x.how = x.at(h)
			x.how = ", " + x.how
		}
		missing := x.unit == mass && b.lacks.scale || x.unit == length && b.lacks.caliper || x.unit == force && (b.lacks.scale || b.lacks.caliper)
		if !missing && x.fits(h, layer) {
			list = append(list, x)
		}
	}
	for _, x := range b.g.gauges {
		if x.Step != step.ID {
			continue
		}
		if !x.each {
			add(x, step.Layer)
			continue
		}
		for layer := range h.Layers {
			if !b.same(layer) {
				add(x, layer+1)
			}
		}
	}
	return list
}

// same reports whether a layer is of a tubing that a layer below it is of: what
// was measured of that holds for it too.
func (b *Build) same(layer int) bool {
	list := b.job.Stack.Slices
	return slices.ContainsFunc(list[:layer], func(s head.Slice) bool { return s.Tube.ID == list[layer].Tube.ID })
}

// remake gives a head another stack, and its steps the figures of that.
func (b *Build) remake(i int, s head.Stack) error {
	c, err := b.g.finder.Consider(s, b.job.Request)
	if err != nil {
		return err
	}
	steps, err := b.g.steps(b.job, c)
	if err != nil {
		return err
	}
	if i == 0 && b.at >= 0 { // the place is kept by the step's name
		here := b.step()
		if at := slices.IndexFunc(steps, func(s sheet.Step) bool { return s.ID == here.ID && s.Layer == here.Layer }); at >= 0 {
			b.at = at
		} else {
			steps = b.heads[0].steps
		}
	}
	b.heads[i].now, b.heads[i].steps = c, steps
	return nil
}

// Effort is the work and the waiting that are left, in minutes.
func (b *Build) Effort() (work, wait float64) {
	for _, s := range b.steps()[max(b.at, 0):] {
		many := float64(len(b.heads))
		if s.Once {
			many = 1
		}
		work += many * s.WorkMin
		wait += s.WaitMin
	}
	return work, wait
}

// off says how a head as it is now differs from the plan, in what is heard and
// felt; nothing where neither would be noticed.
func (m made) off(c propose.Candidate) (notches, grams float64, matters bool) {
	notches = c.Facts.Head.Softness - m.planned.Facts.Head.Softness
	grams = c.Facts.Head.MassG - m.planned.Facts.Head.MassG
	return notches, grams, math.Abs(notches) >= heardNotches || math.Abs(grams) >= feltG
}

// A player hears about a notch, and feels about a gram on a head of 25: common
// practice, no source. Half a notch is counted, since errors add up.
const (
	heardNotches = 0.5
	feltG        = 1.0
)

// Reply is what there is to say.
type Reply struct {
	Page    page.Page
	Ask     string
	Enter   string  // what Enter does
	WaitMin float64 // to be waited before the next step
	Leave   bool    // the person stops here for now
	Quit    bool    // back to choosing a head
	Rewrap  bool    // the other job that was asked for
	Done    bool    // the build has come to its end
	Keep    bool    // what was measured is to go into the maker's log
}

// say adds a paragraph.
func (r *Reply) say(format string, args ...any) {
	r.Page = append(r.Page, page.Para(fmt.Sprintf(format, args...)))
}
