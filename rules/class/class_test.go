package class_test

import (
	"context"
	"fmt"
	"log"
	"os"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge/measure"
	"mallow/rules/class"
	"mallow/rules/propose"
	"mallow/rules/propose/proposetest"
	"mallow/rules/stock"
)

// plainWords reads every wish as the plain request.
func plainWords(string) (propose.Request, []string, error) { return proposetest.Player(), nil, nil }

func roster(t testing.TB, f *propose.Finder, name string) class.Roster {
	t.Helper()
	data, err := os.ReadFile("../../testdata/class/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return class.ReadRoster(f, name, data)
}

// A broken line is reported with its place and what would be valid, and takes
// no other student along.
func TestReadRosterBroken(t *testing.T) {
	f := proposetest.Finder(t)
	r := roster(t, f, "broken.yaml")
	var names []string
	for _, s := range r.Students {
		names = append(names, s.Name)
	}
	want := []string{"Student A", "Student B", "Student C", "Student D", "Student A (line 10)", "Student E", "Student F", "Student G"}
	if !slices.Equal(names, want) {
		t.Fatalf("kept %q, want %q", names, want)
	}
	for i, faulty := range []bool{false, true, true, true, false, true, true, false} {
		if got := len(r.Students[i].Broken) > 0; got != faulty {
			t.Errorf("%s: faulty is %v: %v", r.Students[i].Name, got, r.Students[i].Broken)
		}
	}
	if len(r.Unsafe) != 1 || r.Unsafe[0].Line != 11 {
		t.Errorf("in fields of safety: %v", r.Unsafe)
	}
	said := r.Broken.Error()
	for _, want := range []string{
		`broken.yaml:7:31: no answer is called "want.softnes" (did you mean "want.softness"?)`,
		`broken.yaml:8:44: player.grip can't be "crosswise" (one of cross, independent, two)`,
		`broken.yaml:9:`,
		`broken.yaml:10:12: "Student A" is on line 6 already`,
		`broken.yaml:11:28: an age of 3 can't be (4 to 120; `,
		`broken.yaml:13:5:`,
	} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in\n%s", want, said)
		}
	}
}

func TestClass(t *testing.T) {
	f := proposetest.Finder(t)
	r := roster(t, f, "demo.yaml")
	if len(r.Broken) > 0 {
		t.Fatal(r.Broken)
	}
	for _, budget := range []measure.Money{0, 20000, 1000} {
		r.Budget = budget
		c, err := class.Plan(context.Background(), f, r, plainWords)
		if err != nil {
			t.Fatal(err)
		}
		t.Log(c.Summary())
		if within := budget == 0 || c.Order.Total <= budget; within != c.Within {
			t.Errorf("budget %v: %v is within: %t", budget, c.Order.Total, c.Within)
		}
		if !c.Within && (c.Order.Total != c.Least || c.LeastBound > c.Least) {
			t.Errorf("budget %v can't be met: ordered %v, least %v, bound %v", budget, c.Order.Total, c.Least, c.LeastBound)
		}
		if c.PointsBound > c.Points+1e-9 {
			t.Errorf("budget %v: %g points, the lower bound is %g", budget, c.Points, c.PointsBound)
		}
		if i := slices.IndexFunc(c.Order.Lines, func(l stock.Line) bool { return l.Part == "latex-3/4x1/8" && l.Have > 0 }); i < 0 {
			t.Errorf("budget %v: the tubing on hand is not used", budget)
		}
		for _, p := range c.Students {
			if p.Err != nil {
				t.Errorf("%s: %v", p.Name, p.Err)
				continue
			}
			if p.NoLatex && p.Head.Facts.Head.Latex {
				t.Errorf("%s must not have latex and gets %s", p.Name, p.Stack)
			}
			if p.Minor && p.Head.Facts.Head.Solvent {
				t.Errorf("%s is a minor and gets a solvent", p.Name)
			}
			if p.Head.Refused() != nil {
				t.Errorf("%s gets a head that is refused: %s", p.Name, p.Head.Refused().Rule.ID)
			}
		}
		if !slices.ContainsFunc(c.Warnings, func(w class.Warning) bool { return slices.Equal(w.Students, []string{"Student D"}) }) {
			t.Errorf("no warning about latex in the room for Student D: %+v", c.Warnings)
		}
	}
}

