package sheet

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"mallow/assistant/page"
)

// Room is what a class works with: lessons of so many minutes, and how many
// can cut and how many can drill at a time.
type Room struct {
	LessonMin      float64
	Knives, Drills int
}

// Lesson is one lesson of a plan.
type Lesson struct {
	Number int      `json:"number"`
	From   int      `json:"from"` // of the steps for all: where the first stands, and where the last ends
	To     int      `json:"to"`
	Cut    []string `json:"at_the_knives,omitempty"` // in turn
	Drill  []string `json:"at_the_drill,omitempty"`
	Rest   []string `json:"resting,omitempty"` // whose heads dry or set until the next lesson or longer
	Idle   []string `json:"waiting,omitempty"` // who waits for a tool
	// IdleMin is how long at most, in minutes.
	IdleMin float64 `json:"waiting_min,omitempty"`
	Done    int     `json:"count"` // makers who are ready at its end
}

// setting is what a lesson loses to laying out and clearing up, in minutes:
// common practice, no source.
const setting = 10.0

// mostLessons bounds a plan.
const mostLessons = 60

// The cautions of the tools that not everybody can have at once.
const atKnife, atDrill = "knife", "drill-round"

// The cautions of a head that holds latex, and of one that is built apart from it.
const holdsLatex, apartFromLatex = "latex-allergy", "latex-room"

// bench is a maker going through a sheet.
type bench struct {
	name  string
	steps []Step
	heads float64
	rank  int // in the order that is tried
	at    int
	left  float64 // minutes of the open step
	busy  bool
	ready float64 // minute of the lesson at which the last wait is over; beyond it for one that goes on
	idle  float64
}

func (b *bench) done() bool { return b.at == len(b.steps) }

// has reports whether a step has a caution.
func (b *bench) has(caution string) bool {
	return slices.ContainsFunc(b.steps, func(s Step) bool {
		return slices.ContainsFunc(s.Cautions, func(c Caution) bool { return c.ID == caution })
	})
}

// cuts reports whether a step with the knife is still to come.
func (b *bench) cuts() bool {
	return slices.ContainsFunc(b.steps[b.at:], func(s Step) bool { return needs(s) == atKnife })
}

// needs is the caution of a shared tool that a step is done with; empty for
// none.
func needs(s Step) string {
	for _, c := range s.Cautions {
		if c.ID == atKnife || c.ID == atDrill {
			return c.ID
		}
	}
	return ""
}

// takes is how long a maker is at a step.
func (b *bench) takes(s Step) float64 {
	if s.Once {
		return math.Ceil(s.WorkMin)
	}
	return math.Ceil(s.WorkMin * b.heads)
}

// work is how long a maker is at the steps from the open one on, at those of a
// tool if one is named, and how long before the first and after the last of them.
func (b *bench) work(tool string) (at, before, after float64) {
	for _, s := range b.steps[b.at:] {
		t := b.takes(s)
		switch {
		case tool == "" || needs(s) == tool:
			at, after = at+t, 0
		case at == 0:
			before += t
		default:
			after += t
		}
	}
	return at, before, after
}

// Taught returns the bundle with a plan of lessons for a room.
func (b Bundle) Taught(room Room) Bundle {
	b.room = room
	b.Plan, b.least = b.lessons(room)
	return b
}

// AtLeast is how many lessons no plan for the room can be under.
func (b Bundle) AtLeast() int { return b.least }

// makers are those who have steps of their own.
func (b Bundle) makers() []bench {
	var class []bench
	for i, s := range b.Sheets {
		m := bench{name: b.Rows[i].Name, heads: float64(s.Heads)}
		for _, x := range s.Steps {
			if !x.ByAdult && !x.Optional {
				m.steps = append(m.steps, x)
			}
		}
		class = append(class, m)
	}
	return class
}

// length is the minutes of a lesson that are left for work.
func (r Room) length() float64 { return max(r.LessonMin-setting, 5) }

// places are how many can be at each tool.
func (r Room) places() map[string]int {
	return map[string]int{atKnife: max(r.Knives, 1), atDrill: max(r.Drills, 1)}
}

