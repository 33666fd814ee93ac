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
	var out strings.Builder
	if err := class.Taught(sheet.Room{LessonMin: 45, Knives: 1, Drills: 1}).Text(&out, page.Style{Width: 80, Plain: true}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Lessons of 45 minutes, with 1 at the knives", "lessons. With one more"} {
		if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
			t.Errorf("no %q", want)
		}
	}
}
