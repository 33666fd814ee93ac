package hand

import (
	"cmp"
	"math"
	"regexp"
	"slices"
	"strings"

	"mallow/assistant/understand"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/stock"
)

// phrases are the words by which people join the parts of a head and count what
// is of one kind in it.
type phrases struct {
	inward  *regexp.Regexp // what follows lies farther out: a ball under yarn
	outward *regexp.Regexp // what follows lies farther in: yarn over a ball
	none    *regexp.Regexp // a piece that names what the head has none of
	wound   *regexp.Regexp // 120 turns of acrylic
	sliced  *regexp.Regexp // two slices of latex
	more    *regexp.Regexp // said of the piece before: a rubber ball, 70A
	across  *regexp.Regexp // a size that is of the whole head
}

func newPhrases() phrases {
	return phrases{
		inward:  regexp.MustCompile(`(?i)\s*(?:[+,;]|\b(?:with|under|then|plus|(?:wrapped|wound|covered) (?:in|with|by))\b)\s*`),
		outward: regexp.MustCompile(`(?i)\s*\b(?:over|on|around|round|on top of)\b\s*`),
		none:    regexp.MustCompile(`(?i)^(?:bare|and|no\b.*|without\b.*|unwrapped|nothing(?: else| on it)?)?$`),
		wound:   regexp.MustCompile(`(?i)(\d{1,3})\s*turns?(?:\s+of)?`),
		sliced:  regexp.MustCompile(`(?i)\b(one|a|single|two|double|three|four|[1-4])\s+(?:([a-z]+)\s+)?(?:slices?|layers?|sleeves?|pieces?)(?:\s+of)?`),
		more:    regexp.MustCompile(`(?i)^(?:shore )?\d{2,3}\s*(?:[ad]|shore(?: [ad])?|durometer)$`),
		across:  regexp.MustCompile(`(?i)^(?:and |is |it is |about |around |some |measures? |roughly )*[\d.]+ ?(?:mm|cm|millimet(?:re|er)s?)(?: (?:over ?all|in all|across|outside|wide|thick|round|finished|in diameter|diameter))?$`),
	}
}

// pieces cuts the description of a head into its parts, inside out.
func (p phrases) pieces(text string) (list []string) {
	text = strings.ReplaceAll(text, "over all", "overall") // no piece over another
	from := []string{text}
	if !strings.Contains(text, "+") {
		from = p.outward.Split(text, -1)
	}
	for _, side := range slices.Backward(from) {
		for i, piece := range p.inward.Split(side, -1) {
			if i > 0 && p.more.MatchString(piece) {
				list[len(list)-1] += " " + piece
				continue
			}
			list = append(list, piece)
		}
	}
	return list
}

// count takes how many slices a piece of text speaks of out of it, 0 for none.
func (p phrases) count(piece string) (rest string, n int) {
	m := p.sliced.FindStringSubmatch(piece)
	if m == nil {
		return piece, 0
	}
	n = map[string]int{"two": 2, "double": 2, "2": 2, "three": 3, "3": 3, "four": 4, "4": 4}[strings.ToLower(m[1])]
	if rest = strings.TrimSpace(p.sliced.ReplaceAllString(piece, "")); m[2] != "" { // one latex slice
		rest = strings.TrimSpace(m[2] + " tubing " + rest)
	}
	return rest, max(n, 1)
}

// Stack reads a head that is described as people do, inside out or outside in: 1
// in acetal ball + 3/4x1/8 latex + 120 turns acrylic; 100 turns of wool over a
// 28 mm ball. A part may be written as the catalogue has it, too. Where a name
// fits several parts, the one that makers mean mostly is taken, and for a
// hardness that no ball has the nearest; the stack says which.
func Stack(cat *knowledge.Catalogue, r *understand.Reader, text string) (head.Stack, error) {
	list, err := Stacks(cat, r, text)
	if err != nil {
		return head.Stack{}, err
	}
	return list[0], nil
}

// Stacks reads a head as Stack does. After it come others that the description fits as
// well, on a ball of that size in another hardness; the likelier first.
func Stacks(cat *knowledge.Catalogue, r *understand.Reader, text string) ([]head.Stack, error) {
	if st, err := head.Parse(cat, text); err == nil || !strings.Contains(strings.TrimSpace(text), " ") {
		return []head.Stack{st}, err
	}
	d := describer{phrases: newPhrases(), cat: cat, reader: r, stock: part.NewStock(cat), written: strings.Contains(text, "+")}
	for _, piece := range d.pieces(text) {
		if err := d.read(strings.TrimSpace(piece)); err != nil {
			return nil, err
		}
	}
	if !d.written { // on birch, said last or first
		slices.SortStableFunc(d.ids, func(a, b string) int { return cmp.Compare(d.place(a), d.place(b)) })
	}
	st, err := head.Parse(cat, strings.Join(d.ids, " + "))
	if err != nil {
		return nil, err
	}
	list := []head.Stack{st}
	for _, id := range d.balls {
		other := st
		if other.Core, _ = cat.Core(id); other.Core.Material == st.Core.Material && other.Core.DurometerA != st.Core.DurometerA && other.Core.Diameter == st.Core.Diameter && other.Check() == nil {
			list = append(list, other)
		}
	}
	return list, nil
}

