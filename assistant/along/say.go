package along

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/sheet"
)

// What people say to move a build on.
var (
	onWords    = []string{"", "done", "next", "yes", "y", "ok", "okay", "ready", "go on", "continue", "go", "did it", "finished", "all done", "its done", "build", "right", "good", "read", "understood", "skip", "skip it", "whats next", "what next", "what is next", "and now", "then what"}
	backWords  = []string{"back", "previous", "go back", "one back", "back one step", "previous step"}
	whyWords   = []string{"why", "why this", "why this step", "what for", "why do i do this", "what is this for", "whats this for", "what is that for"}
	moreWords  = []string{"more", "tell me more", "more please", "show more", "go deeper", "how", "how do i do that", "how exactly"}
	againWords = []string{"again", "repeat", "show", "show the step", "where was i", "where am i", "the step", "what now", "what was that", "sorry"}
	offWords   = []string{"no", "n", "not ok", "it is off", "its off", "something is wrong", "it is wrong", "its wrong", "not right", "that failed", "it failed", "problem", "help me", "it does not fit", "if not"}
	undoWords  = []string{"undo", "take it off", "undo it", "how do i undo it", "start this step again"}
	cardWords  = []string{"card", "cut list", "the cuts", "just the cuts", "shopping list", "what do i cut", "the card", "show the card", "show card", "overview"}
	stopWords  = []string{"stop here", "stop", "pause", "later", "stop for now", "come back later", "tomorrow", "enough for today", "go on later", "take a break", "stop for today", "we stop for today", "lets stop", "lets stop for today", "thats it for today", "thats enough for today", "bye", "goodbye", "done bye"}
	quitWords  = []string{"cancel", "cancel the build", "another head", "change the head", "other head", "quit the build", "back to the head", "end the build"}
	skipWords  = []string{"", "skip", "not measured", "cant", "dont know", "i dont know", "next", "no", "pass",
		"done", "ok", "okay", "go on", "continue", "ready", "all done", "finished", "i didnt measure", "didnt measure", "i did not measure it", "cant measure", "no idea", "not sure", "i dont have that", "dont have that", "dont have one", "i dont have one", "havent got one", "i havent got that", "none", "nothing to measure with"}
	noScale   = []string{"no scale", "we dont have a scale", "we have no scale", "i have no scale", "i dont have a scale", "without a scale"}
	noCaliper = []string{"no caliper", "we dont have a caliper", "we have no caliper", "i have no caliper", "i dont have a caliper", "without a caliper"}
	unitWord  = regexp.MustCompile(`(?i)[0-9 ](g|gr|grams?|kg|mm|cm|in|inch(es)?|oz)\b|["”]`)
	wrapWords = []string{"rewrap", "re wrap", "rewrap it", "new yarn", "wrap it again"}
)

// Show says where the build stands.
func (b *Build) Show() Reply {
	var r Reply
	switch b.mode {
	case card:
		b.card(&r)
	case caution:
		b.cautions(&r)
	case doing:
		b.doing(&r)
	case waiting:
		b.wait(&r)
	case measuring:
		r.say("At step %d, %s.", b.at+1, b.step().Title)
	}
	return b.ask(r)
}

// settledOn is a line without the word of assent that it begins with: ok done.
func settledOn(plain string) string {
	for _, lead := range []string{"ok ", "okay ", "right ", "yes ", "yep ", "alright ", "so "} {
		if rest, ok := strings.CutPrefix(plain, lead); ok {
			return rest
		}
	}
	return plain
}

// Goes reports whether a line says no more than that something is done.
func Goes(line string) bool { return slices.Contains(onWords, settledOn(answer.Plain(line))) }

// Again asks again what is open.
func (b *Build) Again() Reply { return b.ask(Reply{}) }

