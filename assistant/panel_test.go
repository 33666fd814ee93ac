package assistant

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"mallow/assistant/hand"
	"mallow/assistant/heed"
	"mallow/assistant/settled"
	"mallow/assistant/understand"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/advise"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/gate"
	"mallow/rules/graded"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// panelCase is a request in plain words, and what a good maker would accept.
type panelCase struct {
	ID     string
	Say    string
	Task   string
	Have   []string
	From   string
	Heads  int // of a set, where the region does not say
	Accept region
	Reason string
	Wrong  []string
}

// region is what is accepted. A pair of numbers is the least and the most.
type region struct {
	Cores        []string
	CoreMM       []float64 `yaml:"core_mm"`
	Slices       []float64
	Yarn         string // required, none or either
	Turns        []float64
	MassG        []float64  `yaml:"mass_g"`
	DiameterMM   []float64  `yaml:"diameter_mm"`
	Softness     oneOrMore  `yaml:"softness_word"`
	Colour       []string   `yaml:"colour"`
	Opening      []string   `yaml:"opening"`
	Buys         []float64  // kinds of part, glue aside
	Tubings      []float64  // kinds of tubing
	MaterialNot  []string   `yaml:"material_not"`
	GlueNot      []string   `yaml:"glue_not"`
	Count        int        // of a set
	MassStep     float64    `yaml:"mass_step_ratio_max"`
	SizeMonotone bool       `yaml:"size_monotone"`
	Even         float64    `yaml:"softness_even_notches"`
	Families     int        `yaml:"families"`
	Ends         [][]string `yaml:"softness_ends"`
	Move         string     `yaml:"softness_move"`
	Notches      []float64
	NotOverG     float64 `yaml:"not_over_g"`
	Keeps        []string
	MassSteps    []float64 `yaml:"mass_step_g"`   // from each head of a set to the next
	SoftSteps    []float64 `yaml:"softness_step"` // notches, likewise
}

// oneOrMore is a list that may be written as its only word.
type oneOrMore []string

func (l *oneOrMore) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind == yaml.ScalarNode {
		*l = oneOrMore{n.Value}
		return nil
	}
	return n.Decode((*[]string)(l))
}

// panelHeld is how many per cent of the panel's cases have to be held. It is
// what was reached and rises with it; the aim is 95. It was 90 of 160, until 142
// joined that nobody had developed on, and 84 until five that had been misread
// were held and the requests of one more author joined, 26 of 30 of them held. It
// was 87 of 332, and is 88 of 357 since 25 by the next author joined, 23 of them held,
// though relative wishes are no longer left out. It was 86 of 382 when 25 more joined, 11 of them held, and is 91 since 29 November;
// 40 by one more author joined then, 19 of them held: 87, and 88 since. It is of 502 since 80 by
// the next author joined, of which 24 and 22 of 40 were held, and 43 once what may be bought and what a wrong head names was counted: 83, and 84 since.
const panelHeld = 84

// TestPanel runs the requests of testdata/panel the way that a conversation
// takes them, and prints what is held and what isn't. MALLOW_PANEL names a
// folder of further cases; MALLOW_CASE cases to run alone, with commas between.
func TestPanel(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	held, all := 0, 0
	for _, c := range panelCases(t) {
		all++
		got, wrong := c.run(k)
		if len(wrong) == 0 {
			held++
			t.Logf("%s held: %s", c.ID, got)
			continue
		}
		t.Logf("%s NOT held: %s\n    %s\n    %s", c.ID, got, c.Say, strings.Join(wrong, "; "))
	}
	t.Logf("%d of %d held", held, all)
	if os.Getenv("MALLOW_CASE") == "" && 100*held < panelHeld*all {
		t.Errorf("%d of %d cases are held, %d %% have to be", held, all, panelHeld)
	}
}

// panelCases are the cases of testdata/panel, and of the folder that MALLOW_PANEL
// names; or those that MALLOW_CASE does.
func panelCases(t *testing.T) []panelCase {
	dirs := []string{filepath.Join("..", "testdata", "panel")}
	if more := os.Getenv("MALLOW_PANEL"); more != "" {
		dirs = append(dirs, more)
	}
	var files []string
	for _, dir := range dirs {
		found, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	var list []panelCase
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var cases []panelCase
		if err := yaml.Unmarshal(data, &cases); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		for _, c := range cases {
			if only := os.Getenv("MALLOW_CASE"); only != "" && !slices.Contains(strings.Split(only, ","), c.ID) {
				continue
			}
			if len(c.Wrong) < 3 {
				t.Errorf("%s names %d wrong heads, three are needed", c.ID, len(c.Wrong))
			}
			list = append(list, c)
		}
	}
	return list
}

