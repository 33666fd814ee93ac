package graded

import (
	"context"
	"math"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/propose"
	"mallow/rules/propose/search/shafts"
)

// Range is how far a head serves the notes asked for, and the head of the same
// family that serves more of the rest beside it.
type Range struct {
	LostTop, LostBottom float64            // octaves of what was asked for that the head does not serve
	Beside              *propose.Candidate // nil where none of the family serves more
	Whole               bool               // the two serve all that was asked for
}

// lost returns the octaves at the top and at the bottom of what was asked for
// that a head does not serve.
func lost(c *propose.Candidate) (top, bottom float64) {
	h, in := &c.Facts.Head, &c.Facts.Instrument
	if h.HighHz <= 0 || h.LowHz <= 0 || in.HighHz <= 0 || in.LowHz <= 0 {
		return 0, 0
	}
	return max(0, math.Log2(in.HighHz/h.HighHz)), max(0, math.Log2(h.LowHz/in.LowHz))
}

// gained is by how many octaves a second head has to serve more, to be worth
// making. Common practice, no source.
const gained = 0.4

// octavePoints is what an octave more counts against what the rules have against a
// head. Common practice, no source.
const octavePoints = 6

// Serves returns how far a head serves the notes asked for. Where it loses more
// octaves at an end than the book's choose rules allow as cover-octaves, it looks
// for a second head on the same ball and yarn, or of bare balls for another ball,
// that takes over there. What keeps somebody from harm holds for both.
func Serves(ctx context.Context, f *propose.Finder, c propose.Candidate, q propose.Request) (r Range, short bool) {
	r.LostTop, r.LostBottom = lost(&c)
	j := f.Judging(q)
	allowed, ok := f.Book().Weights(j.Base, f.Told(j.Base, q.Known))["cover-octaves"]
	if reg := c.Facts.Want.Register; !ok || reg != "" && reg != "whole" || max(r.LostTop, r.LostBottom) < allowed {
		return r, false
	}
	if q.Bin != nil && q.Bin.OnHand(c.Stack.Core.ID) < float64(2*q.Count()) {
		return r, true // what is there is used up by the first pair
	}
	b := newBench(f, q, Options{Rungs: 2, Gap: usualGap, Each: 2})
	top := r.LostTop >= r.LostBottom
	best, most := propose.Candidate{}, math.Inf(-1)
	was := max(r.LostTop, r.LostBottom)
	for _, x := range b.relatives(&c, top) {
		a, z := lost(&x.Candidate)
		left := z
		if top {
			left = a
		}
		// The two have to meet: what one leaves the other takes up.
		h, own := &x.Facts.Head, &c.Facts.Head
		meets := top && h.LowHz <= own.HighHz || !top && h.HighHz >= own.LowHz
		if !x.ok || !meets || !b.fits(&x.Candidate) || was-left < gained {
			continue
		}
		if worth := octavePoints*(was-left) + b.itself(&x.Candidate); worth > most {
			best, most = x.Candidate, worth
		}
	}
	if best.Head.Mass == 0 || ctx.Err() != nil {
		return r, true
	}
	full, err := f.Consider(best.Stack, b.wanting(best.Facts.Head.Softness))
	if err != nil || full.Refused() != nil {
		return r, true
	}
	a, z := lost(&full)
	r.Beside = &full
	const hair = 1.0 / 12
	r.Whole = min(a, r.LostTop) < hair && min(z, r.LostBottom) < hair
	return r, true
}

// relatives are the heads of a head's family: of a bare ball the other balls; of
// a wound one the same ball and yarn with fewer slices of the tubing that it has, a
// thinner one of the same rubber, or one more of usual tubing, and other turns.
func (b *bench) relatives(c *propose.Candidate, harder bool) []quick {
	if c.Stack.Wrap == nil {
		var list []head.Stack
		for _, x := range b.parts.Balls() {
			if c.Stack.Shaft != nil && shafts.Takes(x.Core, c.Stack.Shaft) {
				x.Shaft = c.Stack.Shaft
			}
			list = append(list, x)
		}
		return b.quicks(list)
	}
	f := family{ball: c.Stack, yarn: *c.Stack.Wrap}
	f.ball.Wrap, f.ball.Slices = nil, nil
	own := c.Stack.Slices
	rubbers := [][]head.Slice{nil}
	if harder && len(own) > 0 {
		for _, t := range b.parts.Tubing() {
			if t.Tube.Material == own[0].Tube.Material && t.Tube.Wall < own[0].Tube.Wall {
				rubbers = append(rubbers, []head.Slice{t})
			}
		}
	}
	if !harder {
		for _, t := range b.tubing(f.ball, f.yarn, true) {
			if len(own) == 0 || t.Tube.Material == own[0].Tube.Material {
				rubbers = append(rubbers, append(slices.Clone(own), t))
			}
		}
	}
	if len(own) > 0 {
		rubbers = append(rubbers, own[:len(own)-1], own)
	}
	var list []head.Stack
	for _, slices := range rubbers {
		s := f.ball
		s.Slices = slices
		list = append(list, f.stacks(s, []int{60, 80, 100, 130, 160, 200})...)
	}
	return b.quicks(list)
}
