// Package answer knows what is said to things that people ask: cost, time,
// tools, safety, trust and the like, out of the catalogue's answers and the
// facts of the head at hand. It never looks for a head, and takes nothing in.
package answer

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// Facts are what the texts of answers may read.
type Facts struct {
	Player     facts.Player     `expr:"player"`
	Want       facts.Want       `expr:"want"`
	Instrument facts.Instrument `expr:"instrument"`
	Bench      facts.Bench      `expr:"bench"`
	Head       facts.Head       `expr:"head"`
	Offer      Offer            `expr:"offer"`
	Asked      Asked            `expr:"asked"`
}

// Asked is what a question has in it.
type Asked struct {
	MassG float64 `expr:"mass_g" unit:"g" doc:"the weight that was asked about, 0 for none"`
	Mass  string  `expr:"mass" doc:"that weight in words; empty for none"`
	Heads float64 `expr:"heads" doc:"the heads that were asked about, 0 for none"`
	PullN float64 `expr:"pull_n" unit:"N" doc:"the force that was asked about, 0 for none"`
	Pull  string  `expr:"pull" doc:"that force in words; empty for none"`
}

// Offer is what building takes. Most of it is zero before there is a head.
type Offer struct {
	Heads      float64 `expr:"heads" doc:"heads to be built"`
	BuyCents   float64 `expr:"buy" unit:"cents" doc:"cost of what has to be bought, in whole packs"`
	PartsCents float64 `expr:"parts" unit:"cents" doc:"cost of what goes into the heads"`
	WorkMin    float64 `expr:"work_min" unit:"min" doc:"work for all heads"`
	WaitMin    float64 `expr:"wait_min" unit:"min" doc:"waiting, for all heads at once"`
	Skill      float64 `expr:"skill" doc:"0 anyone can, 1 takes some practice, 2 is for practised hands"`
	Left       float64 `expr:"left" doc:"questions that may still come"`

	Time   string `expr:"time" doc:"work and waiting in words"`
	List   string `expr:"list" doc:"what to buy, in words"`
	Core   string `expr:"core" doc:"the core in words"`
	Tubing string `expr:"tubing" doc:"the slices in words; empty for none"`
	Yarn   string `expr:"yarn" doc:"the yarn and its turns in words; empty for none"`
	Name   string `expr:"yarn_name" doc:"the yarn in words; empty for none"`
	Metres string `expr:"metres" doc:"length of yarn of one head, in words"`
	Shaft  string `expr:"shaft" doc:"the shaft in words; empty for none"`
	Glue   string `expr:"glue" doc:"the glue that is bought, in words; empty for none"`

	TurnG     float64 `expr:"turn_g" unit:"g" doc:"mass of a turn of yarn, 0 for none"`
	BoreMM    float64 `expr:"bore_mm" unit:"mm" doc:"how deep the shaft sits in the core"`
	CureHours float64 `expr:"cure_hours" unit:"h" doc:"time for the glue of the shaft to set, 0 for none"`

	Pairs      float64 `expr:"pairs" doc:"sets of heads to be built"`
	Each       float64 `expr:"each" doc:"heads in a set"`
	AllCents   float64 `expr:"all" unit:"cents" doc:"cost of what has to be bought for all sets"`
	TotalCents float64 `expr:"total" unit:"cents" doc:"what may be spent on all sets, 0 when nobody said"`
	Purse      string  `expr:"purse" doc:"the total in words; empty when nobody said"`
	Share      string  `expr:"share" doc:"a set's share of the total in words; empty when nobody said"`
}

// With returns the offer with the effort of a build.
func (o Offer) With(e reply.Effort) Offer {
	o.Heads, o.BuyCents = float64(e.Heads), float64(e.Buy)
	o.WorkMin, o.WaitMin, o.Skill = e.WorkMin, e.WaitMin, e.Skill
	o.Time = reply.Capital(reply.Hours(e.WorkMin, e.WaitMin))
	return o
}

// thread binds a slice where no glue is wanted, and is bought with the glues.
const thread = "thread"

