package quantity

import (
	"math"
	"strconv"
	"strings"

	"mallow/assistant/understand/lexis"
	"mallow/knowledge/measure"
)

// pairAt reads "by" and a wall after a first length that took n tokens at i.
func (s Words) pairAt(i int, bore Quantity, n int) (Quantity, int) {
	if !s.By(i+n) || bore.Dim != Length && bore.Dim != Plain {
		return Quantity{}, 0
	}
	j := s.skip(i+n+1, "a", "an")
	wall, m := s.singleAt(j)
	if m == 0 {
		wall, m, _ = s.numberAt(j) // by eighth
	}
	if m == 0 || wall.Dim != Length && wall.Dim != Plain {
		return Quantity{}, 0
	}
	p := Quantity{Dim: Pair, Frac: bore.Frac || wall.Frac, Unit: bore.Unit}
	if wall.Dim == Plain && wall.Whole && !wall.Frac {
		p.Times = wall.Value
	}
	switch {
	case bore.Dim == Length && wall.Dim == Length:
		p.Value, p.Wall = bore.Value, wall.Value
	case bore.Dim == Length: // 3/4" by 1/8
		unit := float64(measure.Millimetre)
		if wall.Frac || bore.Frac {
			unit = float64(measure.Inch)
		}
		p.Value, p.Wall = bore.Value, wall.Value*unit
	case wall.Dim == Length: // 19 by 3 mm: the unit is of both
		unit := float64(measure.Millimetre)
		if wall.Frac || bore.Frac || s.endsInInches(j, m) {
			unit = float64(measure.Inch)
		}
		p.Value, p.Wall = bore.Value*unit, wall.Value
	default:
		unit := GuessUnit(bore)
		p.Value, p.Wall, p.Guess = bore.Value*unit, wall.Value*unit, true
	}
	if t, k := s.tripleAt(j+m, bore, wall); k > 0 {
		return t, j + m + k - i
	}
	if out := p.Wall; out > p.Value && out <= 2.2*p.Value && s.nearTube(i) { // hose 12 x 16
		p.Wall, p.Times = (out-p.Value)/2, 0
	}
	if !plausibleTube(p.Value, p.Wall) {
		return Quantity{}, 0
	}
	return p, j + m - i
}

// outsideAt reads the bore and the outside of tubing at token i, in millimetres, with a
// stroke between that is no fraction of an inch: hose 16/22.
func (s Words) outsideAt(i int) (Quantity, int) {
	t, n := s.At(i), 1
	text := t.Text
	if t.Kind == lexis.Number && s.At(i+1).Text == "/" { // which the tokens have as two sizes
		text, n = text+"/"+s.At(i+2).Text, 3
	} else if t.Kind != lexis.Fraction {
		return Quantity{}, 0
	}
	a, b, _ := strings.Cut(text, "/")
	bore, err := strconv.Atoi(a)
	out, err2 := strconv.Atoi(b)
	if err != nil || err2 != nil || bore < 4 || out <= bore || out > 60 || out > 3*bore || out&(out-1) == 0 && bore%2 == 1 || !s.nearTube(i) {
		return Quantity{}, 0
	}
	if x, k := s.SlotAt(i+n, "unit"); x != nil {
		if x.Value != "mm" {
			return Quantity{}, 0
		}
		n += k
	}
	mm := float64(measure.Millimetre)
	p := Quantity{Dim: Pair, Value: float64(bore) * mm, Wall: float64(out-bore) / 2 * mm, Unit: mm}
	if !plausibleTube(p.Value, p.Wall) {
		return Quantity{}, 0
	}
	return p, n
}

// nearTube reports whether tubing is named within a few tokens of token i.
func (s Words) nearTube(i int) bool {
	for k := max(0, i-8); k < i+8; k++ {
		if x, _ := s.SlotAt(k, "kind"); x != nil && x.Value == "tube" {
			return true
		}
		if x, _ := s.SlotAt(k, "material"); x != nil && x.Material().Kind == "tube" {
			return true
		}
	}
	return false
}

// tripleAt reads the wall of tubing at token i behind two sizes a and b, of which one is
// its bore and the other the outside: 1/2 x 3/4 x 1/8. It returns bore by wall and the
// tokens that the wall takes, 0 where the three don't fit.
func (s Words) tripleAt(i int, a, b Quantity) (Quantity, int) {
	if !s.By(i) {
		return Quantity{}, 0
	}
	wall, n := s.singleAt(i + 1)
	if n == 0 {
		return Quantity{}, 0
	}
	unit := GuessUnit(a)
	if wall.Dim == Length {
		unit = wall.Unit
	}
	mm := func(q Quantity) float64 {
		if q.Dim == Length {
			return q.Value
		}
		return q.Value * unit
	}
	p := Quantity{Dim: Pair, Frac: a.Frac, Unit: unit, Value: min(mm(a), mm(b)), Wall: mm(wall)}
	if out := max(mm(a), mm(b)); math.Abs(p.Value+2*p.Wall-out) > 0.05*out || !plausibleTube(p.Value, p.Wall) {
		return Quantity{}, 0
	}
	return p, n + 1
}

// endsInInches reports whether the last unit of the n tokens at i is inches.
func (s Words) endsInInches(i, n int) bool {
	t := s.At(i + n - 1)
	if t.Is(`"`) {
		return true
	}
	for j := i; j < i+n; j++ {
		if x, _ := s.SlotAt(j, "unit"); x != nil && x.Value == "in" {
			return true
		}
	}
	return false
}

// plausibleTube reports whether bore and wall, in metres, could be tubing's.
// It tells "19 x 3" from "2 x 28 mm", two balls.
func plausibleTube(bore, wall float64) bool {
	return bore >= 3e-3 && bore <= 60e-3 && wall >= 0.4e-3 && wall <= 13e-3 && wall <= bore
}

// GuessUnit returns the unit of a length written without one: fractions and
// small numbers are inches, the rest millimetres.
func GuessUnit(q Quantity) float64 {
	if q.Frac || q.Value < 4 {
		return float64(measure.Inch)
	}
	return float64(measure.Millimetre)
}