// lessons plans the work of a class in as few lessons as any of the orders gives
// that are tried at the tools, and of those with the least waiting; least is a
// number that no plan can be under. Whoever's head is built apart from latex cuts
// before anybody cuts latex.
func (b Bundle) lessons(room Room) (best []Lesson, least int) {
	class := b.makers()
	least = b.atLeast(room, class)
	waits := func(plan []Lesson) (sum float64) {
		for _, l := range plan {
			sum += l.IdleMin * float64(len(l.Idle))
		}
		return sum
	}
	left := func(m *bench, tool string) float64 { at, _, _ := m.work(tool); return at }
	orders := []func(a, b *bench) int{
		func(a, b *bench) int { return cmp.Compare(a.at, b.at) }, // furthest behind
		func(a, b *bench) int { return cmp.Compare(left(b, ""), left(a, "")) },
		func(a, b *bench) int { return cmp.Compare(left(b, atKnife), left(a, atKnife)) },
		func(a, b *bench) int { return cmp.Compare(left(b, atDrill), left(a, atDrill)) },
		func(a, b *bench) int { return cmp.Compare(left(a, ""), left(b, "")) },
	}
	const shuffles = 12
	for range shuffles { // and others in no order of sense
		orders = append(orders, func(a, b *bench) int { return cmp.Compare(a.rank, b.rank) })
	}
	r := rand.New(rand.NewPCG(1, 2)) // the same class has the same plan
	for _, order := range orders {
		for i, j := range r.Perm(len(class)) {
			class[i].rank = j
		}
		plan := b.schedule(room, class, order)
		if best == nil || len(plan) < len(best) || len(plan) == len(best) && waits(plan) < waits(best) {
			best = plan
		}
	}
	return best, least
}

// atLeast is how many lessons no plan can be under: as many as the slowest
// maker takes with every tool free, and as the busiest tool takes from when the
// first can be at it until the last can be done after it.
func (b Bundle) atLeast(r Room, class []bench) int {
	alone := Room{r.LessonMin, 1, 1}
	least := 0
	for _, m := range class {
		least = max(least, len(b.schedule(alone, []bench{m}, func(a, b *bench) int { return 0 })))
	}
	for tool, n := range r.places() {
		sum, first, last := 0.0, math.Inf(1), math.Inf(1)
		for _, m := range class {
			if at, before, after := m.work(tool); at > 0 {
				sum, first, last = sum+at, min(first, before), min(last, after)
			}
		}
		if sum > 0 {
			least = max(least, int(math.Ceil((sum/float64(n)+first+last)/r.length()-1e-9)))
		}
	}
	return least
}

// schedule is a plan in which everybody goes through their own steps, in an order
// at a tool that there are few of; what dries or sets longer than a lesson is over
// by the next, a day or more later. Winding and sewing go on where they stopped;
// anything else is only begun where it can be ended for a head at least, unless no
// lesson is long enough for it.
func (b Bundle) schedule(room Room, makers []bench, order func(a, b *bench) int) []Lesson {
	all := b.common()
	number := func(s Step) int {
		return 1 + slices.IndexFunc(all.Steps, func(x Step) bool { return x.ID == s.ID && x.Layer == s.Layer })
	}
	makers = slices.Clone(makers)
	var class []*bench
	for i := range makers {
		class = append(class, &makers[i])
	}
	free, length := room.places(), room.length()
	apart := func(m *bench) bool { return m.has(apartFromLatex) && m.cuts() }
	var plan []Lesson
	for len(plan) < mostLessons && slices.ContainsFunc(class, func(m *bench) bool { return !m.done() }) {
		l := Lesson{Number: len(plan) + 1, From: len(all.Steps)}
		for _, m := range class {
			m.ready, m.idle = 0, 0
			if !m.done() {
				l.From = min(l.From, number(m.steps[m.at]))
			}
		}
		for t := 0.0; t < length; t++ {
			turn := slices.Clone(class)
			slices.SortStableFunc(turn, order)
			clean := !slices.ContainsFunc(class, apart) // nobody is left who cuts before latex is cut
			for _, m := range turn {
				if m.busy || m.done() || m.ready > t {
					continue
				}
				s := m.steps[m.at]
				tool := needs(s)
				if m.left == 0 {
					m.left = m.takes(s)
				}
				goesOn := strings.HasPrefix(s.ID, "wrap-") || s.ID == "crown-stitch" || m.left > length
				if !goesOn && m.left > length-t && (s.Once || s.WorkMin > length-t) { // not even for one head
					m.ready = math.Inf(1) // next time
					continue
				}
				if tool != "" {
					if free[tool] == 0 || tool == atKnife && !clean && m.has(holdsLatex) {
						m.idle++
						continue
					}
					free[tool]--
					if turn := map[string]*[]string{atKnife: &l.Cut, atDrill: &l.Drill}[tool]; !slices.Contains(*turn, m.name) {
						*turn = append(*turn, m.name)
					}
				}
				m.busy = true
			}
			for _, m := range class { // a minute passes
				if !m.busy {
					continue
				}
				if m.left--; m.left > 0 {
					continue
				}
				s := m.steps[m.at]
				m.busy, m.left = false, 0
				if tool := needs(s); tool != "" {
					free[tool]++
				}
				l.To = max(l.To, number(s))
				if m.at++; s.WaitMin > 0 {
					m.ready = t + 1 + s.WaitMin
					if m.ready >= length && !m.done() && !slices.Contains(l.Rest, m.name) {
						l.Rest = append(l.Rest, m.name)
					}
				}
			}
		}
		for _, m := range class {
			if m.busy { // goes on with it next time, at the same place
				m.busy = false
				if tool := needs(m.steps[m.at]); tool != "" {
					free[tool]++
				}
				l.To = max(l.To, number(m.steps[m.at]))
			}
			if m.idle >= 3 {
				l.Idle = append(l.Idle, m.name)
				l.IdleMin = max(l.IdleMin, m.idle)
			}
			if m.done() {
				l.Done++
			}
		}
		plan = append(plan, l)
	}
	return plan
}