// Of returns the offer with the parts of a head in words, and what is bought
// for it.
func (o Offer) Of(w reply.Words, h head.Head, order stock.Order) Offer {
	o.Core = w.Part(h.Stack.Core.ID)
	var slices []string
	for _, l := range h.Layers {
		slices = append(slices, fmt.Sprintf("%s, cut %s", w.Part(l.Slice.Tube.ID), l.Cut.Rule()))
	}
	o.Tubing = strings.Join(slices, "; and ")
	if h.Stack.Wrap != nil {
		o.Name = w.Part(h.Stack.Wrap.Yarn.ID)
		o.TurnG = h.YarnMass.Grams() / max(1, float64(h.Turns))
		o.Yarn, o.Metres = fmt.Sprintf("%s, %d turns", o.Name, h.Turns), fmt.Sprintf("%.0f m", float64(h.YarnLength)+0.5)
	}
	if h.Stack.Shaft != nil {
		o.Shaft = w.Part(h.Stack.Shaft.ID)
	}
	var list, glues []string
	for _, l := range order.Lines {
		if l.Kind == "adhesive" && l.Part != thread {
			glues = append(glues, l.Name)
		}
		if l.Packs > 0 {
			list = append(list, fmt.Sprintf("%s (%s)", l.Name, l.Cost))
		}
	}
	o.List, o.Glue = strings.Join(list, "; "), strings.Join(glues, " and ")
	if o.List == "" {
		o.List = "nothing, it is all on hand"
	}
	return o
}

// Answers are the answers of a catalogue. They may be used by several
// goroutines at once.
type Answers struct {
	list []one
	near func() *near // made when it is first asked
}

type one struct {
	knowledge.Answer
	text, early, bench *rules.Template[Facts]
}

// doings are what an answer may show instead of a text.
var doings = [...]string{"answers", "assumed", "changed", "drawing", "offer", "ahead"}

// New checks the texts of a catalogue's answers.
func New(cat *knowledge.Catalogue) (*Answers, error) {
	templates, err := rules.NewTemplates[Facts](facts.Verbs(), words.Hint)
	if err != nil {
		return nil, fmt.Errorf("answers: %w", err)
	}
	a := &Answers{}
	for _, x := range cat.Answers {
		if x.Do != "" && !slices.Contains(doings[:], x.Do) {
			return nil, fmt.Errorf("%s: answer %s: %q is not one of %v", x.Origin, x.ID, x.Do, doings)
		}
		o := one{Answer: x}
		for _, f := range []struct {
			name, text string
			to         **rules.Template[Facts]
		}{{"text", x.Text, &o.text}, {"early", x.Early, &o.early}, {"bench", x.Bench, &o.bench}} {
			if f.text == "" {
				continue
			}
			if *f.to, err = templates.New(f.text); err != nil {
				return nil, fmt.Errorf("%s: answer %s: %s: %w", x.Origin, x.ID, f.name, err)
			}
		}
		a.list = append(a.list, o)
	}
	a.near = sync.OnceValue(func() *near { return newNear(cat) })
	return a, nil
}

// Find returns the id of the answer that a line asks for: the line is one of
// its ways to ask, or begins or ends with one of several words and says next to
// nothing else. Where several are asked for, the longest wins.
func (a *Answers) Find(line string) (id string, ok bool) {
	said := Plain(line)
	line = ofSpeaker(said)
	longest := 0
	for _, x := range a.list {
		for _, ask := range x.Asks {
			if len(ask) > longest && (line == ask || said == ask || Holds(line, ask) && a.near().names(line, Found{ID: x.ID})) {
				id, longest = x.ID, len(ask)
			}
		}
	}
	return id, longest > 0
}

// How near a line has to be to a way to ask, to be taken to ask for that: at
// once, whatever else could be made of it; where it is a question and takes
// nothing; where it supposes something; and where it is no question at all. Of
// lines so near about as many ask for that, by leaving out one author of the
// questions in testdata after the other.
const (
	NearWord   = 0.95 // is no question, and takes something
	NearSure   = 0.8
	NearLikely = 0.5
	NearPlain  = 0.6
	NearTold   = 0.7
	NearMaybe  = 0.36 // is told with its question
	NearHand   = 0.25 // may be named as what can be answered instead
)