// told is the state that a conversation comes to when it is told all at once and
// takes the usual answer to every question, those of age and of allergies among them: what
// was left in doubt is taken as the careful answer all the same.
func told(k *Kit, text string) settled.State {
	st := settled.New(k.Ground)
	line := heed.Read(k, &st, understand.Context{}, text, false)
	in := line.In
	heard := st.Hear(line.Harms, "")
	for _, path := range []string{gate.LatexOK, gate.RubberOK, gate.Minor} {
		if !slices.Contains(heard.Open, path) {
			st.Known[path] = true // as it is where nobody says otherwise
		}
	}
	for _, a := range in.Takes {
		st.Answer(a)
	}
	st.Parts(in.Parts)
	k.Offers.Take(&st, in, false)
	st.Settle()
	return st
}

// run answers the case. It returns what came of it, and what is wrong with it.
func (c *panelCase) run(k *Kit) (got string, wrong []string) {
	st := told(k, c.Say)
	q := st.Request()
	switch c.Task {
	case "head":
		best, err := k.Offers.Best(&st)
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		return line(best), c.Accept.off(k, best, q)
	case "set":
		w := k.Wish(c.Say)
		w.Request.Pass = st.Pass()
		set, err := k.Set(context.Background(), w, c.Say, graded.Options{Rungs: cmp.Or(c.Accept.Count, c.Heads)})
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		var lines []string
		for _, r := range set.Rungs {
			lines = append(lines, line(r.Head))
			for _, x := range c.Accept.off(k, r.Head, q) {
				if !strings.HasPrefix(x, "buys") && !strings.HasPrefix(x, "tubings") {
					wrong = append(wrong, fmt.Sprintf("%s (%+.1f)", x, r.Softness))
				}
			}
		}
		return strings.Join(lines, " | "), append(wrong, c.Accept.offSet(&set)...)
	case "change":
		from, err := k.Stack(c.From)
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		w := k.Wish(c.Say, c.From)
		w.Request.Pass = st.Pass()
		was, err := k.Finder.Consider(from, w.Request)
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		aim, _, err := w.Aim(was, c.Say, c.From)
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		more := 0.0
		if said := hand.Weighed(c.From).Grams(); said > 0 {
			more = said - was.Facts.Head.MassG
		}
		x, err := change.Find(context.Background(), k.Finder, from, aim, w.Request, 0)
		if err != nil {
			return line(was), []string{err.Error()}
		}
		was.Facts.Head.MassG += more
		x.Head.Facts.Head.MassG += more
		q.Bin = owned(from, q.Bin)
		return line(was) + " -> " + line(x.Head), append(c.Accept.off(k, x.Head, q), c.Accept.offChange(was, x.Head)...)
	case "advise":
		h, err := hand.Read(k.Catalogue, k.Reader(), strings.Join(c.Have, "; "))
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		q.Bin = h.Bin
		a, err := advise.From(context.Background(), k.Finder, q)
		if err != nil {
			return "nothing", []string{err.Error()}
		}
		best := a.With // as a conversation takes it: with what is bought besides, where that is worth it
		if best == nil {
			best = a.Best
		}
		if best == nil && len(a.Buy) > 0 {
			best = &a.Buy[0].Best
		}
		if best == nil {
			return "nothing", []string{fmt.Sprint(a.Why)}
		}
		return line(*best), c.Accept.off(k, *best, q)
	}
	return "", []string{"no such task: " + c.Task}
}

// owned is what is on hand with the parts of a head, which nobody buys again to change it.
func owned(st head.Stack, have *stock.Bin) *stock.Bin {
	bin := &stock.Bin{}
	if have != nil {
		bin.Items = slices.Clone(have.Items)
	}
	for _, id := range st.Parts() {
		bin.Items = append(bin.Items, stock.Item{Part: id, Amount: stock.Enough()})
	}
	return bin
}

func line(c propose.Candidate) string {
	h := c.Facts.Head
	return fmt.Sprintf("%s: %s %+.1f, %.1f g, %.1f mm, %d turns, opens %.2f, %.1f dB, score %.1f", c.Stack, c.Report.Grade, h.Softness, h.MassG, h.DiameterMM, int(h.Turns), h.OpensUp, h.BrightDB, c.Score)
}