// A student's own answers go before the student's words, and those before what
// holds for the class; an age says who is a minor; equal wishes get equal heads.
func TestClassAnswers(t *testing.T) {
	f := proposetest.Finder(t)
	r := class.ReadRoster(f, "roster.yaml", []byte(`
facts: {instrument.kind: marimba, want.softness: 4, player.grip: two, bench.drill: true, bench.supervised: true}
students:
  - {name: A, age: 12}
  - {name: B, age: 40, want: hard}
  - {name: C, age: 40, want: hard, facts: {want.softness: 1}, heads: 6}
  - {name: D, age: 40, want: hard}
`))
	if len(r.Broken) > 0 {
		t.Fatal(r.Broken)
	}
	read := 0
	c, err := class.Plan(context.Background(), f, r, func(text string) (propose.Request, []string, error) {
		read++
		q := proposetest.Player()
		if text == "hard" {
			q.Facts.Want.Softness, q.Known = -4, map[string]bool{"want.softness": true}
			return q, []string{"a word or two"}, nil
		}
		return q, nil, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		notches float64
		minor   bool
		heads   int
	}{{4, true, 2}, {-4, false, 2}, {1, false, 6}, {-4, false, 2}} {
		p := c.Students[i]
		if p.Err != nil {
			t.Fatalf("%s: %v", p.Name, p.Err)
		}
		if got := p.Request.Facts.Want.Softness; got != want.notches || p.Minor != want.minor || p.Heads != want.heads {
			t.Errorf("%s: %+g notches, minor %t, %d heads; want %+v", p.Name, got, p.Minor, p.Heads, want)
		}
	}
	if b, d := c.Students[1], c.Students[3]; d.Alike != "B" || d.Stack != b.Stack || !slices.Equal(d.Missed, []string{"a word or two"}) {
		t.Errorf("B gets %s, D gets %s, as %q, with %q not understood", b.Stack, d.Stack, d.Alike, d.Missed)
	}
	if read != 2 {
		t.Errorf("2 different wishes were read %d times", read)
	}
}

// Nothing can be built for one student; all others keep their heads.
func TestClassWithoutAHeadForOne(t *testing.T) {
	f := proposetest.Finder(t)
	r := class.ReadRoster(f, "roster.yaml", []byte(`
facts: {player.latex_ok: true, bench.drill: true}
students:
  - {name: A}
  - {name: B, facts: {want.budget: 10}}
`))
	c, err := class.Plan(context.Background(), f, r, plainWords)
	if err != nil {
		t.Fatal(err)
	}
	if c.Students[0].Err != nil || c.Students[0].Stack == "" {
		t.Errorf("A: %v", c.Students[0].Err)
	}
	if c.Students[1].Err == nil || !strings.Contains(c.Summary(), "nothing could be planned for B") {
		t.Errorf("B gets %q; %s", c.Students[1].Stack, c.Summary())
	}
}

func ExamplePlan() {
	f, err := proposetest.New()
	if err != nil {
		log.Fatal(err)
	}
	r := class.ReadRoster(f, "roster.yaml", []byte(`
class: Invented
facts: {player.latex_ok: true, bench.drill: true, player.level: first}
bin: {latex-3/4x1/8: 2 ft}
students:
  - {name: A, facts: {want.softness: medium}}
  - {name: B, facts: {want.softness: medium, player.grip: cross}}
`))
	c, err := class.Plan(context.Background(), f, r, func(string) (propose.Request, []string, error) { return propose.Request{}, nil, nil })
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range c.Students {
		fmt.Println(p.Name, p.Heads, len(p.Head.Layers) > 0)
	}
	fmt.Println(c.Within, c.Points == c.PointsBound)
	// Output:
	// A 2 true
	// B 4 true
	// true true
}
