package ladder

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// cases are the problems that GLPK has solved; see solve.py there.
const cases = "../../../testdata/ladder"

var draw = flag.Bool("draw", false, "draw the recorded cases anew; run testdata/ladder/solve.py --record after")

// random is a made-up problem: softer items tend to be heavier and larger and
// to take more tubing, as heads do.
func random(r *rand.Rand, rungs, perRung, parts int) *Problem {
	p := &Problem{
		Reach: 1, Rise: 0.5, Mass: Grow, Size: []Trend{Free, Grow, Level}[r.IntN(3)],
		Weights: Weights{Notch: 10, Gram: 1, MM: 0.5, Cent: 0.01},
	}
	if r.IntN(3) == 0 {
		p.Mass = Level
	}
	for range parts {
		p.Parts = append(p.Parts, Part{
			ID: fmt.Sprintf("part-%d", len(p.Parts)), Pack: int64(20 + r.IntN(200)), Price: int64(100 + r.IntN(1500)),
			Have: int64(r.IntN(2) * r.IntN(60)),
		})
	}
	p.Parts[0].Pack = 0 // on hand only
	p.Parts[0].Have = 80
	for k := range rungs {
		p.Rungs = append(p.Rungs, 2*float64(k)-4)
		for range perRung {
			s := p.Rungs[k] + math.Round(200*r.Float64()-100)/100
			it := Item{
				ID: fmt.Sprintf("item-%d", len(p.Items)), Softness: s,
				MassG:      math.Round(10*(30+s+4*r.NormFloat64())) / 10,
				DiameterMM: math.Round(10*(34+s/2+2*r.NormFloat64())) / 10,
				Penalty:    math.Round(100*3*r.Float64()) / 100,
			}
			seen := map[int]bool{}
			for range 1 + r.IntN(3) {
				if q := r.IntN(parts); !seen[q] {
					seen[q] = true
					it.Uses = append(it.Uses, Use{q, int64(10 + r.IntN(60))})
				}
			}
			p.Items = append(p.Items, it)
		}
	}
	return p
}

// cost prices a choice straight from the formula; +Inf when it is not allowed.
func cost(p *Problem, pick []int) float64 {
	var sum float64
	used := make([]int64, len(p.Parts))
	for k, i := range pick {
		it := p.Items[i]
		off := math.Abs(it.Softness - p.Rungs[k])
		if off > p.Reach+1e-9 {
			return math.Inf(1)
		}
		sum += p.Weights.Notch*off + it.Penalty
		for _, u := range it.Uses {
			used[u.Part] += u.Amount
		}
		if k == 0 {
			continue
		}
		low := p.Items[pick[k-1]]
		if it.Softness-low.Softness < p.Rise-1e-9 {
			return math.Inf(1)
		}
		trend := func(t Trend, w, from, to float64) {
			if t == Grow && to < from || t == Level {
				sum += w * math.Abs(to-from)
			}
		}
		trend(p.Mass, p.Weights.Gram, low.MassG, it.MassG)
		trend(p.Size, p.Weights.MM, low.DiameterMM, it.DiameterMM)
	}
	for k := 1; k < len(pick); k++ {
		mean := (p.Items[pick[len(pick)-1]].MassG - p.Items[pick[0]].MassG) / float64(len(pick)-1)
		sum += p.Weights.Step * math.Abs(p.Items[pick[k]].MassG-p.Items[pick[k-1]].MassG-mean)
	}
	if p.Jump > 0 {
		grow := func(t Trend, of func(Item) float64) bool {
			at := func(k int) float64 { return of(p.Items[pick[k]]) }
			mean := math.Abs(at(len(pick)-1)-at(0)) / float64(len(pick)-1)
			for k := 1; k < len(pick); k++ {
				if t == Grow && (math.Abs(at(k)-at(k-1)) > p.Jump*mean+1e-9 || p.Strict && at(k) < at(k-1)) {
					return false
				}
			}
			return true
		}
		if !grow(p.Mass, func(it Item) float64 { return it.MassG }) || !grow(p.Size, func(it Item) float64 { return it.DiameterMM }) {
			return math.Inf(1)
		}
	}
	for q, part := range p.Parts {
		for have := part.Have; have < used[q]; have += part.Pack {
			if part.Pack == 0 {
				return math.Inf(1)
			}
			sum += p.Weights.Cent * float64(part.Price)
		}
	}
	return sum
}

// brute returns the least cost over every choice.
func brute(p *Problem) float64 {
	best := math.Inf(1)
	pick := make([]int, len(p.Rungs))
	var try func(k int)
	try = func(k int) {
		if k == len(pick) {
			best = min(best, cost(p, pick))
			return
		}
		for i := range p.Items {
			if math.Abs(p.Items[i].Softness-p.Rungs[k]) <= p.Reach+1e-9 {
				pick[k] = i
				try(k + 1)
			}
		}
	}
	try(0)
	return best
}

func TestSolveIsOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		p := random(r, rapid.IntRange(1, 4).Draw(t, "rungs"), rapid.IntRange(1, 6).Draw(t, "per rung"), rapid.IntRange(1, 6).Draw(t, "parts"))
		if len(p.Rungs) > 1 && rapid.Bool().Draw(t, "strict") {
			p.Strict, p.Jump, p.Weights.Step = true, 2, 0.5
		}
		want := brute(p)
		s, err := p.Solve(context.Background())
		if math.IsInf(want, 1) {
			if !errors.Is(err, ErrNone) {
				t.Fatalf("nothing reaches, but Solve returns %+v, %v", s, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := cost(p, s.Pick); math.Abs(s.Cost-want) > 1e-6 || math.Abs(got-want) > 1e-6 || !s.Exact {
			t.Errorf("cost %v (priced again %v, exact %v), brute force %v", s.Cost, got, s.Exact, want)
		}
	})
}

type recorded struct {
	Problem
	Optimum *float64 `json:"optimum"` // by GLPK; null where nothing is feasible
}

func read(t *testing.T, path string) recorded {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var c recorded
	if err := json.Unmarshal(b, &c); err != nil {
		t.Fatal(path, err)
	}
	return c
}

// TestAgainstGLPK compares with optima found by GLPK, a general-purpose
// mixed-integer solver, from a formulation that shares no code with ours; and
// where glpsol is installed, with a fresh solution by it.
func TestAgainstGLPK(t *testing.T) {
	if *draw {
		for n := 2; n <= 8; n++ {
			p := random(rand.New(rand.NewPCG(uint64(n), 7)), n, 60/n, 4+n)
			b, err := json.MarshalIndent(recorded{Problem: *p}, "", " ")
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(cases, fmt.Sprintf("set-of-%d.json", n)), append(b, '\n'), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	files, err := filepath.Glob(filepath.Join(cases, "*.json"))
	if err != nil || len(files) < 7 {
		t.Fatalf("recorded cases: %v, %v", files, err)
	}
	_, noGLPK := exec.LookPath("glpsol")
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			c := read(t, f)
			s, err := c.Solve(context.Background())
			if c.Optimum == nil {
				if !errors.Is(err, ErrNone) {
					t.Fatalf("GLPK finds nothing feasible, Solve returns %+v, %v", s, err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			// glpsol prints ten significant digits.
			near := func(who string, want float64) {
				if math.Abs(s.Cost-want) > 1e-7*want {
					t.Errorf("cost %v, %s %v", s.Cost, who, want)
				}
			}
			near("recorded by GLPK", *c.Optimum)
			if noGLPK != nil {
				t.Log("glpsol is not installed; only the recorded optimum was compared")
				return
			}
			out, err := exec.Command("python3", filepath.Join(cases, "solve.py"), f).Output()
			if err != nil {
				t.Fatalf("solve.py: %v", err)
			}
			fields := strings.Fields(string(out))
			again, err := strconv.ParseFloat(fields[len(fields)-1], 64)
			if err != nil {
				t.Fatal(err)
			}
			near("solved again by GLPK", again)
		})
	}
}

func TestSolveErrors(t *testing.T) {
	p := &Problem{Rungs: []float64{0, 5}, Reach: 1, Items: []Item{{Softness: 0}, {Softness: 3}, {Softness: 8}}}
	var empty *Empty
	if _, err := p.Solve(context.Background()); !errors.As(err, &empty) || empty.Below != 3 || empty.Above != 8 {
		t.Errorf("a rung that nothing reaches: %v", err)
	}
	p = &Problem{Rungs: []float64{0}, Items: []Item{{Uses: []Use{{0, 5}}}}, Parts: []Part{{Have: 4}}}
	if _, err := p.Solve(context.Background()); !errors.Is(err, ErrNone) {
		t.Errorf("stock does not reach: %v", err)
	}
	p.Parts[0].Have = -1
	if _, err := p.Solve(context.Background()); err == nil {
		t.Error("an amount below zero passes")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p.Parts[0].Have = 5
	if _, err := p.Solve(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before the start: %v", err)
	}
}

func ExampleProblem_Solve() {
	p := &Problem{
		Rungs:   []float64{0, 2},
		Reach:   1,
		Weights: Weights{Notch: 10, Cent: 0.01},
		Parts:   []Part{{ID: "foot of tubing", Pack: 12, Price: 300}, {ID: "foot of other tubing", Pack: 12, Price: 300}},
		Items: []Item{
			{ID: "one slice", Softness: 0, Uses: []Use{{0, 2}}},
			{ID: "two slices", Softness: 1.9, Uses: []Use{{0, 4}}},
			{ID: "one slice of the other", Softness: 2, Uses: []Use{{1, 2}}},
		},
	}
	s, err := p.Solve(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	// A tenth of a notch is not worth another foot of tubing.
	fmt.Println(p.Items[s.Pick[0]].ID, "and", p.Items[s.Pick[1]].ID, "for", s.Cents)
	// Output: one slice and two slices for 300
}

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{2, 4, 8} {
		b.Run(fmt.Sprintf("rungs=%d", n), func(b *testing.B) {
			p := random(rand.New(rand.NewPCG(1, 2)), n, 40, 12)
			for b.Loop() {
				if _, err := p.Solve(context.Background()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
