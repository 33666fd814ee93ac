package sheet

import (
	"cmp"
	"fmt"
	"math"
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

// bench is a maker going through a sheet.
type bench struct {
	name  string
	steps []Step
	heads float64
	at    int
	left  float64 // minutes of the open step
	busy  bool
	ready float64 // minute of the lesson at which the last wait is over; beyond it for one that goes on
	idle  float64
}

func (b *bench) done() bool { return b.at == len(b.steps) }

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

// takes is how long a maker is at the open step.
func (b *bench) takes() float64 {
	s := b.steps[b.at]
	if s.Once {
		return math.Ceil(s.WorkMin)
	}
	return math.Ceil(s.WorkMin * b.heads)
}

// Taught returns the bundle with a plan of lessons for a room.
func (b Bundle) Taught(room Room) Bundle {
	b.room, b.Plan = room, b.lessons(room)
	return b
}

// lessons plans the work of a class: everybody goes through their own steps,
// those furthest behind first at a tool that there are few of, and what dries or
// sets longer than a lesson is over by the next, a day or more later. Winding and
// sewing go on where they stopped; anything else is only begun where it can be
// ended for a head at least, unless no lesson is long enough for it.
func (b Bundle) lessons(room Room) []Lesson {
	all := b.common()
	number := func(s Step) int {
		return 1 + slices.IndexFunc(all.Steps, func(x Step) bool { return x.ID == s.ID && x.Layer == s.Layer })
	}
	var class []*bench
	for i, s := range b.Sheets {
		m := &bench{name: b.Rows[i].Name, heads: float64(s.Heads)}
		for _, x := range s.Steps {
			if !x.ByAdult && !x.Optional {
				m.steps = append(m.steps, x)
			}
		}
		class = append(class, m)
	}
	free := map[string]int{atKnife: max(room.Knives, 1), atDrill: max(room.Drills, 1)}
	length := max(room.LessonMin-setting, 5)
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
			order := slices.Clone(class)
			slices.SortStableFunc(order, func(a, b *bench) int { return cmp.Compare(a.at, b.at) })
			for _, m := range order {
				if m.busy || m.done() || m.ready > t {
					continue
				}
				s := m.steps[m.at]
				tool := needs(s)
				if m.left == 0 {
					m.left = m.takes()
				}
				goesOn := strings.HasPrefix(s.ID, "wrap-") || s.ID == "crown-stitch" || m.left > length
				if !goesOn && m.left > length-t && (s.Once || s.WorkMin > length-t) { // not even for one head
					m.ready = math.Inf(1) // next time
					continue
				}
				if tool != "" {
					if free[tool] == 0 {
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
		if n := len(b.lessons(x.more)); n < len(b.Plan) {
			better += fmt.Sprintf(" With %s it would be %d.", x.what, n)
		}
	}
	return t, fmt.Sprintf("%d lessons.%s ", len(b.Plan), better) + fmt.Sprint("Ten minutes of each lesson are for laying out and clearing up; lessons are a day or more apart, so that what dries or sets is ready. "+
		"Each maker's parts go into a bag with the name on it, at every lesson's end the head as well. Who waits for a tool winds practice turns on a spare ball, weighs for a neighbour, or sorts bags; nobody who waits stands beside a blade or the drill. Optional steps are left out. `--period`, `--knives` and `--drills` change the plan.")
}