// planned are the lessons as a table, with what it supposes.
func (b Bundle) planned() (page.Table, string) {
	t := page.Table{Title: fmt.Sprintf("Lessons of %.0f minutes, with %d at the knives and %d at the drill at a time", b.room.LessonMin, b.room.Knives, b.room.Drills),
		Head: []string{"lesson", "steps", "at the knives, in turn", "at the drill, in turn", "drying or setting after it", "waiting for a tool", "ready"}, Right: []bool{true, false, false, false, false, false, true}}
	list := func(names []string, most int) string {
		switch {
		case len(names) == len(b.Rows) && len(names) > 3:
			return "everybody"
		case len(names) > most:
			return fmt.Sprintf("%d makers", len(names))
		}
		return strings.Join(names, ", ")
	}
	for _, l := range b.Plan {
		idle := list(l.Idle, 3)
		if l.IdleMin > 0 {
			idle += fmt.Sprintf(", up to %.0f min", l.IdleMin)
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(l.Number), fmt.Sprintf("%d to %d", l.From, max(l.To, l.From)), list(l.Cut, 12), list(l.Drill, 12), list(l.Rest, 4), idle, fmt.Sprint(l.Done)})
	}
	better := ""
	for _, x := range []struct {
		more Room
		what string
	}{{Room{b.room.LessonMin, b.room.Knives + 1, b.room.Drills}, "one more at the knives"}, {Room{b.room.LessonMin, b.room.Knives, b.room.Drills + 1}, "one more drill"}} {
		if plan, _ := b.lessons(x.more); len(plan) < len(b.Plan) {
			better += fmt.Sprintf(" With %s it would be %d.", x.what, len(plan))
		}
	}
	few := ", and no plan with these tools takes fewer."
	if b.least < len(b.Plan) {
		few = fmt.Sprintf("; at least %d are needed.", b.least)
	}
	apart := ""
	if slices.ContainsFunc(b.makers(), func(m bench) bool { return m.has(apartFromLatex) }) && slices.ContainsFunc(b.makers(), func(m bench) bool { return m.has(holdsLatex) }) {
		apart = "Heads without latex are cut first, with a knife and a mat of their own, before any latex is. "
	}
	return t, fmt.Sprintf("%d lessons%s%s ", len(b.Plan), few, better) + apart + fmt.Sprint("Ten minutes of each lesson are for laying out and clearing up; lessons are a day or more apart, so that what dries or sets is ready. "+
		"Each maker's parts go into a bag with the name on it, at every lesson's end the head as well. Who waits for a tool winds practice turns on a spare ball, weighs for a neighbour, or sorts bags; nobody who waits stands beside a blade or the drill. Optional steps are left out. The flags --period, --knives and --drills change the plan.")
}