// place is where a part lies in a stack, from the inside; a shaft is written last.
func (d *describer) place(id string) int {
	if _, ok := d.cat.Core(id); ok {
		return 0
	}
	if _, ok := d.cat.Tube(id); ok {
		return 1
	}
	if _, ok := d.cat.Shaft(id); ok {
		return 3
	}
	return 2
}

// describer gathers the parts of a head that is described.
type describer struct {
	phrases
	cat     *knowledge.Catalogue
	reader  *understand.Reader
	stock   *part.Stock
	written bool // parts are joined by +
	ids     []string
	items   []stock.Item
	balls   []string // what the ball may be, the likeliest first
}

// read takes in one piece of the description.
func (d *describer) read(piece string) error {
	if d.none.MatchString(piece) {
		return nil
	}
	if d.written && piece != "" && !strings.Contains(piece, " ") { // as the catalogue writes it
		d.ids = append(d.ids, piece)
		return nil
	}
	said, turns := piece, ""
	if m := d.wound.FindStringSubmatch(piece); m != nil {
		turns, said = "*"+m[1], strings.TrimSpace(d.wound.ReplaceAllString(piece, ""))
	}
	said, n := d.count(said)
	in := d.reader.Read(ByName(d.cat, said), understand.Context{Asked: understand.AskParts})
	whole := len(d.ids) > 0 && d.across.MatchString(piece)
	if turns == "" && (whole || len(in.Parts) == 0 && (len(in.Takes) > 0 || Weighed(piece) > 0)) {
		return nil // about 26 g, 35 mm over all
	}
	if vague := !slices.ContainsFunc(in.Parts, func(p reading.Part) bool { return len(p.IDs) > 0 || p.Material != "" || p.Sized() }); vague {
		if list := d.usual(turns != "", n > 0); list != nil {
			in.Parts = list // 100 turns of yarn, two slices
		}
	}
	found := false
	for _, p := range in.Parts {
		ids := d.fitting(p)
		if len(ids) == 0 {
			found = false
			break
		}
		ranked, _ := stock.Likely(d.cat, ids, d.items, false)
		id := ranked[0]
		d.items = append(d.items, stock.Item{Part: id, Amount: 1})
		switch {
		case p.Kind == "core":
			d.balls = ranked
		case p.Kind == "yarn":
			id, turns = id+turns, ""
		case p.Kind == "tube":
			for range n - 1 {
				d.ids = append(d.ids, id)
			}
		}
		d.ids, found = append(d.ids, id), true
	}
	if !found || turns != "" {
		return fault.Errorf("no part is understood in %q; say, for example, '1 1/8 in plastic ball + 3/4x1/8 latex + 120 turns wool'", piece)
	}
	return nil
}

// usual are the parts that turns of yarn, or slices, may be that nobody named.
func (d *describer) usual(wound, sliced bool) []reading.Part {
	var p reading.Part
	switch {
	case wound:
		p.Kind = "yarn"
		for _, y := range d.cat.Yarns {
			p.IDs = append(p.IDs, y.ID)
		}
	case sliced:
		p.Kind = "tube"
		for _, t := range d.cat.Tubing {
			p.IDs = append(p.IDs, t.ID)
		}
	default:
		return nil
	}
	return []reading.Part{p}
}

// fitting returns the parts that a description fits; of balls in a hardness that
// there is none of, those nearest to it.
func (d *describer) fitting(p reading.Part) []string {
	if len(p.IDs) > 0 || p.Kind != "core" || p.Durometer == 0 || p.Shore == "D" {
		return p.IDs
	}
	said := p.Durometer
	p.Durometer = 0
	off := func(id string) float64 {
		c, _ := d.cat.Core(id)
		m, _ := d.cat.Material(c.Material)
		return math.Abs(cmp.Or(c.DurometerA, m.DurometerA.Value) - said)
	}
	ids := d.stock.Match(p)
	least := math.Inf(1)
	for _, id := range ids {
		least = min(least, off(id))
	}
	return slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return off(id) > least })
}

// Weighed is what a head weighs as its description says, such as "about 26 g"; zero
// where it says nothing of that.
func Weighed(text string) measure.Mass {
	words := strings.Fields(strings.ReplaceAll(text, ",", " "))
	for i, w := range words {
		for _, n := range []int{2, 1} { // 26 g, 26g
			if i+n > len(words) || i+n < len(words) && words[i+n] == "of" || !strings.ContainsAny(w[:1], "0123456789") {
				continue
			}
			if m, err := measure.ParseMass(strings.Join(words[i:i+n], " "), 0); err == nil {
				return m
			}
		}
	}
	return 0
}
