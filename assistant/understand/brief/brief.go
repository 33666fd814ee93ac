// Package brief knows lists of short answers: vibes, four, cross, 28 g, even. In one a
// bare figure, a letter or a word of many meanings says what it would say nowhere else.
// It marks the items of a chart with that, and takes nothing of them.
package brief

import (
	"fmt"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/rules/facts"
)

// A stretch of more items than these is no short answer; what is wired without a mark
// between has up to a dozen. Common practice, no source.
const longest = 12

// alone is what words answer to that say what they say in a list only where nothing
// else stands beside them: even.
const alone = "alone"

// stretch is what stands between two marks, items from..to.
type stretch struct {
	from, to int
	answers  int  // items that answer something wherever they stand
	likely   int  // items that answer something in a list
	other    bool // it says something else as well
	heading  bool // it says what the stretch behind it is about
}

// short reports whether a stretch may be one of a list.
func (s stretch) short() bool { return !s.other && s.answers+s.likely > 0 && s.to-s.from <= longest }

// marker marks the items of one chart.
type marker struct{ *cover.Chart }

// Mark marks the items of a chart that stand in a list of short answers.
func Mark(c *cover.Chart) {
	m := marker{c}
	all := m.stretches()
	for i := 0; i < len(all); {
		j, short, answers, likely := i, 0, 0, 0
		for ; j < len(all) && (all[j].short() || all[j].heading); j++ {
			if all[j].short() {
				short, answers, likely = short+1, answers+all[j].answers, likely+all[j].likely
			}
		}
		if (answers > 0 || likely > 3) && (short > 1 || answers+likely > 2) {
			m.list(all[i:j])
		}
		i = max(j, i+1)
	}
	for k, s := range all {
		m.held(all[:k], s)
	}
}

// held marks two or four that is a sentence by itself, or stands behind a heading for
// them, as how many mallets are held: Vibes, soft but clear enough. Two. Mallets: four.
func (m marker) held(before []stretch, s stretch) {
	it := m.Item(s.from)
	if s.to != s.from+1 || !m.SentenceEnds(s.to) || m.Open != "" || it.Qty == nil || it.Qty.Dim != quantity.Plain || it.Qty.Value != 2 && it.Qty.Value != 4 || it.Of != "" || len(before) == 0 || m.said(facts.PlayerMallets) {
		return
	}
	last := before[len(before)-1]
	of := m.HasWord(last.from, last.to, "mallets", "sticks", "beaters", "held")
	switch {
	case last.heading && of:
	case last.heading, m.Item(last.to).Mark == "?" && !of, !m.SentenceEnds(last.to) && m.Item(last.to).Mark != ",", !m.said(facts.InstrumentKind), m.HasWord(last.from, last.to, "pairs", "many", "people", "kids", "pupils", "shafts", "cores", "balls", "dowels"):
		return
	}
	it.Of = facts.PlayerMallets
}

// said reports whether some word of the line answers the fact at path.
func (m marker) said(path string) bool {
	for i := range m.Items {
		if m.Item(i).Has(path) != nil || m.Item(i).Of == path {
			return true
		}
	}
	return false
}

// stretches cuts a chart at its marks and at words that join.
func (m marker) stretches() (all []stretch) {
	for i := 0; i < len(m.Items); i++ {
		s := stretch{from: i}
		for ; i < len(m.Items) && !m.parts(i); i++ {
			m.count(&s, i)
		}
		s.to = i
		s.heading = s.to > s.from && s.to-s.from <= 3 && m.Item(i).Mark == ":" && s.answers == 0
		if m.Item(i).Mark == "?" {
			s.other = true
		}
		if s.to > s.from {
			all = append(all, s)
		}
	}
	return all
}

// parts reports whether item i stands between two stretches.
func (m marker) parts(i int) bool {
	it := m.Item(i)
	if it.Mark == "-" { // mar - 4 - ind, but not dark-even
		return !m.At(it.From).Near
	}
	return it.Mark != "" && strings.Contains(",;:.!?/()+=", it.Mark) || m.Is(i, "and", "&")
}

// count counts item i into a stretch.
func (m marker) count(s *stretch, i int) {
	it := m.Item(i)
	f := it.Fact()
	switch {
	case it.Harm, it.Mark != "":
	case it.Qty != nil && it.Qty.Dim == quantity.Plain:
		s.likely++
	case it.Qty != nil || it.Note != nil:
		s.answers++
	case it.Has("move") != nil:
		s.likely++
	case f != nil && f.Slot != facts.PlayerMinor && f.Slot != facts.PlayerLevel && !strings.HasPrefix(f.Slot, "bench."):
		s.answers++
	case len(m.words(i)) > 0:
		s.likely++
	case it.Any("kind", "material", "wish", "bound", "edge", "degree", "names", "role", "too"), m.Filler(i), m.Is(i, "c", "o"):
	default:
		s.other = true
	}
}

