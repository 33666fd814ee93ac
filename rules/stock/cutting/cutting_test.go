package cutting

import (
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"mallow/knowledge/measure"
)

const (
	mm = measure.Millimetre
	in = measure.Inch
	ft = measure.Foot
)

func TestPlan(t *testing.T) {
	tests := []struct {
		name string
		job  Job
		want int
	}{
		{"nothing", Job{Buy: ft}, 0},
		{"a foot gives twelve inches without kerf", Job{Want: []Piece{{in, 12}}, Buy: ft}, 1},
		{"and eleven with any kerf but the last cut", Job{Want: []Piece{{in, 12}}, Buy: ft, Kerf: 0.5 * mm}, 2},
		{"the last cut needs no kerf", Job{Want: []Piece{{95 * mm, 1}, {100 * mm, 1}}, Buy: 200 * mm, Kerf: 5 * mm}, 1},
		{"ends are lost", Job{Want: []Piece{{in, 12}}, Buy: ft, Ends: 6 * mm}, 2},
		{"on hand first", Job{Want: []Piece{{in, 12}}, Have: []Piece{{6 * in, 1}}, Buy: 6 * in}, 1},
		{"on hand is enough", Job{Want: []Piece{{in, 2}}, Have: []Piece{{ft, 1}}}, 0},
		{"what was cut to a piece already is one", Job{Want: []Piece{{in, 3}}, Have: []Piece{{in, 2}, {in + 2*mm, 1}}, Ends: 6 * mm, Kerf: mm}, 0},
		// Longest first puts 4 + 4 together and needs three; 4 + 3 + 3 twice is full.
		{"better than longest first", Job{Want: []Piece{{4 * mm, 2}, {3 * mm, 4}}, Buy: 10 * mm}, 2},
		// Two shafts of 16 1/2 in come out of a 36 in dowel, not three.
		{"shafts from dowel", Job{Want: []Piece{{16.5 * in, 4}}, Buy: 36 * in, Kerf: 3 * mm}, 2},
		// "Cutting stock problem", Wikipedia, cited from memory: 73 master
		// rolls of 5600 mm, proven optimal.
		{"paper rolls", Job{Buy: 5600 * mm, Want: []Piece{
			{1380 * mm, 22}, {1520 * mm, 25}, {1560 * mm, 12}, {1710 * mm, 14}, {1820 * mm, 18},
			{1880 * mm, 18}, {1930 * mm, 20}, {2000 * mm, 10}, {2050 * mm, 12}, {2100 * mm, 14},
			{2140 * mm, 16}, {2150 * mm, 18}, {2200 * mm, 20}}}, 73},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, err := tt.job.Plan()
			if err != nil {
				t.Fatal(err)
			}
			if p.Bought != tt.want || !p.Exact() {
				t.Errorf("buys %d (bound %d), want %d, proven", p.Bought, p.Bound, tt.want)
			}
			check(t, tt.job, p)
		})
	}
}

