package class

import (
	"context"
	"math"
	"strings"
	"testing"

	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
	"mallow/rules/stock"
)

// TestSharingIsExact compares the choice within a budget with trying every
// pick, each ordered in earnest.
func TestSharingIsExact(t *testing.T) {
	f := proposetest.Finder(t)
	ask := func(notches float64, latex bool) *group {
		q := propose.Request{Known: rules.Known{}, Heads: 2}
		q.Facts.Player = facts.Player{Grip: "two", Level: "first"}
		q.Pass = proposetest.Grown().But(gate.LatexOK, latex)
		q.Facts.Bench = facts.Bench{Drill: true}
		q.Facts.Want.Softness = notches
		return &group{q: q, heads: 2}
	}
	bin := &stock.Bin{Items: []stock.Item{
		{Part: "poly-1-1/8", Amount: 4}, {Part: "latex-3/4x1/8", Amount: 0.2}, {Part: "wool-medium", Amount: 0.05},
	}}
	for _, tt := range []struct {
		name   string
		wishes []*group
		each   []int // students with each wish
		bin    *stock.Bin
	}{
		{"two alike and one", []*group{ask(0, true), ask(3, true)}, []int{2, 1}, nil},
		{"three, one without latex", []*group{ask(0, true), ask(4, true), ask(1, false)}, []int{1, 3, 1}, nil},
		{"parts on hand", []*group{ask(0, true), ask(4, true), ask(-3, true)}, []int{2, 1, 1}, bin},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := &sharing{f: f, bin: tt.bin, wishes: tt.wishes, ctx: context.Background()}
			for i, w := range s.wishes {
				w.who = make([]int, tt.each[i])
				if err := serve(s.ctx, f, w, fewOptions, nil); err != nil {
					t.Fatal(err)
				}
			}
			s.widen(s.ctx)
			for _, w := range s.wishes { // the ends of the list, so that all can be tried
				if n := len(w.options); n > 7 {
					w.options = append(w.options[:2:2], w.options[n-5:]...)
				}
			}
			if _, err := s.choose(make(pick, len(s.wishes)), &Class{}); err != nil { // counts what the options take
				t.Fatal(err)
			}
			type tried struct {
				total measure.Money
				lost  float64
			}
			var all []tried
			least := measure.Money(math.MaxInt64)
			p := make(pick, len(s.wishes))
			var every func(k int)
			every = func(k int) {
				if k == len(p) {
					o, err := s.order(p)
					if err != nil {
						t.Fatal(err)
					}
					all = append(all, tried{o.Total, s.lost(p)})
					least = min(least, o.Total)
					return
				}
				for i := range s.wishes[k].options {
					p[k] = i
					every(k + 1)
				}
			}
			every(0)
			for _, budget := range []measure.Money{least - 1, least, least * 5 / 4, least * 3 / 2, least * 2, 0} {
				s.budget = budget
				var c Class
				chosen, err := s.choose(make(pick, len(s.wishes)), &c)
				if err != nil {
					t.Fatal(err)
				}
				if budget > 0 && budget < least {
					if c.Within || c.Least != least || c.LeastBound != least {
						t.Errorf("nothing costs less than %v; found %v, bound %v", least, c.Least, c.LeastBound)
					}
					continue
				}
				want := math.Inf(1)
				for _, x := range all {
					if budget == 0 || x.total <= budget {
						want = min(want, x.lost+s.cent*float64(x.total))
					}
				}
				o, err := s.order(chosen)
				if err != nil {
					t.Fatal(err)
				}
				if got := s.points(chosen, o.Total); math.Abs(got-want) > 1e-6 || math.Abs(c.PointsBound-want) > 1e-6 {
					t.Errorf("budget %v: %g points with a lower bound of %g; of %d picks, the best has %g", budget, got, c.PointsBound, len(all), want)
				}
			}
		})
	}
}

// Two wishes whose usual shafts differ only in length are built from one length,
// where a pack of it does for both.
func TestOneLengthOfDowel(t *testing.T) {
	f := proposetest.Finder(t)
	r := ReadRoster(f, "one.yaml", []byte(`class: invented
facts: {player.level: some, player.minor: false, player.latex_ok: true}
students:
  - {name: A, facts: {instrument.kind: marimba, want.softness: medium}}
  - {name: B, facts: {instrument.kind: marimba, player.grip: cross, want.softness: medium}, heads: 4}
`))
	c, err := Plan(context.Background(), f, r, func(string) (propose.Request, []string, error) { return proposetest.Player(), nil, nil })
	if err != nil || len(r.Broken) > 0 {
		t.Fatal(err, r.Broken)
	}
	var dowels []string
	for _, l := range c.Order.Lines {
		if strings.HasPrefix(l.Part, "birch-1") {
			dowels = append(dowels, l.Part)
		}
	}
	if len(dowels) != 1 || c.Students[0].Head.Stack.Shaft.ID != c.Students[1].Head.Stack.Shaft.ID {
		t.Errorf("dowels %v, on %s and %s", dowels, c.Students[0].Stack, c.Students[1].Stack)
	}
}
