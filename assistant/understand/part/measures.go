package part

import (
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// Measures returns the end of the stretch of figures, with what they are figures
// of, from item i, before item to: wall 3.2 mm, 300 mm long; about thirty of them.
func (s Describer) Measures(i, to int) int {
	end, found := i, false
	for j := i; j < to; j++ {
		it := s.Item(j)
		about := it.Has("bound") != nil && it.Has("bound").Value == "about"
		switch {
		case it.Qty != nil && !it.Harm:
			end, found = j+1, true
		case it.Any("role", "form") && it.Has("kind") == nil:
			if found = found || it.Has("form") != nil && it.Has("form").Value == "pair" && s.ClauseEnds(j+1); found { // rods, a pair
				end = j + 1
			}
		case found && (it.Has("share") != nil || s.Is(j, "of", "them", "each")):
			end = j + 1
		case found && s.By(it.From) && it.To == it.From+1:
		case about, s.Filler(j) && (found || j > i):
		default:
			if found {
				return end
			}
			return i
		}
	}
	if !found {
		return i
	}
	return end
}

// GoesOn reports whether what stands at item i, before item to, begins something
// else, so that the figures before it are whole.
func (s Describer) GoesOn(i, to int) bool {
	it := s.Item(i)
	if it.Has("join") != nil && !s.Is(i, "or") || it.Has("holding") != nil {
		return true
	}
	for j := i; j < to; j++ { // 400 g left
		if !s.Unknown(j) && !s.Filler(j) {
			return false
		}
	}
	return true
}

// Each reads an amount that there is of each of several parts at item i, two of each,
// a foot each of, and returns where it ends, i where there is none.
func (s Describer) Each(i int) (amount reading.Part, end int) {
	q := s.Item(i).Qty
	if q == nil {
		return amount, i
	}
	k := s.Item(i).To
	switch {
	case (s.At(k).Is("of") || s.At(k).Is("from")) && (s.At(k+1).Is("each") || s.At(k+1).Is("every") || s.At(k+1).Is("both")):
		k += 2
	case s.At(k).Is("each") && s.At(k+1).Is("of"):
		k += 2
	default:
		return amount, i
	}
	switch q.Dim {
	case quantity.Plain:
		if !q.Whole || q.Frac {
			return amount, i
		}
		amount.Amount, amount.Unit = q.Value, "piece"
	case quantity.Pieces:
		form(&amount, q.Form, q.Value)
	case quantity.Length:
		amount.Amount, amount.Unit = q.Value, "m"
	case quantity.Mass:
		amount.Amount, amount.Unit = q.Value, "kg"
	default:
		return amount, i
	}
	for end = i + 1; end < len(s.Items) && s.Item(end).From < k; end++ {
	}
	for s.Is(end, "of", "the", "kind", "sort", "type", "size", "wood", "colour", "color", "one", "them", "these", "those", "thickness") {
		end++
	}
	return amount, end
}

// Series returns where the members begin and end that share one description with the
// item next, which is the last of them: 1 in and two 1 1/4 | in rubber balls. There
// are none where item i begins no such series.
func (s Describer) Series(i int) (members [][2]int, next int) {
	bares, joined := false, false // of numbers whose unit stands behind the last; with a word between
	for j := i; ; {
		k := j
		if q := s.Item(k).Qty; q != nil && q.Dim == quantity.Plain && q.Whole && !q.Frac && s.size(k+1) {
			k++
		}
		bare := !s.size(k)
		if q := s.Item(k).Qty; bare && (q == nil || q.Dim != quantity.Plain || q.Value < 15 || q.Value > 60) {
			break
		}
		if end := s.Run(j); !bare && end > k+1 {
			if bares && !joined {
				break
			}
			return members, j
		}
		bares = bares || bare
		members = append(members, [2]int{j, k + 1})
		j = k + 1
		if s.Item(j).Mark == "," {
			j++
		}
		if s.Is(j, "and", "or", "&") {
			j, joined = j+1, true
		}
		if j == k+1 {
			break
		}
	}
	return nil, i
}

// Member describes one of a series, a part of that kind, by the items from..to. A
// number whose unit stands behind the last is a size as well.
func (s Describer) Member(kind string, from, to int) reading.Part {
	q := s.Item(from).Qty
	if to > from+1 || q.Dim != quantity.Plain || q.Frac {
		p, _ := s.DescribeAs(kind, from, to)
		return p
	}
	p := reading.Part{Kind: kind}
	s.place(&p, from, from, to)
	return p
}

// size reports whether item i is a size that balls, tubing and shafts come in.
func (s Describer) size(i int) bool {
	q := s.Item(i).Qty
	return q != nil && (q.Dim == quantity.Length && q.Value < 0.08 || q.Dim == quantity.Plain && q.Frac || q.Dim == quantity.Pair)
}
