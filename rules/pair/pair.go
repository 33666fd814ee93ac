// Package pair knows how to sort a bag of weighed or measured things, such as
// balls, slices or finished heads, into pairs or fours that differ least.
//
// It never judges whether a difference can be felt or heard, and knows
// nothing of parts or prices.
package pair

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/measure"
)

// Thing is one thing that was weighed, measured across, or both.
type Thing struct {
	Name string
	Mass measure.Mass   // zero when it was not weighed
	Size measure.Length // zero when it was not measured
}

// Options say how things are sorted. The zero value sorts into pairs.
type Options struct {
	Of int // how many go together, 2 when zero
	// MassStep and SizeStep are the differences that count alike. They matter
	// only where things have a mass and a size.
	MassStep measure.Mass
	SizeStep measure.Length
	// MassWithin and SizeWithin are the most that things in one group may
	// differ by; zero is any difference.
	MassWithin measure.Mass
	SizeWithin measure.Length
}

// Group is things that go together, lightest or smallest first.
type Group struct {
	Things []Thing
	Mass   measure.Mass   // between the heaviest and the lightest
	Size   measure.Length // between the largest and the smallest
}

// Sorted is a bag that was sorted.
type Sorted struct {
	Groups []Group // from light or small to heavy or large
	Left   []Thing // in no group
	// Proven says that no other way leaves fewer things over and, of those
	// that leave as many, has a smaller sum of differences.
	Proven bool
}

// Most things that are sorted at once, with one measure and with two.
const (
	MostOfOne = 2000
	MostOfTwo = 300
)

// DefaultMassStep and DefaultSizeStep are what counts alike where things have
// a mass and a size: half a gram and a quarter of a millimetre, both about
// what two hands tell apart. Common practice, no source.
const (
	DefaultMassStep = measure.Gram / 2
	DefaultSizeStep = measure.Millimetre / 4
)

// Sort sorts things into as many groups as there are, so that the differences
// within the groups add up to as little as can be. It is exact for one
// measure and for pairs; for larger groups with two measures it looks long
// enough to prove a bag of 20, and Sorted.Proven says whether it did.
func Sort(things []Thing, o Options) (Sorted, error) {
	b, err := newBag(things, o)
	if err != nil {
		return Sorted{}, err
	}
	var groups [][]int
	proven := true
	switch {
	case len(b.at) == 1:
		groups = b.line()
	case b.of == 2:
		groups = b.pairs()
	default:
		groups, proven = b.partition()
	}
	return b.sorted(groups, proven), nil
}

// bag is things on whole-numbered scales, on which differences add up
// exactly: at[m][i] is thing i by measure m, in millionths of a step.
type bag struct {
	things []Thing
	of     int
	at     [][]int64
	within []int64 // by measure; the most a group may spread
}

// perStep is how many parts of a step are told apart.
const perStep = 1e6

// leftCost is the cost of leaving one thing over, more than all differences
// in a bag can add up to.
const leftCost = int64(1) << 50