// check fails unless p cuts exactly what j wants and nothing overflows.
func check(t interface {
	Errorf(string, ...any)
	Helper()
}, j Job, p Plan) {
	t.Helper()
	want, got := map[measure.Length]int{}, map[measure.Length]int{}
	for _, w := range j.Want {
		if w.Count > 0 {
			want[w.Length] += w.Count
		}
	}
	bought, used := 0, map[measure.Length]int{}
	for _, b := range p.Bars {
		need, cuts := j.Ends, -1
		for _, q := range b.Pieces {
			got[q.Length] += q.Count * b.Times
			need += q.Length * measure.Length(q.Count)
			cuts += q.Count
		}
		need += j.Kerf * measure.Length(cuts)
		if cut := j.cutAlready(b.Stock); !b.Bought && need-j.Ends <= cut+1e-9 {
			need -= j.Ends
		}
		if need > b.Stock+1e-9 {
			t.Errorf("%v takes %.3f mm", b, need.MM())
		}
		if b.Bought {
			bought += b.Times
		} else {
			used[b.Stock] += b.Times
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("cut pieces (-want +got):\n%s", d)
	}
	if bought != p.Bought {
		t.Errorf("bars buy %d, plan says %d", bought, p.Bought)
	}
	for _, h := range j.Have {
		used[h.Length] -= h.Count
	}
	for l, n := range used {
		if n > 0 {
			t.Errorf("%d lengths of %.1f mm too many used", n, l.MM())
		}
	}
}

// cutAlready is the longest piece wanted that a length on hand may have been cut to
// already, zero for none.
func (j Job) cutAlready(have measure.Length) (longest measure.Length) {
	for _, w := range j.Want {
		if w.Count > 0 && w.Length <= have {
			longest = max(longest, w.Length)
		}
	}
	return longest
}

func TestPlanErrors(t *testing.T) {
	var short *Short
	_, err := Job{Want: []Piece{{2 * ft, 1}}, Buy: ft}.Plan()
	if !errors.As(err, &short) || short.Buy != ft {
		t.Errorf("too long: %v", err)
	}
	_, err = Job{Want: []Piece{{in, 13}}, Have: []Piece{{ft, 1}}}.Plan()
	if !errors.As(err, &short) {
		t.Fatalf("not enough on hand: %v", err)
	}
	if d := cmp.Diff([]Piece{{in, 1}}, short.Missing, cmpopts.EquateApprox(1e-9, 0)); d != "" {
		t.Error(d)
	}
	for _, j := range []Job{
		{Want: []Piece{{in, -1}}, Buy: ft},
		{Want: []Piece{{-in, 1}}, Buy: ft},
		{Want: []Piece{{in, 1}}, Have: []Piece{{-in, 1}}, Buy: ft},
		{Want: []Piece{{in, 1}}, Buy: ft, Kerf: -1},
	} {
		if _, err := j.Plan(); err == nil {
			t.Errorf("%+v: no error", j)
		}
	}
}

// brute returns the fewest lengths bought, trying every place for every piece.
func brute(j Job) int {
	var pieces []measure.Length
	for _, w := range j.Want {
		for range w.Count {
			pieces = append(pieces, w.Length)
		}
	}
	var room []float64
	for _, h := range j.Have {
		for range h.Count {
			room = append(room, float64(max(h.Length-j.Ends, j.cutAlready(h.Length))+j.Kerf))
		}
	}
	have, best := len(room), len(pieces)+1
	var place func(i int)
	place = func(i int) {
		if len(room)-have >= best {
			return
		}
		if i == len(pieces) {
			best = len(room) - have
			return
		}
		s := float64(pieces[i] + j.Kerf)
		for k := range room {
			if room[k] >= s-1e-9 {
				room[k] -= s
				place(i + 1)
				room[k] += s
			}
		}
		room = append(room, float64(j.Buy-j.Ends+j.Kerf)-s)
		place(i + 1)
		room = room[:len(room)-1]
	}
	place(0)
	return best
}

func TestPlanIsOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := Job{Buy: measure.Length(rapid.IntRange(40, 80).Draw(t, "stock")) * mm}
		j.Kerf = measure.Length(rapid.IntRange(0, 2).Draw(t, "kerf")) * mm
		j.Ends = measure.Length(rapid.IntRange(0, 4).Draw(t, "ends")) * mm
		for range rapid.IntRange(0, 3).Draw(t, "kinds") {
			j.Want = append(j.Want, Piece{
				measure.Length(rapid.IntRange(8, 36).Draw(t, "length")) * mm,
				rapid.IntRange(0, 3).Draw(t, "count")})
		}
		if rapid.Bool().Draw(t, "on hand") {
			j.Have = []Piece{{measure.Length(rapid.IntRange(10, 70).Draw(t, "have")) * mm, 1}}
		}
		p, err := j.Plan()
		if err != nil {
			t.Fatal(err)
		}
		if want := brute(j); p.Bought != want || !p.Exact() {
			t.Errorf("%+v buys %d (bound %d), brute force %d", j, p.Bought, p.Bound, want)
		}
		check(t, j, p)
	})
}

func ExampleJob_Plan() {
	p, err := Job{
		Want: []Piece{{1 * in, 8}, {7 * in / 8, 8}},
		Buy:  6 * in,
		Kerf: 1 * mm,
	}.Plan()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("buy", p.Bought, "proven", p.Exact())
	// Output:
	// buy 3 proven true
}

// BenchmarkClass cuts slices for 200 pairs, ten lengths, from one-foot stock.
func BenchmarkClass(b *testing.B) {
	j := Job{Buy: ft, Kerf: 1 * mm, Ends: 6 * mm}
	for i := range 10 {
		j.Want = append(j.Want, Piece{in * measure.Length(12+i) / 16, 40})
	}
	for b.Loop() {
		if _, err := j.Plan(); err != nil {
			b.Fatal(err)
		}
	}
	p, _ := j.Plan()
	b.ReportMetric(float64(p.Bought), "bought")
	b.ReportMetric(float64(p.Bound), "bound")
}
