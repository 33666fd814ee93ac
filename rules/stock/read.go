package stock

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
)

// ReadBin reads parts on hand in YAML, one line a part:
//
//	poly-1-1/8: 4            # pieces, of cores and shafts
//	latex-3/4x1/8: 1 ft      # tubing, a length
//	wool-medium: 50 g        # yarn, a mass, or a length such as 40 m
//	birch-16: enough         # of anything, when nobody counted it
//	latex-1x1/8: [18 in, 7 in, 12 mm] # lengths one by one; slices as well
//
// A part is named by its id, or by its name in the catalogue.
// Every line that can't be used is reported, as fault.Errors.
func ReadBin(cat *knowledge.Catalogue, file string, data []byte) (*Bin, error) {
	var lines yamlfile.Pairs
	errs := yamlfile.Decode(file, data, &lines)
	bin, wrong := FromPairs(cat, lines)
	errs = append(errs, wrong...)
	if len(errs) == 0 && len(bin.Items) == 0 {
		return nil, ErrEmptyBin
	}
	return bin, errs.Sorted().Err()
}

// FromPairs reads parts and amounts that stand in a file as ReadBin has them.
func FromPairs(cat *knowledge.Catalogue, pairs yamlfile.Pairs) (*Bin, fault.Errors) {
	bin, ids := &Bin{}, cat.PartIDs()
	var errs fault.Errors
	for _, p := range pairs {
		id, ok := Named(cat, p.Key.Value)
		switch {
		case len(p.Values) == 0:
			errs = append(errs, p.Key.Fault(0, measure.Quote(p.Key.Value)+": an amount is one number with its unit", "or enough"))
			continue
		case !ok:
			errs = append(errs, p.Key.Fault(0, measure.Quote(p.Key.Value)+" is no part of the catalogue", words.Hint(p.Key.Value, ids)))
			continue
		}
		for _, v := range p.Values {
			amount, err := ParseAmount(cat, id, v.Value)
			if err != nil {
				errs = append(errs, v.Fault(0, p.Key.Value+": "+err.Error(), ""))
				continue
			}
			bin.Items = append(bin.Items, Item{id, amount})
		}
	}
	return bin, errs
}

// Named returns the id of a part that is called by its id or its name.
func Named(cat *knowledge.Catalogue, text string) (id string, ok bool) {
	if slices.Contains(cat.PartIDs(), text) {
		return text, true
	}
	is := func(name, part string) {
		if !ok && name != "" && strings.EqualFold(name, text) {
			id, ok = part, true
		}
	}
	for i := range cat.Cores {
		is(cat.Cores[i].Name, cat.Cores[i].ID)
	}
	for i := range cat.Yarns {
		is(cat.Yarns[i].Name, cat.Yarns[i].ID)
	}
	for i := range cat.Shafts {
		is(cat.Shafts[i].Name, cat.Shafts[i].ID)
	}
	return id, ok
}

// enough is how an amount is written that nobody counted.
const enough = "enough"

// ParseAmount reads an amount of a part in the unit that an Item counts in.
func ParseAmount(cat *knowledge.Catalogue, part, text string) (float64, error) {
	if strings.TrimSpace(text) == enough {
		return Enough(), nil
	}
	if _, ok := cat.Tube(part); ok {
		l, err := measure.ParseLength(text, 0)
		return float64(l), err
	}
	if yarn, ok := cat.Yarn(part); ok {
		if m, err := measure.ParseMass(text, 0); err == nil {
			return float64(m), nil
		}
		l, err := measure.ParseLength(text, 0)
		if err != nil {
			return 0, fmt.Errorf("%s is no amount of yarn; try 50 g or 40 m", measure.Quote(text))
		}
		return float64(l) * kgPerMetre(&yarn), nil
	}
	var n int
	if _, err := fmt.Sscanf(text, "%d", &n); err != nil || fmt.Sprint(n) != text || n < 0 || n > 1e6 {
		return 0, fmt.Errorf("%s is no number of pieces; try 2", measure.Quote(text))
	}
	return float64(n), nil
}

// Amount writes an amount of a part so that ParseAmount reads it back, to a
// tenth of a millimetre and a hundredth of a gram.
func Amount(cat *knowledge.Catalogue, part string, amount float64) string {
	if math.IsInf(amount, 1) {
		return enough
	}
	if _, ok := cat.Tube(part); ok {
		l := measure.Length(amount)
		if text, exact := l.Fraction(); exact && !l.IsMetric() {
			return text + " in"
		}
		return decimal(l.MM(), 1) + " mm"
	}
	if _, ok := cat.Yarn(part); ok {
		return decimal(measure.Mass(amount).Grams(), 2) + " g"
	}
	return fmt.Sprintf("%.0f", amount)
}

// decimal prints v to a number of places, without trailing zeros.
func decimal(v float64, places int) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.*f", places, v), "0"), ".")
}

// Counted reports whether a part comes by the piece.
func Counted(cat *knowledge.Catalogue, part string) bool {
	_, tube := cat.Tube(part)
	_, yarn := cat.Yarn(part)
	return !tube && !yarn
}

// Pack is how much of a part is sold at once, and what that costs in the catalogue.
func Pack(cat *knowledge.Catalogue, part string) (amount float64, price measure.Money) {
	if c, ok := cat.Core(part); ok {
		return float64(c.Pack), c.Price
	}
	if t, ok := cat.Tube(part); ok {
		return float64(t.Pack), t.Price
	}
	if y, ok := cat.Yarn(part); ok {
		return float64(y.Pack), y.Price
	}
	s, _ := cat.Shaft(part)
	return float64(s.Pack), s.Price
}