// Nearest returns what has the way to ask nearest to what a line says, and how
// near that is: 1 is word for word, 0 nothing in common. What is likelier asked
// at one of the places where the line is said counts for more.
func (a *Answers) Nearest(line string, at ...string) (of Found, how float64) {
	home := a.home(at)
	plain := ofSpeaker(Plain(line))
	if strings.HasSuffix(strings.TrimSpace(line), "?") {
		plain += mark
	}
	of, how = a.near().to(plain, home)
	parts := strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(",;.?!()", r) })
	if len(parts) < 2 || how >= NearPlain {
		return of, how
	}
	for _, part := range parts { // a question and what goes with it
		if !IsQuestion(part) || len(a.near().split(Plain(part))) < enough {
			continue // does that count
		}
		if x, near := a.near().to(Plain(part), home); near*aPart > how {
			of, how = x, near*aPart
		}
	}
	return of, how
}

// aPart is what a question counts that is only a part of a line.
const aPart = 0.9

// NearestOf returns which of these answers is asked for nearest to what a line
// says, and how near that is.
func (a *Answers) NearestOf(line string, ids ...string) (id string, how float64) {
	a.near().each(Plain(line), func(Found) bool { return false }, func(x scored) {
		if x.near > how && !x.of.Trouble && slices.Contains(ids, x.of.ID) {
			id, how = x.of.ID, x.near
		}
	})
	return id, how
}

// Near returns ways to ask for the two answers that are nearest to a line, or for
// one, or none; they speak of different things.
func (a *Answers) Near(line string, at ...string) []string {
	var ways []string
	first, second := a.near().best(Plain(line), a.home(at))
	for _, x := range []scored{first, second} {
		switch {
		case x.of.Trouble, x.near < NearHand, x.near < beside*first.near:
		case !slices.Contains(at, "bench") && a.home([]string{"bench"})(x.of): // nothing could have gone wrong yet
		default:
			ways = append(ways, a.Way(x.of.ID))
		}
	}
	return ways
}

// Perhaps returns the answer that a line may ask for, though it is not near enough
// to be sure of it: of such lines nearly half do.
func (a *Answers) Perhaps(line string, at ...string) (id string, ok bool) {
	of, how := a.Nearest(line, at...)
	return of.ID, how >= NearMaybe && !of.Trouble && a.Do(of.ID) == ""
}

// Apart reports whether a line that compares speaks of more than the choices on
// offer: yarn and cord.
func (a *Answers) Apart(line string) bool {
	said := a.near().split(Plain(line))
	return len(slices.DeleteFunc(said, func(w string) bool { return slices.Contains(ofChoices, w) })) > 1
}

// ofChoices are words of a line that compares the choices on offer.
var ofChoices = []string{"different", "mallet", "choic", "pick", "two", "first", "start", "second", "third", "last", "other", "between", "same", "pair", "befor", "compar"}

// home reports of what is found whether it is likelier asked at one of these
// places.
func (a *Answers) home(at []string) func(Found) bool {
	said := map[string]bool{}
	for _, x := range a.list {
		if slices.ContainsFunc(x.At, func(p string) bool { return slices.Contains(at, p) }) {
			said[x.ID] = true
		}
	}
	return func(of Found) bool { return !of.Trouble && said[of.ID] }
}

// Topic returns the id of the answer to questions about a thing that a line, read
// so, is about, where it says next to nothing but words by which people ask for that.
func (a *Answers) Topic(in reading.Reading, line string) (id string, ok bool) {
	for _, t := range in.About {
		thing := t.Kind
		switch {
		case t.Kind == "fact", t.Kind == "term":
			thing = t.ID
		case t.ID != "":
			thing += " " + t.ID
		}
		for _, x := range a.list {
			if slices.Contains(x.About, thing) && a.near().names(Plain(line), Found{ID: x.ID}) {
				return x.ID, true
			}
		}
	}
	return "", false
}