// Say answers a line, and reports whether the build made anything of it.
func (b *Build) Say(line string) (Reply, bool) {
	plain := settledOn(answer.Plain(line))
	is := func(list []string) bool { return slices.Contains(list, plain) }
	switch {
	case is(stopWords):
		return Reply{Leave: true}, true
	case is(quitWords):
		return Reply{Quit: true}, true
	case is(cardWords):
		var r Reply
		b.card(&r)
		return b.ask(r), true
	}
	switch b.mode {
	case measuring:
		return gauging{b}.measure(line, plain)
	case fixing:
		return gauging{b}.fix(plain)
	case pairing:
		return gauging{b}.pair(plain)
	case checking:
		return b.check(plain)
	case finished:
		return b.finish(plain)
	}
	if by, ok := wished(plain); ok {
		return b.aim(by), true
	}
	switch {
	case is(wrapWords):
		return Reply{Rewrap: true}, true
	case is(onWords), b.mode == card && answer.Begin(line):
		return b.on(), true
	case is(backWords):
		return b.back(), true
	case is(whyWords):
		return b.why(), true
	case is(moreWords):
		return b.more(), true
	case is(noScale), is(noCaliper):
		return b.ask(b.without(is(noScale))), true
	case is(againWords):
		return b.Show(), true
	case is(offWords), is(undoWords):
		return b.off(is(undoWords)), true
	}
	if b.mode == doing {
		if list := b.gauges(); len(list) > 0 && list[0].reads(line) { // a figure before it was asked for
			b.mode, b.gauge, b.head = measuring, 0, 0
			return gauging{b}.measure(line, plain)
		}
	}
	if r, ok := b.early(line); ok {
		return r, true
	}
	return b.trouble(plain)
}

// early says of a figure in g, kg, mm or in at which step it is asked for, if one
// that is still to come does.
func (b *Build) early(line string) (r Reply, ok bool) {
	if !unitWord.MatchString(line) {
		return r, false
	}
	for i := max(b.at, 0); i < len(b.steps()); i++ {
		step := b.steps()[i]
		if slices.ContainsFunc(gauging{b}.of(step), func(g gauge) bool { return g.reads(line) }) {
			r.say("I ask for that at step %d, %s: keep it until then.", i+1, step.Title)
			return b.ask(r), true
		}
	}
	return r, false
}

// on goes on to what comes next.
func (b *Build) on() Reply {
	switch b.mode {
	case card:
		b.at = 0
		return b.arrive(Reply{})
	case waiting:
		return b.arrive(Reply{})
	case caution:
		if len(b.untold()) > 0 {
			b.take(nil)
			return b.Show()
		}
		b.mode = doing
		return b.Show()
	}
	if len(b.gauges()) > 0 {
		b.mode, b.gauge, b.head = measuring, 0, 0
		return b.ask(Reply{})
	}
	return b.leave(Reply{})
}

// leave ends a step and comes to the next. A long wait between them is a
// place of its own, to come back to.
func (b *Build) leave(r Reply) Reply {
	const long = 60
	wait := b.step().WaitMin
	if b.at+1 == len(b.steps()) {
		b.mode = finished
		b.sum(&r)
		return b.ask(r)
	}
	b.at++
	if wait >= long {
		b.mode, b.waitMin = waiting, wait
		b.wait(&r)
		return b.ask(r)
	}
	if wait >= 1 {
		r.say("Now it has to rest for %s.", reply.Span(wait))
	}
	return b.arrive(r)
}

func (b *Build) wait(r *Reply) {
	r.WaitMin = b.waitMin
	r.say("Now it has to rest for %s. Say stop here and come back: it goes on from here. More than that does no harm.", reply.Span(b.waitMin))
}

// arrive shows the step that is now open, its new cautions before it.
func (b *Build) arrive(r Reply) Reply {
	b.mode = doing
	if len(b.untold()) > 0 {
		b.mode = caution
		b.take(r.Page)
		b.cautions(&r)
	} else {
		b.doing(&r)
	}
	return b.ask(r)
}

func (b *Build) back() Reply {
	if b.mode == card {
		return Reply{Quit: true}
	}
	if b.mode == doing || b.mode == caution || b.mode == waiting {
		b.at--
	}
	if b.at < 0 {
		b.mode = card
		return b.Show()
	}
	b.mode = doing
	return b.Show()
}

// untold are the cautions of the open step that have not been told in full.
func (b *Build) untold() []sheet.Caution {
	var list []sheet.Caution
	for _, c := range b.step().Cautions {
		if !b.told[c.ID] {
			list = append(list, c)
		}
	}
	return list
}

// Lines that one screen of a build takes, of the 24 of a small terminal.
const (
	screen  = 19
	columns = 78
)

