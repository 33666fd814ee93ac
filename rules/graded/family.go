package graded

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/propose"
)

// Sizes of what is considered: kinds of ball and yarns, whose families are all
// tried; kinds of ball that are looked at closely for that; and sizes of tubing
// and slices in a family. They bound the work and say nothing about sound.
const (
	mostBalls, mostYarns = 8, 4
	mostClose            = 12
	mostTubing           = 3
	mostSlices           = 3
	mostOver             = 1 // slices where the balls themselves differ in hardness
)

// family is what the heads of a wound set share.
type family struct {
	ball  head.Stack
	small *head.Stack // the next smaller ball of the same, for the soft end
	// hardness are the balls of the same rubber and size in their hardnesses, where
	// these make the grades; nil where one ball serves all.
	hardness []head.Stack
	yarn     head.Wrap
	tubing   []head.Slice
}

func (f *family) String() string {
	by := ""
	if f.hardness != nil {
		by = " by their hardness"
	}
	return fmt.Sprintf("%s balls of %s%s under %s", f.ball.Material.Name, f.ball.Core.Diameter.Sold(), by, f.yarn.Yarn.Name)
}

// balls are those that may stand on any rung.
func (f *family) balls() []head.Stack {
	if f.hardness != nil {
		return f.hardness
	}
	return []head.Stack{f.ball}
}

// families lists the families to try, those that the rules like best first: of
// the tubing that makers reach for first alone, or of any.
func (b *bench) families(usual bool) []family {
	yarns, _ := b.parts.Yarns()
	balls := b.parts.Balls()
	if len(yarns) == 0 || len(balls) == 0 {
		return nil
	}
	yarns = b.yarns(balls, yarns)
	balls = b.balled(balls, yarns[0])
	type liked struct {
		family
		score float64
	}
	var list []liked
	for _, ball := range balls[:min(mostClose, len(balls))] {
		f := family{ball: ball, yarn: yarns[0], tubing: b.tubing(ball, yarns[0], usual)}
		list = append(list, liked{f, b.likes(&f)})
	}
	slices.SortStableFunc(list, func(x, y liked) int { return cmp.Compare(y.score, x.score) })
	var out []family
	for _, x := range list[:min(mostBalls, len(list))] {
		if math.IsInf(x.score, -1) {
			break
		}
		if less, ok := smaller(x.ball, b.parts.Balls()); ok {
			x.small = &less
		}
		other := x.family
		other.small, other.hardness = nil, hardnesses(x.ball, b.parts.Balls())
		tried := slices.ContainsFunc(out, func(f family) bool { return f.hardness != nil && alikeBut(f.ball, x.ball) })
		for _, yarn := range yarns[:min(mostYarns, len(yarns))] {
			x.yarn, other.yarn = yarn, yarn
			out = append(out, x.family)
			if usual && len(other.hardness) > 1 && !tried {
				out = append(out, other)
			}
		}
	}
	return out
}

// alikeBut reports whether two balls are of one material, size and bore, whatever
// their hardness.
func alikeBut(x, y head.Stack) bool {
	return x.Material.ID == y.Material.ID && x.Core.Diameter == y.Core.Diameter && (x.Core.Bore > 0) == (y.Core.Bore > 0)
}

// hardnesses lists the balls that are as a rubber ball but for their hardness, and
// it; none of a ball without a durometer.
func hardnesses(ball head.Stack, among []head.Stack) (list []head.Stack) {
	for _, x := range among {
		if ball.Core.DurometerA > 0 && x.Core.DurometerA > 0 && alikeBut(x, ball) {
			list = append(list, x)
		}
	}
	return list
}

// smaller returns the next smaller ball of the same material and hardness.
func smaller(ball head.Stack, among []head.Stack) (head.Stack, bool) {
	best := -1
	for i, x := range among {
		if x.Material.ID == ball.Material.ID && x.Core.DurometerA == ball.Core.DurometerA && (x.Core.Bore > 0) == (ball.Core.Bore > 0) &&
			x.Core.Diameter < ball.Core.Diameter && (best < 0 || x.Core.Diameter > among[best].Core.Diameter) {
			best = i
		}
	}
	if best < 0 {
		return head.Stack{}, false
	}
	return among[best], true
}

// turns to compare parts by.
func few() []int { return []int{90, 150} }

// yarns sorts the yarns by how well they do in the middle of the set on the
// most usual ball of each family of materials.
func (b *bench) yarns(balls []head.Stack, yarns []head.Wrap) []head.Wrap {
	usual := map[string]head.Stack{}
	for _, x := range balls {
		if was, ok := usual[x.Material.Family]; !ok || x.Core.Usual > was.Core.Usual {
			usual[x.Material.Family] = x
		}
	}
	var list []head.Stack
	for _, ball := range balls {
		if usual[ball.Material.Family].Core.ID != ball.Core.ID {
			continue
		}
		for _, y := range yarns {
			f := family{ball: ball, yarn: y}
			list = append(list, f.stacks(ball, few())...)
		}
	}
	best := map[string]float64{}
	for _, y := range yarns {
		best[y.Yarn.ID] = math.Inf(-1)
	}
	for _, c := range b.quicks(list) {
		if c.ok {
			id := c.Stack.Wrap.Yarn.ID
			best[id] = max(best[id], b.apart(len(b.rungs)/2, &c.Candidate))
		}
	}
	out := slices.Clone(yarns)
	slices.SortStableFunc(out, func(x, y head.Wrap) int { return cmp.Compare(best[y.Yarn.ID], best[x.Yarn.ID]) })
	return out
}