// MayReport reports whether a line may tell of a mishap or a worry that an answer is
// for: nothing is wished for.
func MayReport(in reading.Reading, line string) bool {
	return in.Act() == reading.Tell && !wishes(line)
}

// Reports reports whether a line that may, so near to an answer, tells of a mishap or a
// worry that it is for: most ways to ask for it are no questions either. What was read
// in it besides has to be worth less.
func (a *Answers) Reports(of Found, how float64, in reading.Reading, line string) bool {
	const some = 3 // words that tell something
	least := NearTold
	if len(in.Takes)+len(in.Moves) > 0 || slices.ContainsFunc(in.Parts, held) {
		least = NearWord
	}
	if first, _, _ := strings.Cut(Plain(line), " "); least == NearWord && (first == "no" || first == "without") { // no glue fumes
		return false
	}
	if how < least || len(a.near().split(Plain(line))) < some {
		return false
	}
	tell, all := 0, 0
	for _, w := range a.near().ways {
		if w.of == of {
			if all++; w.asked == says && len(w.words) > 1 {
				tell++
			}
		}
	}
	return 2*tell >= all
}

// Do is what an answer shows instead of a text, or nothing.
func (a *Answers) Do(id string) string {
	for _, x := range a.list {
		if x.ID == id {
			return x.Do
		}
	}
	return ""
}

// Is reports whether a line is a way to ask for an answer and nothing else.
func (a *Answers) Is(line string) bool {
	line = Plain(line)
	for _, x := range a.list {
		if slices.Contains(x.Asks, line) {
			return true
		}
	}
	return false
}

// Urgent returns the id of the answer that comes before all else that a line
// says, since somebody is hurt.
func (a *Answers) Urgent(line string) (id string, ok bool) {
	line = " " + Plain(line) + " "
	says := func(w string) bool { return strings.Contains(line, " "+w+" ") }
	for _, x := range a.list {
		missing := func(list []string) bool { return !slices.ContainsFunc(list, says) }
		if len(x.Urgent) > 0 && !slices.ContainsFunc(x.Urgent, missing) {
			return x.ID, true
		}
	}
	return "", false
}

// Stage is how far a conversation has come.
type Stage int

// What is said differs before there is a head, once there is one, and while it
// is built.
const (
	Choosing Stage = iota
	Proposed
	Building
)

// Text is what is said at a stage.
func (a *Answers) Text(id string, f Facts, at Stage) string {
	for _, x := range a.list {
		if x.ID != id {
			continue
		}
		switch {
		case at == Choosing && x.early != nil:
			return x.early.Fill(f)
		case at == Building && x.bench != nil:
			return x.bench.Fill(f)
		case x.text != nil:
			return x.text.Fill(f)
		}
	}
	return ""
}

// Usual reports whether an answer speaks of the head that most players would
// get, before there is one.
func (a *Answers) Usual(id string) bool {
	return slices.ContainsFunc(a.list, func(x one) bool { return x.ID == id && x.Usual })
}

// Way is the way to ask for an answer that stands first.
func (a *Answers) Way(id string) string {
	for _, x := range a.list {
		if x.ID == id {
			return x.Asks[0]
		}
	}
	return ""
}

// Holds reports whether a plain line is a phrase, or has a phrase of several
// words at one of its ends.
func Holds(line, phrase string) bool {
	if line == phrase {
		return true
	}
	return strings.Count(phrase, " ") > 1 && (strings.HasPrefix(line, phrase+" ") || strings.HasSuffix(line, " "+phrase))
}

// Plain is a line in lower case without marks, apostrophes left out.
func Plain(line string) string {
	line = strings.NewReplacer("'", "", "’", "", "$", " money ", "€", " money ", "£", " money ").Replace(strings.ToLower(line))
	return strings.Join(strings.FieldsFunc(line, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '#' || r > 0x7f)
	}), " ")
}
