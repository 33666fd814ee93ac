package propose_test

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// plainWords reads every wish as the plain request.
func plainWords(string) (propose.Request, []string, error) { return player(), nil, nil }

func roster(t testing.TB, f *propose.Finder, name string) propose.Roster {
	t.Helper()
	data, err := os.ReadFile("../../testdata/class/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return f.ReadRoster(name, data)
}

// A broken line is reported with its place and what would be valid, and takes
// no other student along.
func TestReadRosterBroken(t *testing.T) {
	f := finder(t)
	r := roster(t, f, "broken.yaml")
	var names []string
	for _, s := range r.Students {
		names = append(names, s.Name)
	}
	if want := []string{"Student A", "Student A (line 10)", "Student G"}; !slices.Equal(names, want) {
		t.Errorf("kept %q, want %q", names, want)
	}
	said := r.Broken.Error()
	for _, want := range []string{
		`broken.yaml:7:31: no answer is called "want.stepps" (did you mean "want.steps"?)`,
		`broken.yaml:8:44: player.grip can't be "crosswise" (one of cross, independent, two)`,
		`broken.yaml:9:`,
		`broken.yaml:10:12: "Student A" is on line 6 already`,
		`broken.yaml:11:5: an age of 3`,
		`broken.yaml:13:5:`,
	} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in\n%s", want, said)
		}
	}
}

func TestClass(t *testing.T) {
	f := finder(t)
	r := roster(t, f, "demo.yaml")
	if len(r.Broken) > 0 {
		t.Fatal(r.Broken)
	}
	for _, budget := range []measure.Money{0, 20000, 1000} {
		r.Budget = budget
		c, err := f.Class(context.Background(), r, plainWords)
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
		if c.LostBound > c.Lost+1e-9 {
			t.Errorf("budget %v: %g points lost, the lower bound is %g", budget, c.Lost, c.LostBound)
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
		if !slices.ContainsFunc(c.Warnings, func(w propose.Warning) bool { return slices.Equal(w.Students, []string{"Student D"}) }) {
			t.Errorf("no warning about latex in the room for Student D: %+v", c.Warnings)
		}
	}
}
