package reply

import (
	"fmt"
	"math"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/graded"
	"mallow/rules/propose"
)

// Offer is a head as it is first offered: one screen to decide by.
type Offer struct {
	Range  string   `json:"range,omitempty"`  // which of the notes asked for it does not serve
	Beside string   `json:"beside,omitempty"` // the head that serves them beside it
	Head   string   `json:"says"`             // in one plain sentence
	Sound  string   `json:"sounds"`           // in a musician's words
	Why    string   `json:"why"`              // what speaks for it most
	Effort string   `json:"takes"`            // what to buy, time and difficulty
	Weak   string   `json:"not_good_at,omitempty"`
	Parts  []string `json:"parts"` // inside out
}

// Effort is what building takes.
type Effort struct {
	Heads            int           // of a set
	Sets             int           // to be bought for; 0 or 1 is one
	Buy              measure.Money // in whole packs
	Invented         bool          // the prices are
	WorkMin, WaitMin float64
	Skill            float64 // 0 anyone can, 1 takes some practice, 2 is for practised hands
}

// NewOffer puts a head in the words of its first offer. Job is what it is
// for, such as "two mallets on marimba"; sound says how it sounds.
func (w Words) NewOffer(c propose.Candidate, job, sound string, e Effort) Offer {
	return Offer{
		Head: fmt.Sprintf("A %s head for %s: %s; %.0f g and %s across.",
			c.Report.Grade, job, w.Plain(c.Stack), c.Head.Mass.Grams(), roughly(c.Head.Diameter)),
		Sound: sound, Why: forIt(c.Trace), Effort: e.String(), Weak: againstIt(c.Trace), Parts: w.Lines(c.Head),
	}
}

// Page is the offer as blocks.
func (o Offer) Page() page.Page {
	return page.Page{page.Para(strings.TrimSpace(o.Head + " " + o.Sound + " " + o.Range)),
		page.Para(strings.TrimSpace(strings.TrimSpace(o.Why+" "+o.Weak) + " " + o.Effort)),
		page.List{Items: o.Parts}}
}

// Ranged is the offer of a head that does not serve all the notes asked for: that
// is said, and how to come to the head that takes over beside it.
func (w Words) Ranged(o Offer, c propose.Candidate, r graded.Range) Offer {
	o.Range, o.Beside = w.Range(c, r)
	if o.Beside != "" {
		o.Range += map[bool]string{true: " Say “for the low end” for one to go beside it.", false: " Say “for the high end” for one to go beside it."}[r.LostBottom > r.LostTop]
	}
	o.Weak = "" // that is what it is not good at; the rest is a screen further
	return o
}

// Range says which of the notes asked for a head serves, and what serves more
// beside it, if anything.
func (w Words) Range(c propose.Candidate, r graded.Range) (first, beside string) {
	in := &c.Facts.Instrument
	first = fmt.Sprintf("No one head serves %s to %s alike. This one keeps its weight from %s to %s.",
		measure.NoteNear(in.LowHz), measure.NoteNear(in.HighHz), c.Report.Low, c.Report.High)
	x := r.Beside
	if x == nil {
		return first, ""
	}
	where := "above"
	if r.LostBottom > r.LostTop {
		where = "below"
	}
	together := ""
	if r.Whole {
		together = "; the two serve it all"
	}
	return first, fmt.Sprintf("Beside it, for the notes %s, a pair of the same family: %s; %s, %.0f g, %s to %s%s.",
		where, w.Brief(x.Stack), x.Report.Grade, x.Head.Mass.Grams(), x.Report.Low, x.Report.High, together)
}

// String is the effort in a sentence or two.
func (e Effort) String() string {
	return fmt.Sprintf("To buy: %s. To make: %s; %s.", e.Bought(), Hours(e.WorkMin, e.WaitMin), Skill(e.Skill))
}

// Bought is what there is to buy, as a price.
func (e Effort) Bought() string {
	demo := ""
	if e.Invented {
		demo = " (prices invented)"
	}
	if e.Sets > 1 {
		kind := "pairs"
		if e.Heads != 2 {
			kind = fmt.Sprintf("sets of %s", Count(e.Heads, "head"))
		}
		return fmt.Sprintf("%s for all %d %s%s", e.Buy, e.Sets, kind, demo)
	}
	return fmt.Sprintf("%s for %s%s", e.Buy, Count(e.Heads, "head"), demo)
}

// Count is a number of things.
func Count(n int, thing string) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	text := fmt.Sprint(n)
	if n >= 0 && n < len(words) {
		text = words[n]
	}
	if n != 1 {
		thing += "s"
	}
	return text + " " + thing
}