// off says what is wrong with a head.
func (r *region) off(k *Kit, c propose.Candidate, q propose.Request) (wrong []string) {
	h := &c.Facts.Head
	between := func(what string, x float64, pair []float64) {
		if len(pair) == 2 && (x < pair[0]-0.05 || x > pair[1]+0.05) {
			wrong = append(wrong, fmt.Sprintf("%s %.4g, not %g to %g", what, x, pair[0], pair[1]))
		}
	}
	among := func(what, x string, list []string) {
		if len(list) > 0 && !slices.Contains(list, x) {
			wrong = append(wrong, fmt.Sprintf("%s %s, not %s", what, x, strings.Join(list, ", ")))
		}
	}
	if !slices.ContainsFunc(r.Cores, func(name string) bool { return isCore(h, name) }) {
		wrong = append(wrong, fmt.Sprintf("core %s, not %s", h.Material, strings.Join(r.Cores, ", ")))
	}
	between("core mm", h.CoreMM, r.CoreMM)
	between("slices", h.Layers, r.Slices)
	switch {
	case r.Yarn == "required" && h.Turns == 0:
		wrong = append(wrong, "no yarn")
	case r.Yarn == "none" && h.Turns > 0:
		wrong = append(wrong, "yarn")
	case h.Turns > 0:
		between("turns", h.Turns, r.Turns)
	}
	between("g", h.MassG, r.MassG)
	between("mm", h.DiameterMM, r.DiameterMM)
	among("grade", strings.ReplaceAll(c.Report.Grade, "-", " "), r.Softness)
	opening := "even"
	switch {
	case h.OpensUp >= 1.2:
		opening = "opens"
	case h.OpensUp < 0.7:
		opening = "steady"
	}
	among("opening", opening, r.Opening)
	colour := "even"
	switch db := c.Facts.Instrument.MediumDB; {
	case h.BrightDB < 1.3*db:
		colour = "dark"
	case h.BrightDB > 0.7*db:
		colour = "bright"
	}
	among("colour", colour, r.Colour)
	for _, x := range r.MaterialNot {
		if hasMaterial(&c, x) {
			wrong = append(wrong, "has "+x)
		}
	}
	tubes := map[string]bool{}
	for _, s := range c.Stack.Slices {
		tubes[s.Tube.ID] = true
	}
	between("tubings", float64(len(tubes)), r.Tubings)
	order, err := k.Finder.Order([]propose.Make{{Head: c.Head, Heads: q.Count()}}, q)
	if err != nil {
		return append(wrong, err.Error())
	}
	buys := 0
	for _, l := range order.Lines {
		if l.Kind == "adhesive" {
			a, _ := k.Catalogue.Adhesive(l.Part)
			if slices.Contains(r.GlueNot, a.Base) {
				wrong = append(wrong, "glue with "+a.Base)
			}
		} else if l.Packs > 0 {
			buys++
		}
	}
	between("buys", float64(buys), r.Buys)
	return wrong
}

// isCore reports whether a core is what a maker calls by a name.
func isCore(h *facts.Head, name string) bool {
	switch name {
	case "plastic":
		return h.Core == "plastic" && h.Material != "phenolic" && h.Material != "pmma"
	case "metal", "wood", "rubber":
		return h.Core == name
	}
	return h.Material == map[string]string{"acrylic": "pmma"}[name] || h.Material == name
}

func hasMaterial(c *propose.Candidate, name string) bool {
	h := &c.Facts.Head
	switch {
	case strings.Contains(name, "latex"), strings.Contains(name, "natural rubber"):
		return h.Latex
	case strings.Contains(name, "rubber"):
		return h.Core == "rubber" || slices.ContainsFunc(c.Stack.Slices, func(s head.Slice) bool { return s.Rubber.Family == "rubber" })
	}
	return h.Material == name || name == "wool" && h.Fibre == name || slices.ContainsFunc(c.Stack.Slices, func(s head.Slice) bool { return s.Rubber.ID == name })
}