// words returns what the one word of item i may say in a list of short answers.
func (m marker) words(i int) (all []*lexis.Sense) {
	it := m.Item(i)
	if it.Mark != "" || it.Qty != nil || it.To > it.From+1 || it.Fact() != nil {
		return nil
	}
	m.Phrases(it.From, func(senses []*lexis.Sense, n int) {
		for _, x := range senses {
			if n == 1 && x.Slot == "asked" && (x.Value == "brief" || x.Value == alone) {
				all = append(all, x)
			}
		}
	})
	return all
}

// list marks the items of a list.
func (m marker) list(all []stretch) {
	said := map[string]bool{}
	for i := range m.Items {
		it := m.Item(i)
		for _, x := range it.Senses {
			if x.Fact != nil && x.Slot != "asked" {
				said[x.Slot] = true
			}
		}
		if q := it.Qty; q != nil && q.Dim == quantity.Mass && figure.Likely(facts.WantMassG, q) {
			said[facts.WantMassG] = true
		}
	}
	group := m.HasWord(0, len(m.Items), "class", "kids", "children", "pupils", "students", "grade", "year", "age", "ages", "aged", "each", "quantity", "x")
	parts := false // a part was named in the sentence, and figures may be its own
	for i := all[0].from - 1; i >= 0 && !m.SentenceEnds(i); i-- {
		parts = parts || m.OfPart(i)
	}
	for k, s := range all {
		if m.SentenceEnds(s.from - 1) {
			parts = false
		}
		for i := s.from; i < s.to; i++ {
			it := m.Item(i)
			parts = parts || m.OfPart(i) && !m.wished(s)
			m.word(s, i, said)
			if it.Note != nil && m.alone(s, i) {
				it.Of = end(it.Note.Hz())
			}
			if it.Qty == nil || it.Harm || s.heading || parts || k > 0 && all[k-1].heading {
				continue
			}
			if path := m.figure(s, i, said); path != "" && (it.Qty.Dim != quantity.Plain || !group) {
				it.Of, said[path] = path, true
			}
		}
	}
}

// word lets item i of a stretch say what it says in a list: the first of its answers
// that the line has no other for.
func (m marker) word(s stretch, i int, said map[string]bool) {
	for _, x := range m.words(i) {
		if said[x.Path] || x.Value == alone && !m.alone(s, i) {
			continue
		}
		it := m.Item(i)
		it.Senses, it.Slips = []*lexis.Sense{{Slot: x.Path, Value: fmt.Sprint(x.Fact), Fact: x.Fact, Say: x.Say, ID: x.ID}}, 0
		said[x.Path] = true
		return
	}
}

// wished reports whether a stretch says of a part only how the head is to be, or that
// there is to be none: a soft yarn head; no yarn.
func (m marker) wished(s stretch) bool {
	for i := s.from; i < s.to; i++ {
		if f := m.Item(i).Fact(); f != nil && strings.HasPrefix(f.Slot, "want.") || m.Is(i, "no", "without", "head", "heads") {
			return true
		}
	}
	return false
}

// end returns which end of a keyboard a note of so many hertz is, named alone, or "" for
// one in between.
func end(hz float64) string {
	const low, high = 120, 1000 // about B2 and C6. Common practice, no source
	switch {
	case hz <= low:
		return facts.InstrumentLowHz
	case hz >= high:
		return facts.InstrumentHighHz
	}
	return ""
}

// alone reports whether nothing but item i says anything in its stretch.
func (m marker) alone(s stretch, i int) bool {
	for j := s.from; j < s.to; j++ {
		if j != i && !m.Filler(j) && !m.Item(j).Any("bound", "edge", "degree") {
			return false
		}
	}
	return true
}

// figure returns what the figure at item i of a stretch is of, or "".
func (m marker) figure(s stretch, i int, said map[string]bool) string {
	q := m.Item(i).Qty
	wire := s.answers+s.likely > 2 && s.to-s.from <= s.answers+s.likely+2 // vib 4 cross 28 dark
	span := m.Item(i+1).Mark == "-" && m.Item(i+2).Qty != nil && m.Item(i+2).Qty.Dim == quantity.Plain || m.Item(i-1).Mark == "-" && m.Item(i-2).Of != ""
	single := span && s.to == s.from+3 || m.alone(s, i) && (q.Dim != quantity.Plain || !m.Filler(i+1) || i+1 >= s.to)
	switch {
	case q.Dim == quantity.Length && figure.Likely(facts.WantDiameterMM, q) && single && !said[facts.WantDiameterMM]:
		return facts.WantDiameterMM
	case q.Dim == quantity.Mass && figure.Likely(facts.WantMassG, q) && single:
		return facts.WantMassG
	case m.Open != "" || q.Dim != quantity.Plain || q.Frac || !single && !wire:
	case (q.Value == 2 || q.Value == 4) && !said[facts.PlayerMallets]:
		return facts.PlayerMallets
	case q.Value >= lightest && q.Value <= heaviest && (!said[facts.WantMassG] || span):
		return facts.WantMassG
	}
	return ""
}

// A bare number in a list that is no count is grams, where heads weigh that: a head
// under ten or over sixty is seldom asked for. Common practice, no source.
const lightest, heaviest = 10, 60