// Hours says working and waiting time, both in minutes.
func Hours(work, wait float64) string {
	text := "about " + Span(work) + " of work"
	switch days := math.Ceil(wait / (24 * 60)); {
	case wait < 5:
		return text + ", no waiting"
	case wait < 12*60:
		return text + " and " + Span(wait) + " of waiting"
	case days <= 1:
		return text + " over two days"
	default:
		return fmt.Sprintf("%s over %.0f days", text, days+1)
	}
}

// Span is a time in minutes as people say it.
func Span(min float64) string {
	quarters := math.Round(min / 15)
	switch {
	case min < 1:
		return "a moment"
	case min < 1.5:
		return "a minute"
	case min < 20:
		return fmt.Sprintf("%.0f minutes", min)
	case quarters < 4:
		return fmt.Sprintf("%.0f minutes", 5*math.Round(min/5))
	case quarters == 4:
		return "an hour"
	}
	hours := min / 60
	switch {
	case hours < 3 && math.Abs(hours-math.Round(hours)) > 0.2:
		return fmt.Sprintf("%.0f 1/2 hours", math.Floor(hours))
	case hours < 1.5:
		return "an hour"
	}
	return fmt.Sprintf("%.0f hours", math.Round(hours))
}

// Skill says how hard a build is.
func Skill(skill float64) string {
	switch {
	case skill < 1:
		return "anyone can"
	case skill < 2:
		return "takes some practice"
	}
	return "parts of it are for practised hands"
}

// Plain is a stack in plain words: a plastic ball, two slices of latex tubing
// and a wool wrap.
func (w Words) Plain(st head.Stack) string {
	list := []string{"a bare " + w.ball(st)}
	if st.Wrap != nil || len(st.Slices) > 0 {
		list[0] = "a " + w.ball(st)
	}
	for i := 0; i < len(st.Slices); {
		n := i
		for n < len(st.Slices) && st.Slices[n].Tube.Material == st.Slices[i].Tube.Material {
			n++
		}
		list = append(list, Count(n-i, "slice")+" of "+w.material(st.Slices[i].Tube.Material)+" tubing")
		i = n
	}
	if st.Wrap != nil {
		list = append(list, w.material(st.Wrap.Yarn.Fibre)+" yarn")
	}
	return Joined(list, " and ")
}

// Joined is a list as a sentence has it, with a last word between: a, b and c.
func Joined(list []string, last string) string {
	n := len(list) - 1
	if n < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:n], ", ") + last + list[n]
}

func (w Words) ball(st head.Stack) string {
	if f := st.Material.Family; f != "" {
		return f + " ball"
	}
	return "ball"
}

func (w Words) material(id string) string {
	if m, ok := w.cat.Material(id); ok && m.Name != "" {
		return m.Name
	}
	return id
}

// Lines are the parts of a head as short lines, inside out.
func (w Words) Lines(h head.Head) []string {
	st := h.Stack
	list := []string{"core: " + w.Part(st.Core.ID)}
	for _, l := range h.Layers {
		t := l.Slice.Tube
		list = append(list, fmt.Sprintf("slice: %s tubing, %s bore, %s wall; cut %s", w.material(t.Material), short(t.Bore), short(t.Wall), l.Cut.Sold()))
	}
	if st.Wrap != nil {
		list = append(list, fmt.Sprintf("yarn: %s; %d turns", w.Part(st.Wrap.Yarn.ID), h.Turns))
	}
	if st.Shaft != nil {
		list = append(list, "shaft: "+w.Part(st.Shaft.ID))
	}
	return list
}

// short is a length in inches without the unit.
func short(l measure.Length) string { return strings.TrimSuffix(l.Sold(), " in") }

// roughly is a length as people say it, to a sixteenth of an inch.
func roughly(l measure.Length) string {
	n := int(math.Round(float64(l) / float64(measure.Inch) * 16))
	return (measure.Length(n) * measure.Inch / 16).In()
}

// forIt is what speaks for a head most, in one sentence.
func forIt(trace []rules.Firing) string {
	best := -1
	for i, f := range trace {
		if f.State == rules.Fired && f.Rule.Do == rules.Prefer && f.Rule.Weight > 0 && f.Reason != "" &&
			(best < 0 || f.Rule.Weight > trace[best].Rule.Weight) {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	return Capital(trace[best].Reason) + "."
}

// againstIt is what speaks against a head most, in one sentence.
func againstIt(trace []rules.Firing) string {
	worst := -1
	for i, f := range trace {
		if f.State == rules.Fired && f.Rule.Do == rules.Prefer && f.Rule.Weight <= -1 && f.Reason != "" &&
			(worst < 0 || f.Rule.Weight < trace[worst].Rule.Weight) {
			worst = i
		}
	}
	if worst < 0 {
		return ""
	}
	return "Not so good: " + trace[worst].Reason + "."
}
