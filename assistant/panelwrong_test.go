package assistant

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mallow/assistant/settled"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/propose"
)

// wrongHead is what a wrong head of the panel says that can be held against a
// region: what it leaves open is empty or below zero.
type wrongHead struct {
	core                         string // as a region names cores
	coreMM, slices, turns, g, mm float64
	bare, wound                  bool
	cord                         string // the yarn that is wound straight on the ball
	latex, chemicals             bool
	wool                         bool
	word                         string // for how soft it is, set off by commas
}

var (
	wrongCores = []struct{ word, core string }{
		{"hard rubber", "rubber"}, {"rubber", "rubber"}, {"phenolic", "phenolic"}, {"acrylic", "acrylic"}, {"acetal", "acetal"},
		{"nylon", "nylon"}, {"brass", "metal"}, {"steel", "metal"}, {"aluminium", "aluminium"}, {"metal", "metal"}, {"wood", "wood"},
	}
	wrongCounts = map[string]float64{"no": 0, "one": 1, "a": 1, "two": 2, "three": 3, "four": 4, "five": 5}
	wrongInch   = regexp.MustCompile(`(?:^|[ (])((?:\d )?\d/\d|\d) (?:in\b|acetal|nylon|ball|core)`)
	wrongBallMM = regexp.MustCompile(`\b(\d+) mm (?:[a-z]+ )?(?:ball|sphere|bead)\b`)
	wrongWord   = regexp.MustCompile(`, ((?:very |medium )?(?:hard|soft)|medium)(?:,|$)`)
	wrongSlices = regexp.MustCompile(`\b(no|one|a|two|three|four|five|\d)[ -](?:thick |thin |different )?slices?\b`)
	wrongFigure = map[string]*regexp.Regexp{
		"turns": regexp.MustCompile(`(\d+)(?: tight)? turns`), "g": regexp.MustCompile(`\b(\d+) g\b`), "mm": regexp.MustCompile(`\b(\d+) mm\b`),
	}
)

// readWrong takes from a wrong head what comes before its reason.
func readWrong(text string) wrongHead {
	text, why, _ := strings.Cut(strings.Replace(strings.ToLower(text), ", because", ":", 1), ":")
	if regexp.MustCompile(`^ (?:about )?\d+ g$`).MatchString(why) { // 1 in brass: 70 g
		text += why
	}
	w := wrongHead{coreMM: -1, slices: -1, turns: -1, g: -1, mm: -1}
	w.latex = regexp.MustCompile(`latex|natural rubber|surgical tubing`).MatchString(text)
	w.chemicals = w.latex || regexp.MustCompile(`rubber|epdm|neoprene`).MatchString(text)
	for _, c := range wrongCores {
		if w.core == "" && strings.Contains(text, c.word) && !regexp.MustCompile(c.word+` (slice|tubing)`).MatchString(text) {
			w.core = c.core
		}
	}
	if m := wrongInch.FindStringSubmatch(text); m != nil && !strings.Contains(text, "tubing") {
		if l, err := measure.ParseLength(m[1]+" in", measure.Inch); err == nil {
			w.coreMM = l.MM()
		}
	}
	if m := wrongBallMM.FindStringSubmatch(text); m != nil {
		w.coreMM, _ = strconv.ParseFloat(m[1], 64)
	}
	if m := wrongWord.FindStringSubmatch(text + why); m != nil {
		w.word = m[1]
	}
	if m := wrongSlices.FindStringSubmatch(text); m != nil {
		n, ok := wrongCounts[m[1]]
		if !ok {
			n, _ = strconv.ParseFloat(m[1], 64)
		}
		w.slices = n
	}
	for name, re := range wrongFigure {
		if m := re.FindStringSubmatch(text); m != nil {
			x, _ := strconv.ParseFloat(m[1], 64)
			*map[string]*float64{"turns": &w.turns, "g": &w.g, "mm": &w.mm}[name] = x
		}
	}
	switch m := regexp.MustCompile(`(two|three) (?:tubing sizes|sizes of tubing)`).FindStringSubmatch(text); {
	case w.slices >= 0:
	case m != nil:
		w.slices = wrongCounts[m[1]]
	case regexp.MustCompile(`tubing.*bare|bare tubing|bare slice|^(?:neoprene|epdm|latex|silicone) slice(?: added)?$`).MatchString(text):
		w.slices = 1
	}
	switch {
	case regexp.MustCompile(`(thin|hard) cord (on|over)|with thin yarn|thin wrap`).MatchString(text):
		w.cord = "cotton-fine"
	case regexp.MustCompile(`in loose thick yarn|in a thick loose wrap`).MatchString(text):
		w.cord = "wool-bulky"
	}
	if strings.HasPrefix(text, "buying") || strings.HasPrefix(text, "a new ") || strings.Contains(text, " all bought") {
		return wrongHead{coreMM: -1, slices: -1, turns: -1, g: -1, mm: -1} // of an order, not of a head
	}
	w.bare = regexp.MustCompile(`\bbare\b|without yarn|no yarn|\bunwrapped\b`).MatchString(text)
	w.wool = strings.Contains(text, "wool")
	w.wound = regexp.MustCompile(`\b(wound|yarn|wool)\b`).MatchString(text) && !w.bare
	return w
}