// take puts the next cautions on a screen of their own, as many as it holds.
func (b *Build) take(above page.Page) {
	b.hazards = nil
	lines := height(above) + 2
	for i, c := range b.untold() {
		lines += height(page.Page{page.Para(inFull(c))})
		if i > 0 && lines > screen {
			return
		}
		b.hazards = append(b.hazards, c)
		b.told[c.ID] = true
	}
}

func inFull(c sheet.Caution) string {
	return fmt.Sprintf("CAUTION. %s %s %s", c.Hazard, c.Do, c.Defer)
}

// cautions tells the cautions that first stand at this step in full.
func (b *Build) cautions(r *Reply) {
	r.say("Before step %d, %s:", b.at+1, b.step().Title)
	for _, c := range b.hazards {
		r.say("%s", inFull(c))
	}
}

// height is how many lines a page takes.
func height(p page.Page) int {
	n := 0
	for _, block := range p {
		switch x := block.(type) {
		case page.Para:
			n += len(strings.Split(page.Wrap(string(x), columns, ""), "\n")) + 1
		case page.List:
			for _, item := range x.Items {
				n += len(strings.Split(page.Wrap(item, columns-2, ""), "\n"))
			}
			n++
		default:
			n += 2
		}
	}
	return n
}

// card is the whole build on one screen.
func (b *Build) card(r *Reply) {
	c := b.heads[0].planned
	h := c.Head
	w := reply.In(b.g.cat)
	title := "Building " + reply.Count(len(b.heads), "head")
	if job, ok := b.g.cat.Job(b.job.ID); ok {
		title = job.Title + ", " + reply.Count(len(b.heads), "head")
	}
	list := []string{"parts of each: " + w.Stack(h.Stack)}
	if b.job.ID == "" {
		for i, l := range h.Layers {
			list = append(list, fmt.Sprintf("cut for layer %d: %s and a spare, each %s", i+1, reply.Count(len(b.heads), "slice"), l.Cut.Rule()))
		}
	}
	if h.Stack.Wrap != nil {
		list = append(list, fmt.Sprintf("wind: %d turns, %.0f m of yarn for each", h.Turns, float64(h.YarnLength)+0.5))
	}
	list = append(list, fmt.Sprintf("expect: %.1f ± %.1f g and %s across", h.Mass.Grams(), h.MassTol.Grams(), h.Diameter.Rule()))
	work, wait := b.Effort()
	list = append(list, "time: "+reply.Hours(work, wait))
	if b.job.Buy != "" {
		list = append(list, "buy: "+b.job.Buy)
	}
	var mind []string
	for _, s := range b.steps() {
		for _, x := range s.Cautions {
			if name := x.Name; !slices.Contains(mind, name) {
				mind = append(mind, name)
			}
		}
	}
	if len(mind) > 0 {
		list = append(list, "cautions on the way, each at its step: "+strings.Join(mind, ", "))
	}
	r.Page = append(r.Page, page.Heading{Level: 2, Text: title}, page.List{Items: list})
	if b.job.ID == "rewrap" {
		r.say("Say softer or harder for other turns than these.")
	}
	r.say("%s. At each, say done, or back, why, it slipped, stop here. I ask for what you measure, and the rest follows it.", reply.Capital(reply.Count(len(b.steps()), "step")))
}

// doing shows the open step.
func (b *Build) doing(r *Reply) {
	s := b.step()
	whose := ""
	if len(b.heads) > 1 && !s.Once {
		whose = ", " + map[bool]string{true: "both heads", false: "all heads"}[len(b.heads) == 2]
	}
	r.Page = append(r.Page, page.Heading{Level: 2, Text: fmt.Sprintf("Step %d of %d%s: %s", b.at+1, len(b.steps()), whose, s.Title)})
	r.say("%s", s.Text)
	if s.ID == "match-pair" {
		if text := (gauging{b}).pairs(); text != "" {
			r.say("%s", text)
		}
	}
	var notes []string
	for i := 1; i < len(b.heads); i++ { // where a head has figures of its own
		if x, ok := find(b.heads[i].steps, s); ok && x.Title != s.Title {
			notes = append(notes, fmt.Sprintf("head %d: %s", i+1, x.Title))
		}
	}
	if s.Check != "" {
		notes = append(notes, "right when: "+s.Check)
	}
	for _, c := range s.Cautions {
		if !slices.ContainsFunc(b.hazards, func(x sheet.Caution) bool { return x.ID == c.ID }) {
			notes = append(notes, "mind, as told: "+c.Name)
		}
	}
	if len(notes) > 0 {
		r.Page = append(r.Page, page.List{Items: notes})
	}
}