// balled sorts the balls by how well they do in the middle of the set under a
// yarn, on the ball itself and over the slice that suits the most usual one.
func (b *bench) balled(balls []head.Stack, yarn head.Wrap) []head.Stack {
	usual := slices.MaxFunc(balls, func(x, y head.Stack) int { return cmp.Compare(x.Core.Usual, y.Core.Usual) })
	tubing := b.tubing(usual, yarn, true)
	var list []head.Stack
	for _, x := range balls {
		f := family{ball: x, yarn: yarn}
		list = append(list, f.stacks(x, few())...)
		for _, t := range tubing {
			x.Slices = []head.Slice{t}
			list = append(list, f.stacks(x, few())...)
		}
	}
	best := map[string]float64{}
	for _, c := range b.quicks(list) {
		if c.ok {
			id, x := c.Stack.Core.ID, b.apart(len(b.rungs)/2, &c.Candidate)
			if was, ok := best[id]; !ok || x > was {
				best[id] = x
			}
		}
	}
	out := slices.DeleteFunc(slices.Clone(balls), func(x head.Stack) bool { _, ok := best[x.Core.ID]; return !ok })
	slices.SortStableFunc(out, func(x, y head.Stack) int { return cmp.Compare(best[y.Core.ID], best[x.Core.ID]) })
	return out
}

// clearly is by how many points the rules for a layer have to like one tubing
// less than another for it to be no usual choice.
const clearly = 2.0

// tubing returns the few tubings that the rules like best on a ball and on a
// slice over it.
func (b *bench) tubing(ball head.Stack, yarn head.Wrap, usual bool) []head.Slice {
	yarn.Turns = 100
	ball.Wrap = &yarn
	type liked struct {
		slice head.Slice
		score float64
		layer float64 // of that by the rules for the slice itself
	}
	on := func(below []head.Slice) []liked {
		var stacks []head.Stack
		for _, t := range b.parts.Tubing() {
			s := ball
			s.Slices = append(slices.Clone(below), t)
			stacks = append(stacks, s)
		}
		var list []liked
		for _, c := range b.quicks(stacks) {
			if c.ok {
				list = append(list, liked{c.Stack.Slices[len(below)], b.apart(len(b.rungs)-1, &c.Candidate), b.layer(&c.Candidate)})
			}
		}
		if usual && len(list) > 0 {
			most := slices.MaxFunc(list, func(x, y liked) int { return cmp.Compare(x.layer, y.layer) }).layer
			list = slices.DeleteFunc(list, func(x liked) bool { return x.layer < most-clearly })
		}
		slices.SortStableFunc(list, func(x, y liked) int { return cmp.Compare(y.score, x.score) })
		return list
	}
	first := on(nil)
	if len(first) == 0 {
		return nil
	}
	list := []head.Slice{first[0].slice}
	add := func(s head.Slice) {
		if len(list) < mostTubing && s.Tube.Material == list[0].Tube.Material && !slices.ContainsFunc(list, func(x head.Slice) bool { return x.Tube.ID == s.Tube.ID }) {
			list = append(list, s)
		}
	}
	if second := on(list); len(second) > 0 {
		add(second[0].slice)
	}
	for _, x := range first[1:] {
		add(x.slice)
	}
	return list
}

// layer is what the rules for layers give the outermost slice of a head.
func (b *bench) layer(c *propose.Candidate) float64 {
	j := b.judge[len(b.judge)-1]
	at := j.Base
	at.Head = c.Facts.Head
	with, _ := j.Score(&at, c.Layers[len(c.Layers)-1:])
	without, _ := j.Score(&at, nil)
	return with - without
}

// likes is how well a ball does over the rungs with what suits it.
func (b *bench) likes(f *family) float64 {
	list := b.quicks(f.rubbers(f.ball, func(s head.Stack) []head.Stack { return f.stacks(s, few()) }))
	sum := 0.0
	for k, want := range b.rungs {
		best := math.Inf(-1)
		for i := range list {
			if list[i].ok {
				off := math.Abs(list[i].Facts.Head.Softness - want)
				best = max(best, b.apart(k, &list[i].Candidate)-b.measure.Notch*max(0, off-0.8))
			}
		}
		sum += best
	}
	return sum
}

// rubbers lists what is made of a ball with no slices and with every choice of
// them, inside out.
func (f *family) rubbers(ball head.Stack, of func(head.Stack) []head.Stack) (list []head.Stack) {
	most := mostSlices
	if f.hardness != nil {
		most = mostOver
	}
	var grow func(s head.Stack)
	grow = func(s head.Stack) {
		list = append(list, of(s)...)
		if len(s.Slices) == most {
			return
		}
		for _, t := range f.tubing {
			x := s
			x.Slices = append(slices.Clone(s.Slices), t)
			grow(x)
		}
	}
	grow(ball)
	return list
}

// stacks winds rubber with given turns.
func (f *family) stacks(s head.Stack, turns []int) []head.Stack {
	list := make([]head.Stack, len(turns))
	for i, n := range turns {
		w := f.yarn
		w.Turns = n
		list[i] = s
		list[i].Wrap = &w
	}
	return list
}