// says reports whether anything was taken from it.
func (w *wrongHead) says() bool {
	return w.core != "" || w.bare || w.wound || w.latex || w.chemicals || max(w.coreMM, w.slices, w.turns, w.g, w.mm) >= 0
}

// out reports whether the region keeps the head out by what it says.
func (r *region) out(w *wrongHead) bool {
	beyond := func(x float64, pair []float64) bool {
		return x >= 0 && len(pair) == 2 && (x < pair[0] || x > pair[1])
	}
	plastic := []string{"nylon", "acetal"}
	fits := func(core string) bool {
		return core == w.core || core == "plastic" && slices.Contains(plastic, w.core) || core == "metal" && w.core == "aluminium"
	}
	switch {
	case w.core != "" && !slices.ContainsFunc(r.Cores, fits),
		w.bare && r.Yarn == "required", (w.wound || w.turns > 0) && (r.Yarn == "none" || len(r.Turns) == 2 && r.Turns[1] == 0),
		w.word != "" && len(r.Softness) > 0 && !slices.Contains(r.Softness, w.word), w.wool && slices.Contains(r.MaterialNot, "wool"),
		w.latex && slices.Contains(r.MaterialNot, "latex"), w.core == "rubber" && slices.Contains(r.MaterialNot, "rubber"):
		return true
	}
	return beyond(w.coreMM, r.CoreMM) || beyond(w.slices, r.Slices) || beyond(w.turns, r.Turns) || beyond(w.g, r.MassG) || beyond(w.mm, r.DiameterMM)
}

// TestPanelWrong holds that each region keeps out the wrong heads that it names,
// as far as they say anything that can be held against it: by a figure, by a
// ball, by what is refused to who asks, or by the softness of a bare ball.
func TestPanelWrong(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	held, in, silent := 0, 0, 0
	for _, c := range panelCases(t) {
		st := told(k, c.Say)
		q := st.Request()
		for _, text := range c.Wrong {
			w := readWrong(text)
			var at facts.Facts
			q.Pass.Apply(&at)
			switch {
			case !w.says():
				silent++
			case c.Accept.out(&w), w.latex && !at.Player.LatexOK, w.chemicals && !at.Player.RubberOK && at.Player.LatexOK:
				held++
			case (w.bare || w.cord != "" || c.Accept.Yarn == "none") && w.core != "" && c.Accept.ballOut(k, &w, q.Facts.Instrument.Kind):
				held++
			case c.Accept.madeOut(k, text, q):
				held++
			case c.Task != "head" && c.Task != "advise":
				silent++ // of a set or a change, a single head says little
			default:
				in++
				t.Errorf("%s: the region does not keep out %q: %+v", c.ID, text, w)
			}
		}
	}
	t.Logf("%d wrong heads are kept out, %d are not, %d say nothing that can be computed", held, in, silent)
	if 4*silent > held {
		t.Errorf("%d of the wrong heads say nothing that can be computed, %d do: the reading of them has come apart", silent, held)
	}
}

// madeOut reports whether the head that the words describe whole, computed, is out of the region.
func (r *region) madeOut(k *Kit, text string, q propose.Request) bool {
	text, _, _ = strings.Cut(text, ", because")
	s, err := k.Stack(text)
	if err != nil {
		return false
	}
	x, err := k.Finder.Consider(s, q)
	return err == nil && len(r.off(k, x, q)) > 0
}

// ballOut reports whether every ball of the core named, bare or under the cord
// named, is out of the region by its grams, its size, how it opens or the word for
// its softness.
func (r *region) ballOut(k *Kit, w *wrongHead, kind string) bool {
	st := settled.New(k.Ground)
	q := st.Request()
	q.Facts.Instrument.Kind = kind
	for _, c := range k.Catalogue.Cores {
		m, _ := k.Catalogue.Material(c.Material)
		h := facts.Head{Core: m.Family, Material: m.ID}
		if !isCore(&h, w.core) || len(r.CoreMM) == 2 && (c.Diameter.MM() < r.CoreMM[0] || c.Diameter.MM() > r.CoreMM[1]) {
			continue
		}
		s := head.Stack{Core: c, Material: m}
		if y, ok := k.Catalogue.Yarn(w.cord); ok {
			f, _ := k.Catalogue.Material(y.Fibre)
			s.Wrap = &head.Wrap{Yarn: y, Fibre: f}
		}
		x, err := k.Finder.Consider(s, q)
		if err == nil && len(r.off(k, x, q)) == 0 {
			return false
		}
	}
	return true
}