// find returns the step of a list that is the same as s.
func find(list []sheet.Step, s sheet.Step) (sheet.Step, bool) {
	i := slices.IndexFunc(list, func(x sheet.Step) bool { return x.ID == s.ID && x.Layer == s.Layer })
	if i < 0 {
		return sheet.Step{}, false
	}
	return list[i], true
}

// why says what a step is for: what goes wrong without it.
func (b *Build) why() Reply {
	var r Reply
	if b.mode == card {
		r.say("So that a wrong part or a slip shows at once, while it can still be put right, and not in the finished head.")
		return b.ask(r)
	}
	switch s := b.step(); {
	case s.More != "":
		r.say("%s", s.More)
	case s.Check != "":
		r.say("The next steps build on this: %s", s.Check)
	default:
		r.say("The next steps build on it.")
	}
	if b.mode == caution {
		r.say("The caution stands before the step, since that is where it can hurt.")
	}
	return b.ask(r)
}

// more is all that there is to say of a step: what it is for, what to do where it
// is not right, and how it is undone.
func (b *Build) more() Reply {
	if b.mode == card {
		return b.why()
	}
	r, s := b.why(), b.step()
	for _, x := range [][2]string{{"If it is not right", s.IfOff}, {"To undo", s.Undo}, {"Tools", strings.Join(s.Tools, ", ")}} {
		if x[1] != "" {
			r.say("%s: %s", x[0], x[1])
		}
	}
	return r
}

// off says what to do where a step went wrong.
func (b *Build) off(undo bool) Reply {
	var r Reply
	if b.mode == card {
		r.say("Then say what should be different, after: another head.")
		return b.ask(r)
	}
	s := b.step()
	if s.IfOff != "" && !undo {
		r.say("If it is not right: %s", s.IfOff)
	}
	if s.Undo != "" {
		r.say("To undo: %s", s.Undo)
	}
	if len(r.Page) == 0 {
		r.say("There is nothing to undo in this step; do it again at leisure.")
	}
	if !undo {
		r.say("Or say what you see: it slipped, it tore, it rattles.")
	}
	return b.ask(r)
}

// ask puts the open question under a reply.
func (b *Build) ask(r Reply) Reply {
	switch b.mode {
	case card:
		r.Ask, r.Enter = "Shall we begin?", "the first step"
	case caution:
		r.Ask, r.Enter = "Read?", "go on"
	case waiting:
		r.Ask, r.Enter = "Has it rested?", "the next step"
	case doing:
		r.Ask, r.Enter = "Say done when it is right.", "done"
	case measuring:
		r.Ask, r.Enter = gauging{b}.question(), "not measured"
	case fixing:
		r.Ask, r.Enter = "Which?", "1"
	case pairing:
		r.Ask, r.Enter = "Shall I note those turns?", "yes"
	case checking:
		r.Ask, r.Enter = b.woe.Question(b.g.cat), "no"
	case finished:
		r.Ask, r.Enter = "Shall I keep what you measured, so that later figures follow your parts?", "yes"
		if len(b.Built()) == 0 {
			r.Ask = "That was the last step."
			r.Enter = "the end"
		}
	}
	return r
}

// sum is what came out.
func (b *Build) sum(r *Reply) {
	var list []string
	for i, m := range b.heads {
		var figures []string
		for _, f := range m.figures {
			figures = append(figures, f.String())
		}
		if len(figures) > 0 {
			list = append(list, fmt.Sprintf("head %d: %s", i+1, strings.Join(figures, ", ")))
		}
	}
	r.say("Built: %s.", reply.Count(len(b.heads), "head"))
	if len(list) > 0 {
		r.Page = append(r.Page, page.List{Items: list})
	}
}

func (b *Build) finish(plain string) (Reply, bool) {
	switch {
	case slices.Contains(onWords, plain) || slices.Contains([]string{"keep", "keep it", "built", "save it"}, plain):
		return Reply{Done: true, Keep: len(b.Built()) > 0}, true
	case slices.Contains(skipWords, plain):
		return Reply{Done: true}, true
	case slices.Contains(backWords, plain):
		b.mode = doing
		return b.Show(), true
	}
	return b.trouble(plain)
}
