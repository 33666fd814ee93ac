package sheet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"mallow/assistant/page"
	"mallow/assistant/sheet"
)

// A class gets through its steps with the tools there are: everybody is ready in
// the end, more tools never make it longer, and a tool that there is one of serves
// as many as a lesson has room for.
func TestLessons(t *testing.T) {
	b := newBench(t)
	var list []sheet.Entry
	for i := range 8 {
		c := b.consider(t, plain, grown())
		list = append(list, sheet.Entry{Candidate: c, Options: sheet.Options{For: fmt.Sprintf("Maker %d", i+1), Heads: 2}})
	}
	class, err := b.Maker.Class("A class", list, nil)
	if err != nil {
		t.Fatal(err)
	}
	most := 1 << 30
	for _, room := range []sheet.Room{{LessonMin: 45, Knives: 1, Drills: 1}, {LessonMin: 45, Knives: 2, Drills: 1}, {LessonMin: 45, Knives: 8, Drills: 8}, {LessonMin: 90, Knives: 8, Drills: 8}} {
		plan := class.Taught(room).Plan
		if n := len(plan); n == 0 || n > most || plan[n-1].Done != 8 {
			t.Fatalf("%+v: %d lessons, at most %d before; %+v", room, n, most, plan[max(n-1, 0):])
		}
		most = len(plan)
		cut := 0
		for _, l := range plan {
			// A slice for each of two heads is cut in 8 minutes each.
			if can := room.Knives * (int(room.LessonMin-10)/8 + 1); len(l.Cut) > can {
				t.Errorf("%+v: %d cut in lesson %d, want at most %d", room, len(l.Cut), l.Number, can)
			}
			cut += len(l.Cut)
			if slices.Contains(l.Idle, "") || l.From < 1 || l.To > 40 {
				t.Errorf("%+v", l)
			}
		}
		if cut < 8 {
			t.Errorf("%+v: %d of 8 came to the knives", room, cut)
		}
	}
	// A plan says how few lessons there can be, and where it is that few.
	for _, room := range []sheet.Room{{LessonMin: 45, Knives: 1, Drills: 1}, {LessonMin: 45, Knives: 2, Drills: 1}, {LessonMin: 60, Knives: 4, Drills: 1}, {LessonMin: 90, Knives: 8, Drills: 8}} {
		taught := class.Taught(room)
		if n, least := len(taught.Plan), taught.AtLeast(); least < 1 || n < least || n > least+1 {
			t.Errorf("%+v: %d lessons, at least %d", room, n, least)
		} else {
			t.Logf("%+v: %d lessons, at least %d", room, n, least)
		}
	}
	var out strings.Builder
	if err := class.Taught(sheet.Room{LessonMin: 45, Knives: 1, Drills: 1}).Text(&out, page.Style{Width: 80, Plain: true}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Lessons of 45 minutes, with 1 at the knives", "are needed. With one more drill"} {
		if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
			t.Errorf("no %q", want)
		}
	}
}

// Whoever must not have latex cuts before anybody cuts it, however far the others
// have come by then, and the plan says why.
func TestCutApart(t *testing.T) {
	b := newBench(t)
	apart := grown()
	apart.Player.LatexOK = false
	var list []sheet.Entry
	for i := range 4 {
		list = append(list, sheet.Entry{Candidate: b.consider(t, plain, grown()), Options: sheet.Options{For: fmt.Sprintf("Maker %d", i+1), Heads: 2}})
	}
	list = append(list, sheet.Entry{Candidate: b.consider(t, "poly-1-1/8 + epdm-3/4x1/8 + wool-medium + birch-16", apart), Options: sheet.Options{For: "Apart", Heads: 4}})
	class, err := b.Maker.Class("A class", list, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, room := range []sheet.Room{{LessonMin: 45, Knives: 1, Drills: 1}, {LessonMin: 60, Knives: 4, Drills: 2}, {LessonMin: 90, Knives: 8, Drills: 8}} {
		last, first := 0, 0
		plan := class.Taught(room).Plan
		for _, l := range plan {
			for i, name := range l.Cut {
				if at := 100*l.Number + i; name == "Apart" {
					last = at
				} else if first == 0 {
					first = at
				}
			}
		}
		if last == 0 || first == 0 || last > first {
			t.Errorf("%+v: without latex cut last at %d, latex first at %d: %+v", room, last, first, plan)
		}
		if done := plan[len(plan)-1].Done; done != 5 {
			t.Errorf("%+v: %d of 5 are done", room, done)
		}
	}
	var out strings.Builder
	if err := class.Taught(sheet.Room{LessonMin: 45, Knives: 1, Drills: 1}).Text(&out, page.Style{Width: 80, Plain: true}); err != nil {
		t.Fatal(err)
	}
	if want := "Heads without latex are cut first, with a knife and a mat of their own"; !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
		t.Errorf("no %q", want)
	}
}
