package identify_test

import (
	"context"
	"fmt"
	"log"
	"runtime"
	"strings"
	"testing"

	"mallow/knowledge/head"
	"mallow/rules/identify"
	"mallow/rules/propose/proposetest"
)

func TestMatchRefuses(t *testing.T) {
	f := proposetest.Finder(t)
	many := 9
	for _, tt := range []struct {
		name string
		m    identify.Measured
		want string
	}{
		{"nothing measured", identify.Measured{}, "at least the head's diameter or its mass"},
		{"below zero", identify.Measured{DiameterMM: 30, MassG: -3}, "a number above zero"},
		{"unknown tubing", identify.Measured{DiameterMM: 30, Outermost: "latex-3/4x1/9"}, `did you mean "latex-3/4x1/8"`},
		{"unknown fibre", identify.Measured{DiameterMM: 30, Fibre: "poly"}, "no fibre"},
		{"mallet without its shaft", identify.Measured{MalletG: 40}, "shaft's id"},
		{"lighter than its shaft", identify.Measured{MalletG: 10, Shaft: "birch-16"}, "no more than the shaft alone"},
		{"too many layers", identify.Measured{DiameterMM: 30, Layers: &many}, "0 to 4"},
		{"as large as a melon", identify.Measured{DiameterMM: 200}, "no stack of catalogue parts comes to 200.0 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := identify.Head(context.Background(), f, tt.m); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q in it", err, tt.want)
			}
		})
	}
}

// A head that is measured as computed is found among the likeliest, and each
// further measurement makes it likelier.
func TestMatchNarrowsDown(t *testing.T) {
	f := proposetest.Finder(t)
	st, err := head.Parse(f.Catalogue(), "poly-1-1/8 + latex-3/4x1/8 + wool-medium + birch-16")
	if err != nil {
		t.Fatal(err)
	}
	h := head.New(st, f.Catalogue().Limits)
	one := 1
	m := identify.Measured{DiameterMM: h.Diameter.MM(), MassG: h.Mass.Grams(), Shaft: "birch-16"}
	last := 0.0
	for _, step := range []struct {
		name string
		see  func()
	}{
		{"diameter and mass", func() {}},
		{"layers", func() { m.Layers = &one }},
		{"core", func() { m.Core = "plastic" }},
		{"fibre", func() { m.Fibre = "wool" }},
		{"edge", func() { m.Outermost = "latex-3/4x1/8" }},
	} {
		step.see()
		got, err := identify.Head(context.Background(), f, m)
		if err != nil {
			t.Fatal(err)
		}
		share, sum := 0.0, got.Rest
		for _, l := range got.Likely {
			sum += l.Share
			if l.Stack.Material.ID == "polypropylene" && l.Stack.Core.Diameter == st.Core.Diameter && len(l.Stack.Slices) == 1 &&
				l.Stack.Slices[0].Tube.ID == "latex-3/4x1/8" && l.Stack.Wrap != nil && l.Stack.Wrap.Yarn.Fibre == "wool" {
				share = l.Share
			}
		}
		if share <= last {
			t.Errorf("knowing %s, the true stack's share is %.4f, it was %.4f", step.name, share, last)
		}
		if sum < 0.999 || sum > 1.001 {
			t.Errorf("knowing %s, the shares add up to %g", step.name, sum)
		}
		last = share
	}
	if last < 0.3 {
		t.Errorf("with all seen that shows, the true stack has a share of %.2f", last)
	}
}

// A finished head of 39 mm and 22.2 g, in which one edge of rubber shows
// beside a plastic core.
func ExampleHead() {
	f, err := proposetest.New()
	if err != nil {
		log.Fatal(err)
	}
	one := 1
	got, err := identify.Head(context.Background(), f, identify.Measured{DiameterMM: 39, MassG: 22.2, ShaftMM: 7.9, Core: "plastic", Layers: &one})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(got.Likely[0].Stack.Core.Diameter.In(), got.Likely[0].Stack.Slices[0].Tube.Wall.In(), "next:", got.Next.What)
	// Output: 1 1/8 in 1/8 in next: fibre
}

// BenchmarkMatch searches the whole catalogue.
// The answer is the same to the last bit, however many processors work on it.
func TestMatchTheSameOnAnyProcessors(t *testing.T) {
	f := proposetest.Finder(t)
	was := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(was)
	for _, m := range []identify.Measured{{DiameterMM: 38, MassG: 27}, {MassG: 24.5, Core: "wood"}} {
		first := ""
		for _, n := range []int{1, 3, 8} {
			runtime.GOMAXPROCS(n)
			got, err := identify.Head(context.Background(), f, m)
			if err != nil {
				t.Fatal(err)
			}
			text := fmt.Sprintf("%d tried, rest %b, next %+v", got.Tried, got.Rest, got.Next)
			for _, l := range got.Likely {
				text += fmt.Sprintf("\n%s %b %v", l.Stack, l.Share, l.Also)
			}
			if first == "" {
				first = text
			}
			if text != first {
				t.Fatalf("with %d processors for %v:\n%s\nwith one:\n%s", n, m, text, first)
			}
		}
	}
}

func BenchmarkMatch(b *testing.B) {
	f := proposetest.Finder(b)
	for _, tt := range []struct {
		name string
		m    identify.Measured
	}{
		{"diameter-mass", identify.Measured{DiameterMM: 37.2, MassG: 22.1}},
		{"mass", identify.Measured{MassG: 28}},
	} {
		b.Run(tt.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				got, err := identify.Head(context.Background(), f, tt.m)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(got.Tried), "stacks")
			}
		})
	}
}