// offSet says what is wrong with a set as a whole.
func (r *region) offSet(set *graded.Set) (wrong []string) {
	n := len(set.Rungs)
	if r.Count > 0 && n != r.Count {
		wrong = append(wrong, fmt.Sprintf("%d heads, not %d", n, r.Count))
	}
	families, tubes := map[string]bool{}, map[string]bool{}
	first, last := &set.Rungs[0], &set.Rungs[n-1]
	gap := (last.Softness - first.Softness) / float64(n-1)
	mean, worst := math.Abs(last.MassG-first.MassG)/float64(n-1), 0.0
	for i := range set.Rungs {
		x := &set.Rungs[i]
		families[x.Head.Facts.Head.Material] = true
		for _, s := range x.Head.Stack.Slices {
			tubes[s.Tube.ID] = true
		}
		if i == 0 {
			continue
		}
		was := &set.Rungs[i-1]
		for what, step := range map[string]struct {
			is     float64
			within []float64
		}{"notches": {x.Softness - was.Softness, r.SoftSteps}, "g": {x.MassG - was.MassG, r.MassSteps}} {
			if len(step.within) == 2 && (step.is < step.within[0]-0.05 || step.is > step.within[1]+0.05) {
				wrong = append(wrong, fmt.Sprintf("a step of %.2f %s, not %g to %g", step.is, what, step.within[0], step.within[1]))
			}
		}
		if off := math.Abs(x.Softness - was.Softness - gap); r.Even > 0 && off > r.Even {
			wrong = append(wrong, fmt.Sprintf("gap of %.2f notches, %.2f on average", x.Softness-was.Softness, gap))
		}
		if r.SizeMonotone && x.MM < was.MM-0.05 {
			wrong = append(wrong, fmt.Sprintf("%.1f mm after %.1f", x.MM, was.MM))
		}
		if r.SizeMonotone && x.MassG < was.MassG-0.05 {
			wrong = append(wrong, fmt.Sprintf("%.1f g after %.1f", x.MassG, was.MassG))
		}
		worst = max(worst, math.Abs(x.MassG-was.MassG))
	}
	if r.SizeMonotone && worst > r.MassStep*mean+0.05 {
		wrong = append(wrong, fmt.Sprintf("a jump of %.1f g, %.1f on average", worst, mean))
	}
	if r.Families > 0 && len(families) > r.Families {
		wrong = append(wrong, fmt.Sprintf("%d kinds of core", len(families)))
	}
	if len(r.Tubings) == 2 && (float64(len(tubes)) < r.Tubings[0] || float64(len(tubes)) > r.Tubings[1]) {
		wrong = append(wrong, fmt.Sprintf("%d tubings", len(tubes)))
	}
	if len(r.Ends) == 2 {
		soft, hard := grade(last.Head), grade(first.Head)
		if !slices.Contains(r.Ends[0], soft) || !slices.Contains(r.Ends[1], hard) {
			wrong = append(wrong, fmt.Sprintf("from %s to %s", hard, soft))
		}
	}
	if len(r.Buys) == 2 {
		buys := 0
		for _, l := range set.Order.Lines {
			if l.Packs > 0 && l.Kind != "adhesive" {
				buys++
			}
		}
		if float64(buys) > r.Buys[1] {
			wrong = append(wrong, fmt.Sprintf("%d things to buy", buys))
		}
	}
	return wrong
}

func grade(c propose.Candidate) string { return strings.ReplaceAll(c.Report.Grade, "-", " ") }

// offChange says what is wrong with what a head was changed to.
func (r *region) offChange(was, is propose.Candidate) (wrong []string) {
	a, b := &was.Facts.Head, &is.Facts.Head
	move := b.Softness - a.Softness
	if r.Move == "harder" {
		move = -move
	}
	if len(r.Notches) == 2 && (move < r.Notches[0] || move > r.Notches[1]) {
		wrong = append(wrong, fmt.Sprintf("%.1f notches %s, not %g to %g", move, r.Move, r.Notches[0], r.Notches[1]))
	}
	if r.NotOverG > 0 && b.MassG > max(r.NotOverG, a.MassG)+0.05 {
		wrong = append(wrong, fmt.Sprintf("%.1f g, not over %g", b.MassG, r.NotOverG))
	}
	if slices.Contains(r.Keeps, "head.mass_g") && math.Abs(b.MassG-a.MassG) > 0.1*a.MassG {
		wrong = append(wrong, fmt.Sprintf("%.1f g were to stay, now %.1f", a.MassG, b.MassG))
	}
	return wrong
}

// spoken makes a stack of a head that is described in words: of parts that fit