func newBag(things []Thing, o Options) (*bag, error) {
	b := &bag{things: things, of: o.Of}
	if b.of == 0 {
		b.of = 2
	}
	massStep, sizeStep := o.MassStep, o.SizeStep
	if massStep == 0 {
		massStep = DefaultMassStep
	}
	if sizeStep == 0 {
		sizeStep = DefaultSizeStep
	}
	switch {
	case b.of < 2:
		return nil, fmt.Errorf("groups of %d: at least 2 go together", b.of)
	case len(things) < b.of:
		return nil, fmt.Errorf("%d things make no group of %d", len(things), b.of)
	case len(things) > MostOfOne:
		return nil, fmt.Errorf("%d things: at most %d are sorted at once", len(things), MostOfOne)
	}
	has := func(t Thing) [2]bool { return [2]bool{t.Mass > 0, t.Size > 0} }
	for i, t := range things {
		switch {
		case !has(t)[0] && !has(t)[1]:
			return nil, fmt.Errorf("%s has neither a mass nor a size", Name(t, i))
		case has(t) != has(things[0]):
			return nil, fmt.Errorf("%s has %s, %s has %s; measure all of them alike", Name(things[0], 0), measures(has(things[0])), Name(t, i), measures(has(t)))
		}
	}
	whole := func(value func(Thing) float64, step, within float64) error {
		list := make([]int64, len(things))
		least := math.Inf(1)
		for _, t := range things {
			least = min(least, value(t))
		}
		for i, t := range things {
			steps := math.Round((value(t) - least) / step * perStep)
			if !(steps*float64(len(things)) < float64(leftCost)/4) {
				return fmt.Errorf("%s is too far from the others to be one of them", Name(t, i))
			}
			list[i] = int64(steps)
		}
		most := int64(math.MaxInt64)
		if within > 0 {
			most = int64(min(math.Round(within/step*perStep), float64(leftCost)))
		}
		b.at, b.within = append(b.at, list), append(b.within, most)
		return nil
	}
	var errs []error
	if has(things[0])[0] {
		errs = append(errs, whole(func(t Thing) float64 { return float64(t.Mass) }, float64(massStep), float64(o.MassWithin)))
	} else if o.MassWithin > 0 {
		errs = append(errs, errors.New("a most in grams needs things that were weighed"))
	}
	if has(things[0])[1] {
		errs = append(errs, whole(func(t Thing) float64 { return float64(t.Size) }, float64(sizeStep), float64(o.SizeWithin)))
	} else if o.SizeWithin > 0 {
		errs = append(errs, errors.New("a most in millimetres needs things that were measured"))
	}
	if len(b.at) == 2 && len(things) > MostOfTwo {
		errs = append(errs, fmt.Errorf("%d things: by mass and size at most %d are sorted at once", len(things), MostOfTwo))
	}
	return b, errors.Join(errs...)
}

func measures(has [2]bool) string {
	switch has {
	case [2]bool{true, true}:
		return "a mass and a size"
	case [2]bool{true, false}:
		return "a mass alone"
	}
	return "a size alone"
}

// Name is what a thing is called, by its place in the bag if it has no name.
func Name(t Thing, i int) string {
	if t.Name != "" {
		return t.Name
	}
	return fmt.Sprintf("no. %d", i+1)
}

// cost returns how far the things of a group differ over all measures, and
// whether they may be one group.
func (b *bag) cost(group ...int) (int64, bool) {
	sum := int64(0)
	for m, at := range b.at {
		low, high := at[group[0]], at[group[0]]
		for _, i := range group[1:] {
			low, high = min(low, at[i]), max(high, at[i])
		}
		if high-low > b.within[m] {
			return 0, false
		}
		sum += high - low
	}
	return sum, true
}

// sorted puts groups into order, and names them.
func (b *bag) sorted(groups [][]int, proven bool) Sorted {
	s := Sorted{Proven: proven}
	left := make([]bool, len(b.things))
	for i := range left {
		left[i] = true
	}
	byFirst := func(i, j int) int {
		for _, at := range b.at {
			if at[i] != at[j] {
				return int(min(max(at[i]-at[j], -1), 1))
			}
		}
		return i - j
	}
	for _, g := range groups {
		slices.SortFunc(g, byFirst)
	}
	slices.SortFunc(groups, func(a, c []int) int { return byFirst(a[0], c[0]) })
	named := func(i int) Thing {
		t := b.things[i]
		t.Name = Name(t, i)
		return t
	}
	for _, g := range groups {
		var out Group
		light, small := measure.Mass(math.Inf(1)), measure.Length(math.Inf(1))
		for _, i := range g {
			left[i] = false
			t := named(i)
			out.Things = append(out.Things, t)
			light, small = min(light, t.Mass), min(small, t.Size)
		}
		for _, t := range out.Things {
			out.Mass, out.Size = max(out.Mass, t.Mass-light), max(out.Size, t.Size-small)
		}
		s.Groups = append(s.Groups, out)
	}
	for i := range left {
		if left[i] {
			s.Left = append(s.Left, named(i))
		}
	}
	return s
}
